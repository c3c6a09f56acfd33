"""Documents that exist or not: title, registration, factory record, manual, history, inspection.

The words of a document are data. Some tell of one only beside others: "registered" with how long it holds or that it
does not, "papers" where no document is named behind it. A dating letter is the club's opinion where a club gave it.
"""

from collections.abc import Iterator

from claims.claim import DENIED, STATED
from claims.lexicon import Hit
from claims.reading import paper_details
from claims.reading.date_forms import dates
from claims.reading.sheet import Draft, Sheet

VALIDITY_REACH = 5
"""Words behind "registered" among which the end of its validity stands ("registered in Ohio until May")."""
HEADING_REACH = 14
"""Words behind a heading ("Papers:") among which a document makes it a heading only."""
CLUB_REACH = 7
SHORTEST_CLUB = 3
"""Letters of a club's short name before "dating letter"; it ends in C."""

_ANSWER_LINKS = frozenset(":|=?-")
"""Marks between a document that is a label and what is said of it."""
_GOES_ON = frozenset(":/-?")
"""Marks behind "yes" or "no" that show it to be something else."""

DATE_REACH = 7
"""Tokens behind "registered in" in which a date makes it an event."""


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of every document of a field."""
    if sheet.role.partition(":")[0] == "papers":
        yield from _status(sheet)
        return
    if sheet.parts:
        return
    done = -1
    left = list(dates(sheet)) if sheet.found("papers") and sheet.language.lists["issued"] else []
    for hit in sheet.found("papers"):
        entry = hit.entry
        if hit.i == done:
            continue
        done = hit.i
        own = DENIED if entry.more == "denied" else STATED
        if not entry.value or not (own == DENIED or sheet.is_free(hit.j - 1, hit.j)) or _is_passing(sheet, hit) or _is_heading(sheet, hit):
            continue
        value = "history" if entry.value == "factory_record" and _is_of_a_club(sheet, hit) else entry.value
        if answer := _answer(sheet, hit):
            yield Draft("papers", "vehicle", value, *answer)
            continue
        yield Draft("papers", "vehicle", value, *_extent(sheet, hit), own)
        if own == STATED:
            yield from paper_details.read(sheet, hit, left, value)


def _answer(sheet: Sheet, hit: Hit) -> tuple[int, int, str] | None:
    """The words that say yes or no behind a document that is a label, with their stance ("V5: NO", "Title | none, not issued",
    a line "Logbook" over a line "yes"); they end their cell, their line or a clause."""
    grid, lists = sheet.grid, sheet.language.lists
    links = grid.at(hit.j) in _ANSWER_LINKS
    k = hit.j + links
    if k >= grid.n or (grid.same_line(hit.i, k) != links and not _heads_a_line(sheet, hit)):
        return None
    end = k
    while end < grid.n and grid.same_line(k, end) and grid.toks[end] in lists.any_of("status", "status_denied"):
        end += 1
    if end == k or (grid.same_line(k, end) and (grid.toks[end].isalnum() or grid.toks[end] in _GOES_ON)):
        return None
    denied = any(t in lists["status_denied"] for t in grid.toks[k:end])
    opens = hit.i == 0 or not grid.same_line(hit.i - 1, hit.i) or grid.at(hit.i - 1) in {"|", "*", "-"}
    return (k, end, DENIED) if denied else (k, end, STATED) if opens else (hit.i, hit.j, STATED)


def _heads_a_line(sheet: Sheet, hit: Hit) -> bool:
    """Whether a document's word is alone on its line with another line straight below it."""
    grid = sheet.grid
    if hit.j >= grid.n or grid.same_line(hit.j - 1, hit.j) or (hit.i and grid.same_line(hit.i - 1, hit.i)):
        return False
    return grid.shadow[grid.ends[hit.j - 1] : grid.starts[hit.j]].count("\n") == 1


def _extent(sheet: Sheet, hit: Hit) -> tuple[int, int]:
    """The document's own words: without "until", "passed" and the like; a record with "copy of" before or behind it."""
    grid, lists = sheet.grid, sheet.language.lists
    i, j = hit.i, hit.j
    while i + 1 < j and grid.toks[i] in lists["paper_trim_before"]:
        i += 1
    while i + 1 < j and grid.toks[j - 1] in lists["paper_trim_behind"]:
        j -= 1
    if hit.entry.value == "factory_record":
        k = i - 1 - (grid.at(i - 1) in lists["paper_articles"])
        if grid.at(k) in lists["paper_of"] and grid.at(k - 1) in lists["paper_copy"]:
            i = k - 1
        elif (maker := sheet.ending("maker", i)) and grid.toks[i] in lists["paper_of_maker"]:
            i = maker.i
        while grid.at(j) in lists["paper_copy"] and grid.same_line(i, j):
            j += 1
    return i, j


