"""Kinds beyond the scored ones, which checks compare: displacement, fuel, steering, body style, owners, quantity built,
"since new" said of a mark, hazards, and cast or dated codes on components.
"""

import re
from collections.abc import Iterator

from claims.lexicon import Hit
from claims.reading.sheet import Draft, Sheet

WORD_KINDS = ("fuel", "steering", "body_style", "owners", "since_new", "vehicle_type")
LARGEST_CC = 20_000
NEAR = 6
_BEFORE_CODE = frozenset({"is", "of", ":", "-", "the", "reads", "on", "code", "date", "dated", "number", "#"})
_CC = frozenset({"cc", "ccm", "cm3", "c"})
_LITRES = frozenset({"litre", "liter", "litres", "liters", "ltr"})
_GLUED_CC = re.compile(r"(\d{2,5})(?:cc|ccm)")
_CODE = re.compile(r"[a-z]?\d{1,4}[a-z]?|[a-z]\d|\d{1,2}[a-z]\d{1,2}")
_ENGINE_PARTS = frozenset({"engine", "axle", "gearbox", "tyre", "body", "component", "frame"})


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of every particular of a field."""
    for kind in WORD_KINDS:
        for hit in sheet.found(kind):
            yield Draft(kind, "vehicle", hit.entry.value, hit.i, hit.j)
    for hit in sheet.found("hazard"):
        yield Draft("hazard", "vehicle", hit.entry.value, hit.i, hit.j, family=hit.entry.family)
    yield from _displacements(sheet)
    yield from _quantities(sheet)
    yield from _castings(sheet)


def _displacements(sheet: Sheet) -> Iterator[Draft]:
    grid = sheet.grid
    for i in sorted({k for figured in grid.figured for k in (figured, figured + 1) if k < grid.n}):
        tok = grid.toks[i]
        glued = _GLUED_CC.fullmatch(tok)
        if glued and int(glued[1]) <= LARGEST_CC:
            yield Draft("displacement", "engine", glued[1], i, i + 1)
        elif tok.isdigit() and 2 <= len(tok) <= 5 and grid.at(i + 1) in _CC and int(tok) <= LARGEST_CC and i not in sheet.taken:
            if grid.at(i + 1) == "c" and grid.at(i + 2) not in {"c", "."}:
                continue
            yield Draft("displacement", "engine", str(int(tok)), i, i + 2)
        elif tok in _LITRES and i >= 3 and grid.toks[i - 2] == "." and grid.toks[i - 1].isdigit() and grid.toks[i - 3].isdigit():
            yield Draft("displacement", "engine", str(round(float(f"{grid.toks[i - 3]}.{grid.toks[i - 1]}") * 1000)), i - 3, i + 1)


def _quantities(sheet: Sheet) -> Iterator[Draft]:
    """ "One of 500 built": how many were made, as the seller says."""
    grid = sheet.grid
    if not (sheet.found("quantity-before") and sheet.found("quantity-behind")):
        return
    for i in grid.figured:
        tok = grid.toks[i]
        if not tok.isdigit() or i in sheet.taken or len(tok) > 6:
            continue
        j = i + 1
        while grid.at(j) == "," and grid.glued(j) and len(grid.at(j + 1)) == 3 and grid.at(j + 1).isdigit():
            j += 2
        before = sheet.ending("quantity-before", i)
        behind = next((h for k in range(j, j + 3) if (h := sheet.starting("quantity-behind", k))), None)
        if before and behind and grid.same_line(before.i, behind.i):
            yield Draft("quantity", "vehicle", "".join(t for t in grid.toks[i:j] if t.isdigit()), i, j)


def _castings(sheet: Sheet) -> Iterator[Draft]:
    """A code behind a casting's word, of the part that stands nearest before it (or behind)."""
    grid = sheet.grid
    for hit in sheet.found("cast"):
        k = hit.j
        while grid.same_line(hit.i, k) and (grid.at(k) in _BEFORE_CODE or sheet.starting("part", k)):
            k = max(k + 1, inner.j if (inner := sheet.starting("part", k)) else 0)
        end = _code_end(sheet, k)
        if not end or any(t in sheet.taken - sheet.aside for t in range(k, end)):
            continue
        part = "tyre" if grid.at(hit.i) == "dot" else _part_near(sheet, hit, end)
        if part:
            sheet.take(k, end)
            yield Draft("casting", part, grid.text(k, end).upper(), k, end)


def _code_end(sheet: Sheet, k: int) -> int:
    """Where a code that starts at token k ends; 0 for none. Month letter, day and year may stand apart ("F 10 5")."""
    grid = sheet.grid
    apart = len(grid.at(k)) == 1 and grid.at(k).isalpha() and grid.same_line(k, k + 2)
    if apart and all(grid.at(n).isdigit() and len(grid.at(n)) <= 2 for n in (k + 1, k + 2)):
        return k + 3
    if not any(c.isdigit() for c in grid.at(k)) or not _CODE.fullmatch(grid.at(k)):
        return 0
    end = k + 1
    while grid.at(end) in {"/", ".", "-"} and grid.glued(end) and grid.glued(end + 1) and grid.at(end + 1).isdigit():
        end += 2
    if grid.at(end) in {"/", ".", "-"} and grid.glued(end) and grid.glued(end + 1) and len(grid.at(end + 1)) == 1 and grid.at(end + 1).isalpha():
        end += 2
    return end


def _part_near(sheet: Sheet, hit: Hit, end: int) -> str:
    grid = sheet.grid
    for found in reversed(sheet.beside("part", hit.i)):
        if found.j <= hit.i and grid.sentence[found.i] == grid.sentence[hit.i] and hit.i - found.j <= NEAR and found.entry.value in _ENGINE_PARTS:
            return found.entry.value
    inside = next((h for h in sheet.beside("part", hit.i) if hit.j <= h.i and h.j <= end and h.entry.value in _ENGINE_PARTS), None)
    if inside:
        return inside.entry.value
    behind = next((h for h in sheet.beside("part", hit.i) if end <= h.i <= end + 3), None)
    return behind.entry.value if behind and behind.entry.value in _ENGINE_PARTS else ""
