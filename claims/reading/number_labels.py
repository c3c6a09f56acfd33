"""Labels of numbers ("Engine no.", "frame and engine numbers") and the parts whose number they announce."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from claims.lexicon import Hit
from claims.reading.sheet import Draft, Sheet


class Label(NamedTuple):
    """A label at tokens [i, j) and the parts whose number it announces; no parts: a number of something else."""

    i: int
    j: int
    parts: tuple[str, ...]
    weak: bool


def labels(sheet: Sheet) -> list[Label]:
    """Every label of the field: one of its own, or a part's word with a word for "number" beside it."""
    grid = sheet.grid
    out: list[Label] = []
    own = sheet.found("label")
    for hit in own:
        j = hit.j
        while (word := sheet.starting("numword", j)) and grid.same_line(hit.i, j):
            j = word.j
        text = grid.text(hit.i, hit.j).lower()
        out.append(Label(hit.i, j, (hit.entry.value,) if hit.entry.value else (), text in sheet.language.lists["weak_labels"] and j == hit.j))
    for hit in sheet.found("numpart"):
        if sheet.covering("label", hit.i):
            continue
        label = _composed(sheet, hit)
        if label:
            out.append(label)
    out.sort(key=lambda label: (label.i, -label.j))
    return _without_inner(out)


def announced_parts(sheet: Sheet) -> tuple[str, ...]:
    """The parts whose number a text announces, where it is nothing but a label ("Frame/engine no."); else none."""
    found = labels(sheet)
    rest = [t for i, t in enumerate(sheet.grid.toks) if not any(la.i <= i < la.j for la in found) and t.isalnum()]
    return (
        tuple(p for la in found for p in la.parts)
        if found and not rest and not any(la.weak and la.parts != ("registration",) for la in found)
        else ()
    )


def lost(sheet: Sheet, label: Label) -> list[Draft]:
    """A number that is gone or cannot be read, said straight behind its label ("serial plate missing")."""
    grid = sheet.grid
    plate = label.parts == ("plate",)
    hit = sheet.starting("lost", label.j)
    if hit is None or not label.parts or (label.weak and not plate) or not grid.same_line(label.i, hit.i) or any(c.isdigit() for c in grid.at(hit.j)):
        return []
    sheet.take(label.i, hit.j)
    return [Draft("number", part, None, label.i, hit.j) for part in label.parts]


def denied(sheet: Sheet, labels: Sequence[Label]) -> Iterator[Draft]:
    """Words that deny a number: "no frame number", "missing its engine number"."""
    grid = sheet.grid
    by_start = {label.i: label for label in labels}
    for hit in sheet.found("no"):
        k = hit.j
        while grid.at(k) in sheet.language.lists["denied_fillers"]:
            k += 1
        label = by_start.get(k)
        if (
            label is None
            or label.weak
            or not label.parts
            or (label.parts == ("registration",) and not _is_of_fleet(sheet, label))
            or hit.i in sheet.taken
        ):
            continue
        behind = grid.at(label.j)
        if (
            any(c.isdigit() for c in behind)
            or behind in {":", "="}
            or (behind in sheet.language.lists["number_is"] and grid.at(label.j + 1)[:1].isdigit())
        ):
            continue
        sheet.take(hit.i, label.j)
        yield from (Draft("number", part, None, hit.i, label.j) for part in label.parts)


def _is_of_fleet(sheet: Sheet, label: Label) -> bool:
    """Whether a label of a mark means a fleet's number: "no registration number" may speak of papers."""
    return bool(sheet.language.lists["fleet_words"] & set(sheet.grid.toks[label.i : label.j])) and label.j - label.i > 1


def _holds_a_plate(sheet: Sheet, hit: Hit) -> bool:
    """Whether a part is only where a plate sits ("data plate on the box reads No. …")."""
    grid, k = sheet.grid, hit.i - 1
    k -= grid.at(k) in sheet.language.lists["place_the"]
    if k < 1 or grid.at(k) not in sheet.language.lists["place_on"]:
        return False
    return any(found and found.entry.value == "plate" for found in (sheet.ending("label", k), sheet.ending("numpart", k)))


def _composed(sheet: Sheet, hit: Hit) -> Label | None:
    grid = sheet.grid
    parts, j = ["plate" if _holds_a_plate(sheet, hit) else hit.entry.value], hit.j
    while grid.at(j) in sheet.language.lists["and"] and (also := sheet.starting("numpart", j + 1)):
        parts.append(also.entry.value)
        j = also.j
    if grid.at(j) == "'" and grid.at(j + 1) == "s":
        j += 2
    if grid.at(j) == "," and sheet.starting("numword", j + 1) and grid.at(j + 2) in {".", ":"}:
        j += 1
    if word := sheet.starting("numword", j):
        while word and grid.same_line(hit.i, word.i):
            j = word.j
            word = sheet.starting("numword", j)
        j += grid.at(j) == "." and not (grid.at(j + 1) == "" or (grid.at(j + 1)[0].isalpha() and len(grid.at(j + 1)) > 5))
        return Label(hit.i, j, tuple(parts), False)
    before = hit.i - 1
    while grid.at(before) in sheet.language.lists["number_of"]:
        before -= 1
    if (
        before < hit.i - 1
        and (word := sheet.ending("numword", before + 1))
        and word.i >= 0
        and grid.at(word.i - 1) not in {"part", "casting", "model"}
    ):
        return Label(word.i, hit.j, tuple(parts), False)
    return Label(hit.i, j, tuple(parts), True)


def _without_inner(labels: list[Label]) -> list[Label]:
    out: list[Label] = []
    for label in labels:
        if out and label.i < out[-1].j:
            continue
        out.append(label)
    return out
