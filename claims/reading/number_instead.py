"""What stands in a number's place behind its label: words that there is none, a filler, a cell of words."""

from claims.lexicon import Hit
from claims.reading.number_labels import Label
from claims.reading.number_shapes import filler
from claims.reading.sheet import Sheet

LONGEST_WORDS = 9
"""Words that may stand in a number's place."""


def nothing_behind(sheet: Sheet, label: Label, k: int, announced: bool) -> tuple[int, int] | None:
    """The tokens [i, j) from token k that stand in the place of a label's number; None where a number may stand there."""
    grid, sure = sheet.grid, announced or not label.weak
    none = sheet.starting("none", k)
    if none and sure and (grid.same_line(label.j - 1, none.i) or _is_own_line(sheet, label, none)):
        return none.i, none.j
    end = filler(sheet, k)
    answered = end and grid.at(end) == "," and grid.same_line(k, end + 1) and any(c.isdigit() for c in grid.at(end + 1) + grid.at(end + 2))
    if end and sure and not answered:
        return k, end
    end = _words_in_a_cell(sheet, label, k)
    return (k, end) if end else None


def _begins_its_line(sheet: Sheet, label: Label) -> bool:
    return label.i == 0 or not sheet.grid.same_line(label.i - 1, label.i)


def _words_in_a_cell(sheet: Sheet, label: Label, k: int) -> int:
    """The end of a cell of words, without a figure, in the place of a number: behind a colon or bar, or on the line below a
    label that is all of its line ("Engine number | can't be made out"); 0 where a number may stand there or nothing does."""
    grid = sheet.grid
    if label.weak or not label.parts or not any(sheet.starting("numword", n) for n in range(label.i, label.j)):
        return 0
    own_line = _begins_its_line(sheet, label) and grid.line[k] == grid.line[label.j - 1] + 1 and k == label.j
    if not own_line and not (grid.at(k - 1) in {":", "|"} and grid.same_line(label.i, k)):
        return 0
    end = k
    while end < grid.n and grid.same_line(k, end) and grid.toks[end] not in {"|", ";"} and end not in sheet.labels:
        if any(c.isdigit() for c in grid.toks[end]) or (end > k and grid.at(end) == "." and not own_line):
            return 0 if any(c.isdigit() for c in grid.toks[end]) else end
        end += 1
    return (
        end
        if 0 < end - k <= LONGEST_WORDS
        and any(len(t) > 2 and t.isalpha() and not grid.as_written(n).isupper() for n, t in enumerate(grid.toks[k:end], k))
        else 0
    )


def _is_own_line(sheet: Sheet, label: Label, none: Hit) -> bool:
    """Whether a label is all of its line and the words for none are all of the next."""
    grid = sheet.grid
    return (
        _begins_its_line(sheet, label)
        and grid.line[none.i] == grid.line[label.j - 1] + 1
        and (none.j >= grid.n or not grid.same_line(none.i, none.j))
    )
