"""Tables in running text: rows of cells between bars under a row of headings ("| maker | year | frame | engine |")."""

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from claims.phrase_files import field_names
from claims.reading.number_forms import Forms, generic_extent, known_extent
from claims.reading.sheet import Draft, Sheet

FEWEST_HEADINGS = 2
NUMBERED = frozenset({"vehicle", "frame", "engine", "gearbox", "body", "plate", "registration", "hull"})


class Cell(NamedTuple):
    """Tokens [i, j) of a cell and what its column is by its heading (`year`, `frame`, …)."""

    i: int
    j: int
    role: str


def cells(sheet: Sheet) -> list[Cell]:
    """The cells under every heading that is known, row by row; a table has at least two such headings."""
    if "|" not in sheet.grid.words or sheet.grid.toks.count("|") <= FEWEST_HEADINGS:
        return []
    found: list[Cell] = []
    roles: list[str] = []
    for row in _rows(sheet):
        named = [_role(sheet.grid.text(i, j).lower()) if j > i else "" for i, j in row]
        if len(row) > FEWEST_HEADINGS and sum(bool(r) for r in named) >= FEWEST_HEADINGS:
            roles = named
        elif len(row) == len(roles):
            found += [Cell(i, j, role) for (i, j), role in zip(row, roles, strict=True) if role and j > i]
        else:
            roles = []
    return found


def _role(heading: str) -> str:
    """What a heading says of its column: a part alone heads its numbers."""
    return heading if heading in NUMBERED else field_names().get(heading, "")


def numbers(sheet: Sheet, forms: Forms) -> Iterator[Draft]:
    """The numbers of a table's cells, or that there is none."""
    grid = sheet.grid
    for cell in cells(sheet):
        if cell.role not in NUMBERED or not sheet.is_free(cell.i, cell.j):
            continue
        found = known_extent(grid, cell.i, forms, cell.role) or generic_extent(grid, cell.i)
        if found and any(c.isdigit() for c in found.value) and found.j <= cell.j:
            sheet.take(found.i, found.j)
            yield Draft("number", cell.role, found.value, found.i, found.j)
        elif any(sheet.starting(category, cell.i) for category in ("none", "lost")):
            sheet.take(cell.i, cell.j)
            yield Draft("number", cell.role, None, cell.i, cell.j)


def year_cells(sheet: Sheet) -> frozenset[tuple[int, int]]:
    """The tokens [i, j) of the cells under a heading for the year."""
    return frozenset((cell.i, cell.j) for cell in cells(sheet) if cell.role in {"year", "built"})


def _rows(sheet: Sheet) -> Iterator[list[tuple[int, int]]]:
    """The cells of each line that has bars, as tokens [i, j), without the empty ones at the line's ends."""
    grid, start = sheet.grid, 0
    while start < grid.n:
        end = start
        while end < grid.n and grid.line[end] == grid.line[start]:
            end += 1
        bars = [k for k in range(start, end) if grid.toks[k] == "|"]
        if bars:
            edges = [start - 1, *bars, end]
            row = [(a + 1, b) for a, b in pairwise(edges)]
            yield [cell for n, cell in enumerate(row) if cell[1] > cell[0] or n not in {0, len(row) - 1}]
        start = end
