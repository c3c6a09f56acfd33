"""Identity numbers: behind a label (whose part they have), quoted from a plate, or of a form that a named pack knows.

The label decides the part, not the form of the number. Words or fillers in a number's place are a number `null`.
"""

from collections.abc import Iterator, Sequence

from claims.pack import Pack
from claims.reading import number_absent, number_on_plate, tables
from claims.reading.number_bare import LABELLED, pointed_at, spelled, unlabelled
from claims.reading.number_behind import behind
from claims.reading.number_forms import SHORTEST_UNLABELLED, Forms, generic_extent, known_extent, mark_extent
from claims.reading.number_labels import denied, labels, lost
from claims.reading.number_shapes import has_unit
from claims.reading.sheet import Draft, Sheet

FEWEST_FIGURES = 4
"""Fewest figures of a number that is a part's entry alone; fewer make a type ("OM 352")."""


def read(sheet: Sheet, forms: Forms, named: Sequence[Pack]) -> Iterator[Draft]:
    """Drafts of every number of a field; `forms` are those to try, `named` the packs whose makers or models it names."""
    name = sheet.grid.field.label.strip().lower()
    parts = sheet.parts or ((name,) if sheet.grid.field.is_attribute and name in LABELLED and _is_number_alone(sheet) else ())
    if parts and sheet.grid.n:
        for part in parts:
            yield from _entry(sheet, part, forms)
        return
    yield from tables.numbers(sheet, forms)
    found = labels(sheet)
    sheet.labels.update(k for label in found for k in range(label.i, label.j))
    yield from denied(sheet, found)
    for label in found:
        if any(k in sheet.taken for k in range(label.i, label.j)):
            continue
        yield from lost(sheet, label) or behind(sheet, label, forms)
    yield from number_on_plate.read(sheet, forms)
    yield from unlabelled(sheet, forms, named)
    yield from spelled(sheet, forms, named)
    yield from pointed_at(sheet, forms, named)
    yield from number_absent.read(sheet)


def _entry(sheet: Sheet, part: str, forms: Forms) -> Iterator[Draft]:
    """A form's entry for a number: the number, or null for a filler or words."""
    grid = sheet.grid
    whole = grid.shadow.strip().lower()
    if whole in sheet.language.lists["fillers"] or sheet.starting("none", 0) or len(set(whole)) == 1:
        yield Draft("number", part, None, 0, grid.n)
        return
    first = next((i for i in range(grid.n) if any(c.isdigit() for c in grid.toks[i]) or (grid.toks[i].isalnum() and len(grid.toks[i]) <= 4)), 0)
    found = (mark_extent(grid, first) if part == "registration" else None) or known_extent(grid, first, forms, part) or generic_extent(grid, first)
    if found and any(c.isdigit() for c in found.value):
        sheet.take(found.i, found.j)
        family = found.pack.id if found.pack and found.scheme and found.scheme.stands_alone else ""
        yield Draft("number", part, found.value, found.i, found.j, family=family)
    elif part == "plate" and not any(sheet.covering(c, k) for c in ("none", "lost", "no") for k in range(grid.n)):
        return
    elif grid.n <= 12 and not any(c.isdigit() for c in whole):
        yield Draft("number", part, None, 0, grid.n)


def _is_number_alone(sheet: Sheet) -> bool:
    """Whether a form's entry ("Engine: QE 164**") is a number and nothing else."""
    found = generic_extent(sheet.grid, 0)
    figures = sum(c.isdigit() or c == "?" for c in found.value) if found else 0
    return (
        found is not None
        and found.j == sheet.grid.n
        and len(found.value) >= SHORTEST_UNLABELLED
        and figures >= FEWEST_FIGURES
        and not has_unit(sheet.grid.toks)
    )
