"""Numbers to more claims: each pack's schemes read the numbers of a listing, and keep every reading.

A scheme is a pattern on the compact form whose named groups are read by a closed list of decoders: `range`
(number to period by tables), `lookup` (code to value), `month`, `year1`, `year2`, `week`, `season`, `int`, `check`.
A scheme may add a `lag` (months between two events). No code stands in data.
"""

import dataclasses
import re
from collections.abc import Collection, Iterable, Mapping, Sequence, Set
from typing import Any

from claims import decoders
from claims.claim import DENIED, OTHER_ITEM, RULE, Claim, compact
from claims.decode_standards import decode_standard
from claims.models_named import form_can_be_meant, named_models
from claims.pack import Pack
from claims.pack_rows import Scheme
from claims.reading_of_number import CHECK_FAILS, DISAGREES, NEVER_USED, NO_SCHEME, OUTSIDE, Decoding, Reading
from claims.standards import edtf
from claims.standards.edtf import Span, month_text

WHOLE = ("vehicle", "unknown")
LONGEST_NUMBER = 40
_GROUPS = re.compile(r"[A-Z]+|\d+")
_BLANKS = re.compile(r"\s+")
BUILT = "built"
ALL = 0
"""The item of what a headline says of several machines together."""
_LOOKS_ALIKE = {"O": "0", "I": "1"}


def named_packs(claims: Sequence[Claim], packs: Sequence[Pack], *, narrowed: bool = True) -> list[Pack]:
    """The packs of whose makers or models a listing speaks.

    Where packs share a maker and the listing names a model that only some of them know, the others are left out (unless
    not `narrowed`: component codes are the make's, not the model's); so is a pack for another type of vehicle than the
    one that the words plainly describe.
    """
    said = [c for c in claims if c.kind in {"maker", "model"} and c.stance != OTHER_ITEM and not c.is_decoded]
    values = {c.value for c in said}
    makers, models = ({c.value for c in said if c.kind == kind} for kind in ("maker", "model"))
    years = [s for c in claims if c.kind in {"year", "built"} and c.part == "vehicle" and (s := _span(c.value or ""))]
    types = [c.value or "" for c in claims if c.kind == "vehicle_type"]
    designated = {p.id for p in packs if _is_designated(p, makers, models, years)} if makers and models else set()
    found = [p for p in packs if (values & p.known_names or p.id in designated) and p.is_for(types)]
    if not narrowed:
        return found
    knowing = [p for p in found if any(n.canonical in models for n in p.models) or p.id in designated]
    known_makers = {n.canonical for p in knowing for n in p.makers}
    return [p for p in found if p in knowing or not known_makers & {n.canonical for n in p.makers}]


def _is_designated(pack: Pack, makers: Set[str | None], models: Set[str | None], years: Sequence[Span]) -> bool:
    """Whether a designation of the pack is named together with its maker, and no year outside its span."""
    for name in pack.designations:
        if name.maker in makers and models & {name.canonical, *name.also_written}:
            made = edtf.decode(f"{name.from_ or '..'}/{name.to or '..'}")
            if not years or any(y.first <= made.last and made.first <= y.last for y in years):
                return True
    return False


def _span(text: str) -> Span | None:
    try:
        return edtf.decode(text)
    except ValueError:
        return None


def decode_numbers(claims: Sequence[Claim], packs: Sequence[Pack]) -> tuple[Decoding, ...]:
    """Every reading of every number that is said of this vehicle, in the order of the claims.

    A pack's schemes are tried where the item of the number names one of its makers or models, or where a scheme stands
    alone.
    """
    out: list[Decoding] = []
    families: dict[tuple[int, bool], tuple[set[str], frozenset[str]]] = {}
    for claim in claims:
        if is_readable(claim):
            key = claim.item, claim.kind == "number"
            if key not in families:
                own = names_of_item(claims, claim.item)
                families[key] = ({p.id for p in named_packs(own, packs, narrowed=key[1])}, named_models(own))
            named, models = families[key]
            out.extend(decode(claim, packs, named, models))
    return tuple(out)


def is_readable(claim: Claim) -> bool:
    """Whether a claim gives a number of this vehicle that rules may read."""
    return claim.kind in {"number", "casting"} and bool(claim.value) and claim.stance not in (OTHER_ITEM, DENIED) and not claim.is_decoded


def names_of_item(claims: Sequence[Claim], item: int) -> list[Claim]:
    """The claims that name one of several vehicles: its own; the whole advert's where it has no maker or no model of its own."""
    own = [c for c in claims if c.item in (item, ALL)]
    named = {c.kind for c in own if c.kind in {"maker", "model"} and c.stance != OTHER_ITEM}
    lent = {"maker", "model", "vehicle_type"} if not named else set() if "maker" in named else {"maker"}
    return [*own, *(c for c in claims if c.kind in lent and c.item not in (item, ALL))]


