"""Documents that exist or not: title, registration, factory record, manual, history, inspection."""

from collections.abc import Iterator

from claims.claim import DENIED, STATED
from claims.reading.sheet import Draft, Sheet

_GEARBOX_WORDS = frozenset({"manual"})


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of every document of a field."""
    if sheet.role == "papers":
        yield from _status(sheet)
        return
    done = -1
    for hit in sheet.found("papers"):
        entry = hit.entry
        if hit.i == done:
            continue
        done = hit.i
        if not entry.value or not sheet.is_free(hit.i, hit.j):
            continue
        own = DENIED if entry.more == "denied" else STATED
        yield Draft("papers", "vehicle", entry.value, hit.i, hit.j, own)


def _status(sheet: Sheet) -> Iterator[Draft]:
    """A form's title status: clean, salvage and the like are a title; missing, none and parts only deny it."""
    grid = sheet.grid
    found = [h for h in sheet.found("papers") if h.entry.value]
    denied = any(t in {"missing", "no", "none", "lost", "parts", "without"} for t in grid.toks)
    for hit in found:
        yield Draft("papers", "vehicle", hit.entry.value, hit.i, hit.j, DENIED if denied or hit.entry.more == "denied" else STATED)
    if (
        not found
        and grid.n
        and any(
            t in {"clean", "salvage", "rebuilt", "lien", "missing", "parts", "clear", "branded", "yes", "present", "none", "no", "lost"}
            for t in grid.toks
        )
    ):
        yield Draft("papers", "vehicle", "title", 0, grid.n, DENIED if denied else STATED)
