"""Two numbers behind one label: of two parts in turn, of one part in the plural, the ends of a range."""

from claims.reading.number_forms import Extent, Forms, generic_extent, known_extent
from claims.reading.number_labels import Label
from claims.reading.number_shapes import SHORTEST_FIGURES, has_unit, is_date
from claims.reading.sheet import Sheet
from claims.values import is_year

PRESENT_REACH = 3
"""Words between a former number and "now"."""


def respective(sheet: Sheet, found: Extent, forms: Forms, part: str) -> Extent | None:
    """The second of two different numbers behind a label of two parts ("engine & frame numbers: A & B"), or None."""
    grid = sheet.grid
    if grid.at(found.j) not in {"/", "&", "and", ","} or not grid.same_line(found.i, found.j + 1):
        return None
    k = found.j + 1
    other = known_extent(grid, k, forms, part) or generic_extent(grid, k)
    if (
        other is None
        or other.value == found.value
        or not sheet.is_free(other.i, other.j)
        or sum(c.isdigit() for c in other.value) < SHORTEST_FIGURES + 1
    ):
        return None
    return None if is_date(sheet, k) or is_year(other.value) or has_unit(grid.toks[other.i : other.j + 1]) else other


def second_of_a_pair(sheet: Sheet, label: Label, found: Extent) -> Extent | None:
    """The second number behind a label in the plural ("belly numbers 42-8812 / 43-1020"), or None."""
    grid = sheet.grid
    if grid.at(label.j - 1) not in sheet.language.lists["plural_numbers"] or grid.at(found.j) not in {"/", "&", "and"}:
        return None
    second = generic_extent(grid, found.j + 1) if grid.same_line(found.i, found.j + 1) else None
    alike = second is not None and len(second.value) == len(found.value) and second.value.isalpha() == found.value.isalpha()
    return second if alike and second and sheet.is_free(second.i, second.j) else None


def present_number(sheet: Sheet, found: Extent) -> Extent | None:
    """The number that took the place of a former one ("the frame number was GA7 9118, it is now GA7 12547"), or None."""
    grid, lists = sheet.grid, sheet.language.lists
    k = found.j + (grid.at(found.j) in {",", ";", "-"})
    first = k
    while grid.at(k) in lists.any_of("pronouns", "number_is", "and") and k - first < PRESENT_REACH:
        k += 1
    if grid.at(k) not in lists["now"] or not grid.same_line(found.i, k):
        return None
    k += 1 + (grid.at(k + 1) in lists["number_is"] | {":"})
    second = generic_extent(grid, k)
    return (
        second
        if second and sum(c.isdigit() for c in second.value) >= SHORTEST_FIGURES and not is_year(second.value) and sheet.is_free(second.i, second.j)
        else None
    )


def range_behind(sheet: Sheet, label: Label, found: Extent) -> Extent | None:
    """The second number of a production range ("numbers 316 to 20894"), or None."""
    grid = sheet.grid
    joint = grid.at(found.j)
    if not found.value.isdigit() or joint not in {"to", "-", "and"} or (joint == "and" and grid.at(found.i - 1) != "between"):
        return None
    second = generic_extent(grid, found.j + 1)
    if second and second.value.isdigit() and int(second.value) > int(found.value):
        return second
    return None