def _is_passing(sheet: Sheet, hit: Hit) -> bool:
    """Whether a word like "registered" is no document here: an event, a place's, a company's ("first registered in 1951")."""
    grid, lists = sheet.grid, sheet.language.lists
    if hit.j - hit.i > 2 or grid.toks[hit.j - 1] not in lists["passing"] or hit.entry.more or grid.toks[hit.i] in lists["paper_trim_before"]:
        return False
    if grid.at(hit.i - 1) in lists["passing_before"]:
        return True
    k = hit.j
    behind = [grid.at(n) for n in range(k, min(k + VALIDITY_REACH, grid.n)) if grid.sentence[n] == grid.sentence[hit.i]]
    if any(t in lists["validity"] for t in behind):
        return False
    if k in sheet.taken and grid.toks[hit.i] in lists["passing_before_mark"]:
        return True
    if _is_kept_in(sheet, k):
        return False
    if behind and (behind[0] in lists["passing_behind"] or behind[0][0].isdigit()):
        return True
    return bool(behind) and (behind[0] == "'" or sheet.starting("month", k) is not None or sheet.starting("decade", k) is not None)


def _is_kept_in(sheet: Sheet, k: int) -> bool:
    """Whether "registered" goes on with the place that it is registered in, and no date ("Registered in Oregon, passed its test")."""
    grid = sheet.grid
    if grid.at(k) not in sheet.language.lists["kept_in"] or not grid.as_written(min(k + 1, grid.n - 1))[:1].isupper() or grid.is_shouting:
        return False
    place = sheet.starting("month", k + 1) or sheet.starting("decade", k + 1)
    rest = [n for n in range(k, min(k + DATE_REACH, grid.n)) if grid.sentence[n] == grid.sentence[k] and grid.clause[n] == grid.clause[k]]
    return grid.same_line(k, k + 1) and place is None and not any(any(map(str.isdigit, grid.toks[n])) for n in rest)


def _is_heading(sheet: Sheet, hit: Hit) -> bool:
    """Whether "papers" and the like only announce the documents named behind them ("Papers: V5C and old MOTs")."""
    grid = sheet.grid
    if _heads_a_line(sheet, hit) and any(h.entry.value and grid.same_line(h.i, hit.j) for h in sheet.beside("papers", hit.j)):
        return True
    if grid.toks[hit.j - 1] not in sheet.language.lists["paper_headings"] or grid.at(hit.j) not in sheet.language.lists["paper_heading_links"]:
        return False
    return any(
        hit.j < other.i <= hit.j + HEADING_REACH and other.entry.value
        for n in (hit.i, hit.j + 1)
        for other in sheet.beside("papers", min(n, grid.n - 1))
    )


def _is_of_a_club(sheet: Sheet, hit: Hit) -> bool:
    grid, lists = sheet.grid, sheet.language.lists
    if not lists["dating"] & set(grid.toks[hit.i : hit.j]):
        return False
    giver = grid.as_written(hit.i - 1) if hit.i and grid.same_line(hit.i - 1, hit.i) else ""
    if grid.at(hit.i - 1) in lists["club_own"] or (
        len(giver) >= SHORTEST_CLUB and giver.isupper() and giver.endswith("C") and not grid.as_written(hit.i).isupper()
    ):
        return True
    first = next((n + 1 for n in range(hit.i - 1, -1, -1) if grid.clause[n] != grid.clause[hit.i]), 0)
    before = grid.toks[max(first, hit.i - CLUB_REACH) : hit.i]
    if not lists["clubs"].isdisjoint(before) and not lists["club_gives"].isdisjoint(before):
        return True
    k = hit.j
    if grid.at(k) not in lists["club_links"]:
        return False
    return any(t in lists["clubs"] for n, t in enumerate(grid.toks[k : k + CLUB_REACH]) if grid.sentence[k + n] == grid.sentence[hit.i])


def _status(sheet: Sheet) -> Iterator[Draft]:
    """A form's title status: clean, salvage and the like are a title; missing, none and parts only deny it.

    The entry of a document (role `papers:registration`) says that there is one, whatever it says.
    """
    grid, kind = sheet.grid, sheet.role.partition(":")[2]
    found = [h for h in sheet.found("papers") if h.entry.value]
    denied = not (set(grid.toks) & sheet.language.lists["status_burdens"]) and any(t in sheet.language.lists["status_denied"] for t in grid.toks)
    left = list(dates(sheet)) if found and sheet.language.lists["issued"] else []
    for hit in found:
        yield Draft("papers", "vehicle", hit.entry.value, *_extent(sheet, hit), DENIED if denied or hit.entry.more == "denied" else STATED)
        if not denied:
            yield from paper_details.read(sheet, hit, left, hit.entry.value)
    if not found and grid.n and (kind or any(t in sheet.language.lists["status"] for t in grid.toks)):
        yield Draft("papers", "vehicle", kind or "title", 0, grid.n, DENIED if denied else STATED)
