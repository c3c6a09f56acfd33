"""What a listing says, as evidence: each thing once for each speaker, with the claims it rests on.

No probability stands here; `auditor/origin/likelihood.py` weighs it. The same statement twice by one speaker counts
once, and claims of another thing never count.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from claims.claim import DENIED, HEDGED, NOTES, OTHER_ITEM, PHOTO, REPORTED, Claim
from claims.pack import Pack
from claims.reading_of_number import Decoding
from claims.standards import edtf

NUMBER, FEATURE, CASTING, STATEMENT, YEAR, MAKER = "number", "feature", "casting", "statement", "year", "maker"
KINDS = (NUMBER, CASTING, FEATURE, STATEMENT, MAKER, YEAR)
"""In the order of an account: the hardest witnesses first."""
OWN_EYES = (PHOTO, NOTES)
WHOLE = ("vehicle", "unknown")
LONGEST_YEARS = 12
"""A stated span of more years than these tells nothing."""
_PLACE_FEATURE = re.compile(r"\bfeature (\w+)=(\w+)")
"""How a place of a pack names the feature that shows it, in its remark."""
SILENCE = "silence"
"""The statement that nothing more is said: evidence only where the pack gives a rate for saying a thing."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """One thing said of one part by one speaker. `value` is a number in compact form (empty for "none"), a
    `feature=variant`, a month, a maker, a year or the name of a statement."""

    kind: str
    part: str
    value: str
    unsure: bool = False
    denied: bool = False
    seen: bool = False
    """Read from a photograph or by one's own inspection, not told."""
    claims: tuple[Claim, ...] = field(default=(), compare=False)
    maker: str = ""
    """The maker in whose form a casting date is written; empty for either."""


def evidence_of(claims: Sequence[Claim], decodings: Sequence[Decoding], pack: Pack, item: int = 1) -> tuple[Evidence, ...]:
    """The evidence of one vehicle of an advert on a family, in an order that does not depend on that of the words."""
    own = [c for c in claims if c.item == item and c.stance != OTHER_ITEM and not c.is_decoded]
    found: dict[tuple[str, str, str, bool, bool], Evidence] = {}
    for one in (*_said(own, pack), *_castings(decodings, pack, item)):
        key = (one.kind, one.part, one.value, one.denied, one.seen)
        old = found.get(key)
        unsure = one.unsure and (old is None or old.unsure)
        found[key] = Evidence(one.kind, one.part, one.value, unsure, one.denied, one.seen, (*(old.claims if old else ()), *one.claims), one.maker)
    bare = {e.part for e in found.values() if is_bare_place(pack, e)}
    kept = [e for e in found.values() if not (e.kind == NUMBER and not e.value and e.part in bare)]
    return tuple(sorted((*kept, Evidence(STATEMENT, "vehicle", SILENCE)), key=_order))


def is_bare_place(pack: Pack, one: Evidence) -> bool:
    """Whether a feature says that the carrier of a number is gone ("no tag on the box"): that there is no number is the same news."""
    name, _, variant = one.value.partition("=")
    return one.kind == FEATURE and not one.denied and name in (bearing := _bearing(pack)) and variant not in bearing[name]


@lru_cache(maxsize=64)
def _bearing(pack: Pack) -> dict[str, set[str]]:
    """Features that tell where a number is, with the variants that bear one, as the pack's places name them."""
    out: dict[str, set[str]] = {}
    for place in pack.places:
        for name, variant in _PLACE_FEATURE.findall(place.remark):
            out.setdefault(name, set()).add(variant)
    return out


def _order(one: Evidence) -> tuple[int, str, str, bool, bool]:
    return KINDS.index(one.kind), one.part, one.value, one.denied, one.seen


def _said(claims: Iterable[Claim], pack: Pack) -> Iterator[Evidence]:
    makers = {n.canonical for n in pack.makers}
    for c in claims:
        unsure, denied, seen = c.stance in (HEDGED, REPORTED), c.stance == DENIED, c.basis in OWN_EYES
        if c.kind == "number" and not denied:
            yield Evidence(NUMBER, pack.identity if c.part in WHOLE else c.part, c.value or "", unsure, False, seen, (c,))
        elif c.kind == "feature" and c.family == pack.id and "=" in (c.value or ""):
            name = (c.value or "").partition("=")[0]
            if name in pack.features:
                yield Evidence(FEATURE, pack.features[name].part, c.value or "", unsure, denied, seen, (c,))
        elif c.kind == "originality":
            yield from _statement(c, denied)
        elif c.kind in {"maker", "model"} and c.part == "vehicle" and not denied:
            maker = c.value if c.kind == "maker" else pack.model_maker(c.value or "")
            if maker in makers:
                yield Evidence(MAKER, "vehicle", maker or "", unsure, False, seen, (c,))
        elif c.kind in {"year", "built"} and c.part == "vehicle" and not denied:
            yield from _year(c, unsure, seen)


def _statement(c: Claim, denied: bool) -> Iterator[Evidence]:
    value, part = c.value or "", c.part
    if value == "matching_numbers":
        name = ("replaced", "engine") if denied else ("matching_numbers", "vehicle")
    elif value in {"original", "unrestored"} and part == "vehicle" and not denied:
        name = ("original", "vehicle")
    elif (value == "original" and denied and part != "vehicle") or (value == "replaced" and not denied):
        name = ("replaced", part)
    elif value == "reproduction" and not denied:
        name = ("reproduction", part)
    else:
        return
    yield Evidence(STATEMENT, name[1], name[0], False, False, False, (c,))


def _year(c: Claim, unsure: bool, seen: bool) -> Iterator[Evidence]:
    try:
        span = edtf.decode(c.value or "")
    except ValueError:
        return
    if span.first == edtf.OPEN_START or span.last == edtf.OPEN_END or span.last_year - span.first_year >= LONGEST_YEARS:
        return
    room = 1 if span.circa else 0
    yield Evidence(YEAR, "vehicle", f"{span.first_year - room}/{span.last_year + room}", unsure, False, seen, (c,))


def _castings(decodings: Iterable[Decoding], pack: Pack, item: int) -> Iterator[Evidence]:
    for d in decodings:
        if d.claim.kind == "casting" and d.pack is pack and d.claim.item == item and d.scheme and d.scheme.earliest and d.spans:
            maker = "" if d.scheme.same_for else d.scheme.maker
            months = "|".join(dict.fromkeys(edtf.month_text(s.first) for s in d.spans))
            seen = d.claim.basis in OWN_EYES
            yield Evidence(CASTING, d.part, months, d.claim.stance in (HEDGED, REPORTED), False, seen, (d.claim,), maker)
