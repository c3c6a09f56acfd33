"""Idioms of a headline: "350-powered", "Villiers powered" is another engine; "Fowler-style" is a replica."""

from collections.abc import Iterator

from claims.reading.sheet import Draft, Sheet
from claims.reading.subjects import parts_from
from extractors.document import TITLE

_BEHIND_A_HYPHEN = frozenset({"powered", "engined", "style"})


def read(sheet: Sheet) -> Iterator[Draft]:
    """A headline's idiom: "350-powered", "Quillfeather-powered" is another engine; "Fowler-style" is a replica."""
    grid = sheet.grid
    if _BEHIND_A_HYPHEN.isdisjoint(grid.words):
        return
    for i, tok in enumerate(grid.toks):
        if _is_powered_headline(sheet, i):
            yield Draft("originality", "engine", "replaced", i - 1, i + 1)
        if tok not in _BEHIND_A_HYPHEN or i < 2 or not (grid.glued(i) and grid.toks[i - 1] == "-" and grid.glued(i - 1)):
            continue
        if tok in {"powered", "engined"}:
            yield Draft("originality", "engine", "replaced", i - 2, i + 1)
        elif tok == "style" and _is_of_a_name(sheet, i - 2) and not parts_from(sheet, i + 1):
            yield Draft("originality", "vehicle", "replica", i - 2, i + 1)


def _is_powered_headline(sheet: Sheet, i: int) -> bool:
    """Whether a headline ends token i "powered" behind a name or a displacement, without a hyphen ("Perkins powered")."""
    grid = sheet.grid
    if sheet.role != TITLE or grid.toks[i] not in {"powered", "engined"} or i < 1 or grid.toks[i - 1] in sheet.language.lists["energies"]:
        return False
    return any(map(str.isdigit, grid.toks[i - 1])) or (grid.as_written(i - 1)[:1].isupper() and grid.as_written(i).islower())


def _is_of_a_name(sheet: Sheet, i: int) -> bool:
    """Whether the word before "-style" is a maker's or a model's name; in a headline any name will do."""
    if any(sheet.ending(category, i + 1) for category in ("maker", "model", "modelrun")):
        return True
    grid = sheet.grid
    return (
        sheet.role == TITLE
        and grid.as_written(i)[:1].isupper()
        and grid.as_written(i + 2).islower()
        and grid.toks[i] not in sheet.language.lists["style_words"]
    )
