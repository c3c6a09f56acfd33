"""Which of several vehicles of one advert a claim is about.

Only where the advert itself speaks of several (a pair, two bikes, "bike one", a numbered list, parts bike thrown in)
are claims divided. A year or an identity number that differs from those of the machine spoken of so far belongs to
another one; what follows is said of that one until a known year or number leads back.
"""

import dataclasses
from collections.abc import Iterable, Sequence

from claims.claim import OTHER_ITEM, Claim
from claims.reading.sheet import Sheet
from extractors.document import TITLE

OWN = frozenset({"frame", "vehicle", "engine", "hull"})
ALL = 0
"""The item of what a headline says of several machines together."""
_LEADING = frozenset({"year", "built"})
_COUNTS = frozenset({"two", "three", "four", "five", "2", "3", "both", "several"})
_NO_MACHINES = frozenset(
    "owners keys sets seats doors wheels speeds tones engines gears years miles hours pedals strokes cylinders carbs tyres tires frames tanks keepers families".split()
)
ENUMERATED = 2
"""Fewest numbered lines that make a list of vehicles."""


def speaks_of_several(sheets: Iterable[Sheet]) -> bool:
    """Whether any field says that more than one machine is offered, in words or by a numbered list."""
    return any(_counts(s) or s.found("several") or len(_numbered_lines(s)) >= ENUMERATED for s in sheets)


def _counts(sheet: Sheet) -> bool:
    """Whether a headline counts machines: "two BSAs", "three tractors"."""
    grid = sheet.grid
    if sheet.role != TITLE:
        return False
    return any(
        tok in _COUNTS and grid.at(i + 1)[-1:] == "s" and len(grid.at(i + 1)) > 3 and grid.at(i + 1) not in _NO_MACHINES
        for i, tok in enumerate(grid.toks)
    )


def _numbered_lines(sheet: Sheet) -> list[int]:
    """Tokens that open a line with the next number of a list (`1)`, `2)`), where each line names a year or a number."""
    grid = sheet.grid
    out: list[int] = []
    for i in range(grid.toks.index("1"), grid.n - 1) if "1" in grid.toks else ():
        opens = i == 0 or grid.line[i - 1] != grid.line[i]
        if opens and grid.toks[i] == str(len(out) + 1) and grid.toks[i + 1] in {")", ".", ":"}:
            line = [k for k in range(i, grid.n) if grid.line[k] == grid.line[i]]
            if any(k in sheet.taken for k in line[2:]):
                out.append(i)
    return out


def divided(claims: Sequence[Claim]) -> list[Claim]:
    """The claims with the item that each is about; claims of a thing that the advert sets aside become `other-item`."""
    known: dict[tuple[str, str], int] = {}
    aside: set[int] = set()
    latest: dict[tuple[int, str], str] = {}
    item, count = 1, 1
    out: list[Claim] = []
    shared = _named_together(claims)
    for claim in claims:
        if id(claim) in shared:
            out.append(dataclasses.replace(claim, item=ALL))
            continue
        key = _key(claim)
        if key:
            if key in known:
                item = known[key]
            elif latest.get((item, key[0])) not in (None, key[1]) or (claim.stance == OTHER_ITEM and (item, key[0]) in latest):
                count += 1
                item = count
            known[key] = item
            latest[item, key[0]] = key[1]
            if claim.stance == OTHER_ITEM:
                aside.add(item)
        stance = OTHER_ITEM if item in aside else claim.stance
        out.append(dataclasses.replace(claim, item=item, stance=stance))
    return out


def _named_together(claims: Sequence[Claim]) -> set[int]:
    """The headline's makers and models (by identity), where it names two of either: they are said of no one machine."""
    heads = [c for c in claims if c.quote.field == TITLE and c.kind in {"maker", "model"} and c.part == "vehicle"]
    several = any(len({c.value for c in heads if c.kind == kind}) > 1 for kind in ("maker", "model"))
    return {id(c) for c in heads} if several else set()


def _key(claim: Claim) -> tuple[str, str] | None:
    """What tells machines apart: a vehicle's year, or an identity number by its part."""
    if claim.kind in _LEADING and claim.part == "vehicle" and claim.value:
        return "year", claim.value[:4]
    if claim.kind == "number" and claim.value and claim.part in OWN:
        return claim.part, claim.value
    return None
