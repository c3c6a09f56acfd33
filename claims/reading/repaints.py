"""A repaint without its date: the body restored ("repainted", "older respray", "neu lackiert").

With a date beside it, it is that date's event alone (the guide: restoration without a date is originality).
"""

from collections.abc import Iterator

from claims.reading.date_subjects import part_before
from claims.reading.no_originality import is_needed
from claims.reading.sheet import Draft, Sheet

DATE_REACH = 8
"""Tokens to either side within which a date already read is the repaint's."""
DENIAL_REACH = 3


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of every repaint that has no date, is not still to be done and is not denied."""
    grid, lists = sheet.grid, sheet.language.lists
    for hit in sheet.found("event"):
        if hit.entry.value != "repainted" or not sheet.is_free(hit.i, hit.j) or is_needed(sheet, hit) or sheet.covering("papers", hit.i):
            continue
        near = range(max(0, hit.i - DATE_REACH), min(hit.j + DATE_REACH, grid.n))
        if any(k in sheet.taken and grid.clause[k] == grid.clause[hit.i] and any(map(str.isdigit, grid.toks[k])) for k in near):
            continue
        before, behind = grid.toks[max(0, hit.i - DENIAL_REACH) : hit.i], grid.toks[hit.j : hit.j + DENIAL_REACH]
        if lists["never_words"] & {*before, *behind} or grid.toks[hit.i] in lists["no_repaints"]:
            continue
        part = part_before(sheet, hit.i)
        i, j = hit.i - (grid.at(hit.i - 1) in lists["repaint_ages"]), hit.j
        while j - i > 1 and grid.toks[j - 1] in lists["before_date"]:
            j -= 1
        yield Draft("originality", "body" if part in {"vehicle", "frame"} else part, "restored", i, j)


__all__ = ["read"]
