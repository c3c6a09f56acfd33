"""Whether a document speaks: its name and a verb of saying before what it says ("the V5C records 1936", "V5 has it down as 1975")."""

from claims.reading.sheet import Sheet

SAYING_REACH = 12
"""Tokens behind a document in which what it says stands."""


def is_said_by_a_paper(sheet: Sheet, i: int, *, listed: bool = False) -> bool:
    """Whether a document and a verb of saying stand before token i in its clause, with no comma or new statement between; `listed`
    lets commas pass (a list of numbers)."""
    grid, lists = sheet.grid, sheet.language.lists
    for hit in sheet.beside("papers", i):
        if hit.j > i or i - hit.j > SAYING_REACH * (1 + listed) or grid.clause[hit.i] != grid.clause[i]:
            continue
        between = grid.toks[hit.j : i]
        verb = next((n for n, t in enumerate(between[:2]) if t in lists["paper_says"]), None)
        if verb is not None and not set(between) & lists["ends"] and (listed or "," not in between[verb:]):
            return True
    return False