def decode(claim: Claim, packs: Sequence[Pack], named: Iterable[str], models: Collection[str] = ()) -> list[Decoding]:
    """Every reading of one number claim; `named` are the ids of the packs that the listing speaks of, `models` the models."""
    number, families = compact(claim.value or ""), set(named)
    if len(number) > LONGEST_NUMBER or "?" in number:
        return []
    casting = claim.kind == "casting"
    if not casting and (found := decode_standard(claim)):
        return [found]
    fits: list[Decoding] = []
    for pack in packs:
        is_named = pack.id in families
        tried = [
            s
            for s in (pack.schemes.values() if is_named else pack.lone_schemes)
            if s.earliest is casting and bears(s, claim.part, pack)
            and form_can_be_meant(s, models, pack)
        ]  # fmt: skip
        if tried:
            fits += [d for d in _by_pack(claim, number, pack, tried) if is_named or stands_alone(d)]
    if fits:
        return _told_of_others([d for d in fits if d.pack and d.pack.id in families] or fits)
    if casting:
        return []
    closed = [p for p in packs if p.id in families and p.forms == "closed" and claim.part in _numbered_parts(p)]
    if number.isdigit() or claim.part == "registration":
        return []
    return [
        Decoding(claim, number, claim.part, f"{p.id}/forms", pack=p, failure=NO_SCHEME, sources=(p.source(""),),
                 detail="fits no form of number that is known for this part")
        for p in closed[:1]
    ]  # fmt: skip


def _told_of_others(fits: list[Decoding]) -> list[Decoding]:
    """The readings, each saying so where the number fits several families."""
    read = [d for d in fits if not d.failure] or fits
    families = list(dict.fromkeys(d.pack.family for d in read if d.pack))
    if len(families) < 2:
        return read
    return [dataclasses.replace(d, also_fits=tuple(f for f in families if d.pack and f != d.pack.family)) for d in read]


def bears(scheme: Scheme, part: str, pack: Pack) -> bool:
    """Whether a number of this form can be meant when the seller's label names this part."""
    if part in WHOLE:
        return scheme.event == BUILT
    return part == scheme.part or part in scheme.also_parts


def stands_alone(decoding: Decoding) -> bool:
    """Whether a number's form is so particular that it needs no maker's name beside it."""
    scheme = decoding.scheme
    return scheme is not None and (scheme.stands_alone or bool(scheme.stands_alone_with and decoding.groups.get(scheme.stands_alone_with)))


def _numbered_parts(pack: Pack) -> set[str]:
    return {part for s in pack.schemes.values() for part in (s.part, *s.also_parts)}


def _by_pack(claim: Claim, number: str, pack: Pack, schemes: Sequence[Scheme]) -> list[Decoding]:
    if not schemes:
        return []
    if pack.patterns_as_written:
        written = _BLANKS.sub(" ", claim.quote.text.strip().upper())
        schemes = [s for s in schemes if not s.as_written or pack.patterns_as_written[s.scheme].search(written)]
    fitting = [(s, m) for s in schemes if (m := pack.patterns[s.scheme].search(number))]
    if fitting:
        return _most_apt([d for s, m in fitting if not _is_silent(d := _read(claim, number, pack, s, m.groupdict(), ""))])
    zeroed = zeros_and_ones(number)
    repairs: list[tuple[str, str, tuple[str, ...], str]] = [
        (zeroed, f"read {zeroed}: a letter O or I among the figures taken for 0 or 1", ("never", "prefix"), "")
    ]
    repairs = repairs if zeroed != number else []
    repairs += [
        (padded, f"read {padded}: leading noughts added", ("never", "prefix", ""), serial) for padded, serial in with_noughts(claim.quote.text)
    ]
    if number[0] == "0":
        repairs.append(("O" + number[1:], f"read O{number[1:]}: a nought typed for the letter O", ("prefix",), ""))
    for repaired, how, manners, serial in repairs:
        read = [
            _read(claim, repaired, pack, s, m.groupdict(), how)
            for s in schemes
            if s.letter_o in manners
            and not (serial and s.all_figures)
            and (m := pack.patterns[s.scheme].search(repaired))
            and (not serial or m.groupdict().get("serial") == serial)
        ]
        if read:
            return _most_apt(read)
    return []


def _is_silent(decoding: Decoding) -> bool:
    """Whether a number outside the tables of its form is to be passed over."""
    return decoding.failure == OUTSIDE and decoding.scheme is not None and decoding.scheme.silent_outside


def _most_apt(found: list[Decoding]) -> list[Decoding]:
    return [d for d in found if not d.failure] or found


