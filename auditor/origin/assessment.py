"""Claims, decodings and packs to beliefs, one for each vehicle of an advert.

Where a family has no sourced priors and production no probability is given: the account lists dated readings, and a
part that nothing touches reads "nothing known". numpy is imported only for families that have both.
"""

from collections.abc import Iterator, Sequence

from auditor.origin.belief import DATED_READING, Belief, PartBelief, Weight
from auditor.origin.neutral import neutral_looks
from claims.claim import OTHER_ITEM, Claim
from claims.models_named import is_named
from claims.pack import Pack
from claims.pack_shares import shares_of
from claims.reading_of_number import Decoding, readings_words
from claims.standards.edtf import month_text


def beliefs(claims: Sequence[Claim], decodings: Sequence[Decoding], packs: Sequence[Pack]) -> tuple[Belief, ...]:
    """One belief for each vehicle of an advert; `packs` are those that the advert names."""
    items = sorted({c.item for c in claims if c.stance != OTHER_ITEM}) or [1]
    return tuple(_belief(claims, decodings, packs, item) for item in items)


def pack_with_shares(claims: Sequence[Claim], packs: Sequence[Pack], item: int) -> Pack | None:
    """The pack with sourced priors that the claims of a vehicle speak of, or None."""
    found = [p for p in packs if shares_of(p) is not None]
    own = {c.family for c in claims if c.item == item}
    return next((p for p in found if p.id in own), found[0] if found and len(packs) == 1 else None)


def _belief(claims: Sequence[Claim], decodings: Sequence[Decoding], packs: Sequence[Pack], item: int) -> Belief:
    if pack := pack_with_shares(claims, packs, item):
        from auditor.origin.account import believed

        return believed(claims, decodings, pack, item)
    own = [d for d in decodings if d.claim.item == item]
    meant = pack_meant(claims, own, packs, item)
    looks = neutral_looks(claims, own, meant, item) if meant else ()
    return Belief(item, meant or (packs[0] if packs else None), parts=tuple(_readings(own, packs)), looks=looks)


def pack_meant(claims: Sequence[Claim], decodings: Sequence[Decoding], packs: Sequence[Pack], item: int) -> Pack | None:
    """The one family of which a vehicle is by its model, its number or a feature; None where none or several fit: a maker's
    name alone is no family."""
    models = {c.value for c in claims if c.item == item and c.kind == "model" and c.part == "vehicle" and c.stance != OTHER_ITEM}
    said = {c.family for c in claims if c.item == item and c.kind == "feature" and c.stance != OTHER_ITEM}
    read = {d.pack.id for d in decodings if d.pack and d.readings and d.claim.kind == "number" and not d.also_fits}
    fitting = [p for p in packs if p.makers and (p.id in read or p.id in said or any(is_named(m, v or "") for m in p.model_names for v in models))]
    return fitting[0] if len(fitting) == 1 else None


def _readings(decodings: Sequence[Decoding], packs: Sequence[Pack]) -> Iterator[PartBelief]:
    """Parts with their dated readings, then those of the packs that nothing touches."""
    names = {p.part: p.name for pack in packs for p in pack.parts.values()}
    by_part: dict[str, list[Decoding]] = {}
    for d in decodings:
        if d.readings:
            by_part.setdefault(d.part, []).append(d)
    for part, read in by_part.items():
        spans = [s for d in read for s in d.spans]
        first, last = (month_text(min(s.first for s in spans)), month_text(max(s.last for s in spans))) if spans else ("", "")
        rows = tuple(Weight(readings_words(d), None, DATED_READING, (d.claim,)) for d in read)
        makers: dict[str, float | None] = dict.fromkeys(sorted({m for d in read for m in d.makers}))
        yield PartBelief(
            part, names.get(part, part), makers=makers, first=first, last=last, rows=rows, story="; ".join(r.text for r in rows), touched=True
        )
    for part, name in names.items():
        if part not in by_part:
            yield PartBelief(part, name)
