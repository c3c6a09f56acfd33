"""Documents that exist or not: title, registration, factory record, manual, history, inspection."""

from collections.abc import Iterator

from claims.claim import DENIED, STATED
from claims.reading import paper_details
from claims.reading.date_forms import dates
from claims.reading.sheet import Draft, Sheet

_GEARBOX_WORDS = frozenset({"manual"})


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of every document of a field."""
    if sheet.role.partition(":")[0] == "papers":
        yield from _status(sheet)
        return
    done = -1
    left = list(dates(sheet)) if sheet.language.lists["issued"] else []
    for hit in sheet.found("papers"):
        entry = hit.entry
        if hit.i == done:
            continue
        done = hit.i
        if not entry.value or not sheet.is_free(hit.i, hit.j):
            continue
        own = DENIED if entry.more == "denied" else STATED
        yield Draft("papers", "vehicle", entry.value, hit.i, hit.j, own)
        if entry.value in paper_details.KINDS:
            yield from paper_details.read(sheet, hit, left)


def _status(sheet: Sheet) -> Iterator[Draft]:
    """A form's title status: clean, salvage and the like are a title; missing, none and parts only deny it.

    The entry of a document (role `papers:registration`) says that there is one, whatever it says.
    """
    grid, kind = sheet.grid, sheet.role.partition(":")[2]
    found = [h for h in sheet.found("papers") if h.entry.value]
    denied = any(t in sheet.language.lists["status_denied"] for t in grid.toks)
    for hit in found:
        yield Draft("papers", "vehicle", hit.entry.value, hit.i, hit.j, DENIED if denied or hit.entry.more == "denied" else STATED)
    if not found and grid.n and (kind or any(t in sheet.language.lists["status"] for t in grid.toks)):
        yield Draft("papers", "vehicle", kind or "title", 0, grid.n, DENIED if denied else STATED)
