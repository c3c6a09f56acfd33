"""Numbers that a plate or tag is said to bear: "the plate in the door reads 19C2 4418", "tag on the rear end says 341882"."""

from collections.abc import Iterator

from claims.reading.number_forms import Forms, generic_extent, known_extent
from claims.reading.number_shapes import has_unit, is_date
from claims.reading.sheet import Draft, Sheet
from claims.values import is_year

VERB_REACH = 7
"""Tokens between a plate and what it says."""
FEWEST_FIGURES = 4
PLACE_WORDS = 5
SAID_REACH = 14


def read(sheet: Sheet, forms: Forms) -> Iterator[Draft]:
    """Drafts of the numbers that plates and tags say, with a word for where they sit between."""
    grid, says = sheet.grid, sheet.language.lists["plate_says"]
    for hit in sheet.found("tag"):
        if sheet.covering("label", hit.i) and not sheet.starting("label", hit.i):
            continue
        k = next((n for n in range(hit.j, min(hit.j + VERB_REACH, grid.n)) if grid.toks[n] in says), 0) or _place_end(sheet, hit.j) - 1
        if k < hit.j or grid.sentence[k] != grid.sentence[hit.i] or not sheet.is_free(hit.i, k + 1) or "," in grid.toks[hit.j : k]:
            continue
        k += 1
        while grid.at(k) in {":", ","} or sheet.starting("numword", k):
            k += 1
        found = known_extent(grid, k, forms, "plate") or generic_extent(grid, k) if k < grid.n and grid.same_line(hit.i, k) else None
        if found is None or not sheet.is_free(found.i, found.j) or sum(c.isdigit() for c in found.value) < FEWEST_FIGURES:
            continue
        if not (is_year(found.value) or is_date(sheet, k) or has_unit([*grid.toks[found.i : found.j], grid.at(found.j)])):
            sheet.take(found.i, found.j)
            is_plate = grid.toks[hit.j - 1] in sheet.language.lists["plate_words"] or found.scheme is None
            yield Draft("number", "plate" if is_plate or not found.scheme else found.scheme.part, found.value, found.i, found.j)


def is_on_a_plate(sheet: Sheet, j: int) -> bool:
    """Whether a number that ends before token j is read on a plate or tag ("serial E41887 on the firewall plate")."""
    grid, lists = sheet.grid, sheet.language.lists
    first = j
    while grid.at(j) in lists["place_stamped"] | {","} and j - first < PLACE_WORDS:
        j += 1
    if grid.at(j) not in lists.any_of("place_on", "place_off") or not grid.same_line(first - 1, j):
        return False
    return any(hit and hit.j <= j + PLACE_WORDS + 1 for hit in (sheet.starting("tag", k) for k in range(j + 1, j + PLACE_WORDS)))


def is_said_by_a_plate(sheet: Sheet, i: int) -> bool:
    """Whether a plate or tag and a word for what it says stand before token i in its sentence ("tag says model 571 serial 14418")."""
    grid, says = sheet.grid, sheet.language.lists["plate_says"]
    return any(h.j < i and not says.isdisjoint(grid.toks[h.j : min(h.j + VERB_REACH, i)]) and h.i >= i - SAID_REACH for h in sheet.beside("tag", i))


def _place_end(sheet: Sheet, j: int) -> int:
    """The token behind a place that follows a plate straight before its number ("serial plate in the cab 83937441"); j where none does."""
    grid, lists = sheet.grid, sheet.language.lists
    if grid.at(j) not in lists.any_of("place_on", "place_in"):
        return j
    end = next((k for k in range(j + 1, j + PLACE_WORDS + 1) if grid.at(k) == "," or any(c.isdigit() for c in grid.at(k))), j)
    return end if all(grid.at(k).isalpha() for k in range(j, end)) else j


__all__ = ["is_on_a_plate", "is_said_by_a_plate", "read"]