def zeros_and_ones(number: str) -> str:
    """The number with each letter O or I beside a figure read as 0 or 1.

    >>> zeros_and_ones("33QO7311G"), zeros_and_ones("OP31O1872"), zeros_and_ones("OP3101872")
    ('33Q07311G', 'OP3101872', 'OP3101872')
    """
    out = list(number)
    for i, c in enumerate(number):
        before, after = out[i - 1] if i else "", number[i + 1] if i + 1 < len(number) else ""
        if c in _LOOKS_ALIKE and (before.isdigit() or after.isdigit() or (i and after in _LOOKS_ALIKE)):
            out[i] = _LOOKS_ALIKE[c]
    return "".join(out)


def with_noughts(written: str) -> list[tuple[str, str]]:
    """(compact number, serial) with one or two noughts before its last group of figures, where that stands apart.

    >>> with_noughts("OP31-1872")
    [('OP3101872', '01872'), ('OP31001872', '001872')]
    """
    groups = _GROUPS.findall(written.upper())
    last = next((n for n in range(len(groups) - 1, 0, -1) if groups[n].isdigit()), 0)
    return [("".join((*groups[:last], "0" * n + groups[last], *groups[last + 1 :])), "0" * n + groups[last]) for n in (1, 2)] if last else []


def _read(claim: Claim, number: str, pack: Pack, scheme: Scheme, groups: dict[str, str], repaired: str) -> Decoding:
    groups = {name: text for name, text in groups.items() if text}
    part = claim.part
    if part in WHOLE:
        part = pack.identity if pack.identity in scheme.also_parts else scheme.part
    base: dict[str, Any] = {
        "claim": claim, "number": number, "part": part, "rule": f"{pack.id}/{scheme.scheme}", "scheme": scheme,
        "pack": pack, "groups": groups, "repaired": repaired, "slack_years": pack.slack_years,
    }  # fmt: skip
    own = (pack.source(scheme.source_id),)
    for name, how in scheme.decode.items():
        if how["decoder"] == "check" and name in groups:
            expected = decoders.check_character(how, groups)
            if groups[name] != expected:
                return Decoding(**base, failure=CHECK_FAILS, sources=own, detail=f"check letter {groups[name]} where the figures give {expected}")
    serial = groups.get("serial", "")
    for block in pack.blocks:
        if block.scheme in {scheme.scheme, scheme.run} and block.kind == "never_used" and serial and block.first <= int(serial) <= block.last:
            why = f"{block.first}–{block.last} were never used ({block.remark})" if block.remark else "never used"
            return Decoding(**base, failure=NEVER_USED, sources=(pack.source(block.source_id),), detail=why)
    ranges = [(name, how) for name, how in scheme.decode.items() if how["decoder"] == "range" and name in groups]
    readings: tuple[Reading, ...]
    if ranges:
        name, how = ranges[0]
        readings, disagreeing, sources = decoders.by_range(how, pack, scheme, name, groups)
        if not readings:
            failure = f"{disagreeing}{DISAGREES}" if disagreeing else OUTSIDE
            detail = f"{disagreeing} {groups.get(disagreeing)} does not go with {name} {groups[name]}" if disagreeing else "outside every known range"
            return Decoding(**base, failure=failure, sources=(*own, *sources), detail=detail)
    else:
        readings = decoders.by_code(scheme, pack, groups)
        if not readings:
            return Decoding(**base, failure=OUTSIDE, sources=own, detail="no date that this code can mean")
    readings = tuple(decoders.with_lag(r, scheme, pack) for r in readings)
    said = tuple(decoders.further(scheme, pack, groups))
    return Decoding(**base, readings=readings, sources=own, said=said)


def decoded_claims(decodings: Sequence[Decoding]) -> list[Claim]:
    """The claims that decoding adds: when a part was made and by whom, one for every distinct reading."""
    out: list[Claim] = []
    for d in decodings:
        seen: set[tuple[str, str]] = set()
        for reading in d.readings:
            dated = d.scheme is None or d.scheme.part == d.part or d.part in d.scheme.also_parts
            event = d.scheme.event if d.scheme else BUILT
            for kind, value in ((event, str(reading.span) if reading.span and dated else ""), ("maker", reading.maker)):
                if value and (kind, value) not in seen:
                    seen.add((kind, value))
                    others = f"the number also fits: {', '.join(d.also_fits)}" if d.also_fits else ""
                    note = "; ".join(filter(None, (reading.reason, d.repaired, others)))
                    out.append(
                        Claim(kind, d.part, value, d.claim.stance, d.claim.quote, RULE + d.rule, d.claim.item, note, d.pack.id if d.pack else "")
                    )
    return out


def months_of(decoding: Decoding) -> list[str]:
    """Every reading as text: single months of a short span, else the period's own name (as examples list them)."""
    out: list[str] = []
    for r in decoding.readings:
        if r.span and r.span.last - r.span.first < 6:
            out += [month_text(m) for m in range(r.span.first, r.span.last + 1)]
        elif r.span:
            out.append(r.period)
    return out


def describe(groups: Mapping[str, str]) -> str:
    """Named groups as `name=text`, in order."""
    return " ".join(f"{name}={text}" for name, text in groups.items())
