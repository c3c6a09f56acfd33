"""What looks like a number and is none: quantities with a unit, dates, ranges, fillers."""

from collections.abc import Sequence

from claims.reading.number_forms import Extent
from claims.reading.sheet import Sheet
from claims.values import day_of, is_year, two_figure_year

SHORTEST_FIGURES = 3
"""Fewest figures of a bare number."""
UNITS = frozenset("cc hp bhp ci cid cui litre liter l speed cylinder cyl mm v volt x kw ps miles mph".split())


def has_unit(tokens: Sequence[str]) -> bool:
    """Whether a unit of measure stands among the tokens, alone or written on to its figures ("350cc", a mileage of "203k")."""
    return any(t in UNITS or (t[:-2].isdigit() and t[-2:] in {"cc", "hp"}) for t in tokens) or (
        len(tokens) == 1 and tokens[0][:-1].isdigit() and tokens[0][-1:] == "k"
    )


def is_date(sheet: Sheet, k: int) -> bool:
    """Whether a date stands at token k ("26. 2. 1948")."""
    grid = sheet.grid
    sep = grid.at(k + 1)
    if day_of(grid.at(k)) and sheet.starting("month", k + 1):
        return True
    return bool(
        day_of(grid.at(k))
        and sep in {".", "/"}
        and day_of(grid.at(k + 2))
        and grid.at(k + 3) == sep
        and (is_year(grid.at(k + 4)) or (sep == "/" and two_figure_year(grid.at(k + 4))))
    )


def is_telephone(sheet: Sheet, found: Extent) -> bool:
    """Whether a number ends like a North American telephone number ("555-0177")."""
    toks = sheet.grid.toks[found.i : found.j]
    return (
        len(toks) >= 3
        and toks[-2] == "-"
        and [len(t) for t in (toks[-3], toks[-1])] == [3, 4]
        and toks[-3].isdigit()
        and toks[-1].isdigit()
        and (len(toks) == 3 or (toks[-4].isalpha() and len(toks[-4]) > 3 and not sheet.grid.glued(found.j - 3)))
    )


def is_range(sheet: Sheet, found: Extent) -> bool:
    """Whether a number is two figures with a dash, the second one higher: a range and no number."""
    toks = sheet.grid.toks[found.i : found.j]
    return (
        len(toks) == 3 and toks[1] == "-" and toks[0].isdigit() and toks[2].isdigit() and len(toks[0]) == len(toks[2]) and int(toks[2]) > int(toks[0])
    )


def filler(sheet: Sheet, k: int) -> int:
    """The end of a filler that stands alone at token k ("xxxx", "123", "?"), or 0."""
    grid = sheet.grid
    end = k + 1
    while end < grid.n and grid.glued(end) and grid.toks[end] not in {".", ",", ")", "|", ";"}:
        end += 1
    text = grid.text(k, end).lower()
    alone = end >= grid.n or not grid.same_line(k, end) or not any(c.isdigit() for c in grid.toks[end])
    return end if alone and (text in sheet.language.lists["fillers"] or (len(text) > 3 and len(set(text)) == 1)) else 0
