"""Dates with months and days: behind a month's word ("12th March 1962"), in figures ("03/1967"), spans of months."""

from typing import NamedTuple

from claims.claim import STATED
from claims.lexicon import Hit
from claims.reading.sheet import Sheet
from claims.values import day_of, is_year, month_date, numeric_date, two_figure_year


class Date(NamedTuple):
    """A date as found: tokens [i, j), its EDTF value, whether it is a bare year, a stance of its own."""

    i: int
    j: int
    value: str
    bare: bool
    own: str = STATED
    needs_event: bool = False
    """Only an event's word beside it makes it a date at all (`3/70`, `6.38`)."""


def after_month(sheet: Sheet, i: int, month: Hit, day: int) -> Date | None:
    """A date whose month is found: the year behind it, with a day before (`day`) or between."""
    grid, k = sheet.grid, month.j
    k += grid.at(k) in {".", ",", "/", "-"} or grid.at(k) in sheet.language.lists["of_date"]
    if not day and day_of(grid.at(k)) and (is_year(grid.at(k + 1)) or (grid.at(k + 1) == "," and is_year(grid.at(k + 2)))):
        day, k = day_of(grid.at(k)), k + 1 + (grid.at(k + 1) == ",")
    number = int(month.entry.value)
    if grid.at(k) == "'" and two_figure_year(grid.at(k + 1)):
        return Date(i, k + 2, month_date(two_figure_year(grid.at(k + 1)), number, day), False)
    if (
        not day
        and len(grid.at(k)) == 2
        and (year := two_figure_year(grid.at(k)))
        and int(grid.at(k)) > 31
        and (k == month.j or grid.at(k - 1) in sheet.language.lists["of_date"])
        and not (grid.at(k + 1) == "," and grid.at(k + 2)[:1].isdigit())
    ):
        return Date(i, k + 1, month_date(year, number), False, needs_event=True)
    if not day and (span := _month_span(sheet, i, month)):
        return span
    if is_year(grid.at(k)) and (grid.same_line(month.i, k) or grid.sentence[month.i] == grid.sentence[k]):
        return Date(i, k + 1, month_date(grid.at(k), number, day), False)
    return None


def _month_span(sheet: Sheet, i: int, month: Hit) -> Date | None:
    """Two months of one year ("between June and August 1942"), or None."""
    grid, lists, j = sheet.grid, sheet.language.lists, month.j
    joint = grid.at(j)
    second = sheet.starting("month", j + 1)
    if second is None or not grid.same_line(i, j + 1) or not (joint in {"-", "/"} or joint in lists.any_of("span_to", "span_and", "span_or")):
        return None
    year, last = grid.at(second.j), int(second.entry.value)
    if not is_year(year) or last <= int(month.entry.value):
        return None
    start = i - 1 if grid.at(i - 1) in lists["span_from"] and grid.same_line(i - 1, i) else i
    return Date(start, second.j + 1, f"{month_date(year, int(month.entry.value))}/{month_date(year, last)}", False)


def in_order_of_size(sheet: Sheet, i: int) -> Date | None:
    """`1967-03-25`, `1967-03` at token i."""
    grid, year = sheet.grid, sheet.grid.toks[i]
    first, second = grid.at(i + 2), grid.at(i + 4)
    if not (
        grid.at(i + 1) in {"-", "/", "."}
        and grid.glued(i + 1)
        and grid.glued(i + 2)
        and len(first) == 2
        and first.isdigit()
        and 1 <= int(first) <= 12
    ):
        return None
    if grid.at(i + 3) == grid.at(i + 1) and grid.glued(i + 4) and day_of(second) and second.isdigit():
        return Date(i, i + 5, month_date(year, int(first), day_of(second)), False)
    if grid.at(i + 1) != "-":
        return None
    if not grid.field.is_attribute and int(first) > int(year[2:]):
        return Date(i, i + 3, f"{year}/{year[:2]}{first}", True)
    return Date(i, i + 3, month_date(year, int(first)), False)


def in_figures(sheet: Sheet, i: int) -> Date | None:
    """`12/01/1939`, `26. 2. 1948`, `03/1967`, `3/70` at token i."""
    grid = sheet.grid
    sep, second = grid.at(i + 1), grid.at(i + 2)
    if sep not in {"/", ".", "-"} or not grid.toks[i].isdigit():
        return None
    if second.isdigit() and len(second) <= 2 and grid.at(i + 3) == sep:
        third = grid.at(i + 4)
        year = third if is_year(third) else two_figure_year(third) if sep != "." or grid.glued(i + 4) else ""
        if year and (value := numeric_date(int(grid.toks[i]), int(second), year, month_first=sep != "." and "$" in grid.shadow)):
            return Date(i, i + 5, value, False)
    if not 1 <= int(grid.toks[i]) <= 12 or not grid.glued(i + 1) or not grid.glued(i + 2):
        return None
    if is_year(second):
        return Date(i, i + 3, month_date(second, int(grid.toks[i])), False)
    if (
        sep != "-"
        and two_figure_year(second)
        and not (grid.glued(i + 3) and (grid.at(i + 3).isalnum() or grid.at(i + 3) in {"/", "-"}))
        and int(second) > 12
    ):
        return Date(i, i + 3, month_date(two_figure_year(second), int(grid.toks[i])), False, needs_event=True)
    return None
