"""Which event a date is of: the nearest word for building, registering, supplying, restoring or fitting that governs it."""

from claims.lexicon import Hit
from claims.reading.date_figures import Date
from claims.reading.date_subjects import DATED_PARTS, SUBJECT_REACH, heading_part, meant_by_object, part_before, subject_of_event
from claims.reading.sheet import Sheet
from claims.values import is_year

EVENT_REACH = 7
LONG_REACH = 12
"""Reach of an event whose date follows with "in" or "on"."""
BEHIND_REACH = 3
EVENTS_OF_PARTS = {"rebodied": "body", "re-engined": "engine", "rechassised": "frame"}
"""Events whose word names its part."""
PLACE_WORDS = 3
"""Words of a place's name behind "left"."""
LATE_REACH = 14
"""Reach back from an event's word that may end its clause ("1998 in Ulm … restauriert")."""
FRONT_REACH = 10
"""Tokens between a date that opens its sentence ("In 1974 …") and the event's word."""


def event_of(sheet: Sheet, date: Date) -> tuple[str, str] | None:
    """(kind or '', part) of the event whose word is nearest in the date's sentence, or None."""
    grid = sheet.grid
    if _left_its_works(sheet, date):
        return "delivered", "vehicle"
    if grid.at(date.j) in sheet.language.lists["build_words"] and not date.bare and grid.same_line(date.i, date.j):
        return "built", "vehicle"
    best: tuple[int, Hit] | None = None
    for hit in _events_near(sheet, date):
        distance = _distance(sheet, hit, date)
        if distance is not None and (best is None or distance < best[0]):
            best = (distance, hit)
    if best is None:
        return None
    hit = best[1]
    kind, part = hit.entry.value, "vehicle"
    if (
        kind == "registered"
        and hit.j <= date.i
        and date.bare
        and (grid.at(hit.j) == "as" or (grid.at(date.i - 1) == "a" and grid.at(date.i - 2) == "as"))
    ):
        return None
    if kind == "registered" and grid.at(date.i - 1) in sheet.language.lists["until"]:
        return "", part
    if kind in {"completed", "finished"}:
        restored = any(
            h.entry.value == "restored" and h.j <= hit.i and grid.sentence[h.i] == grid.sentence[hit.i] for h in sheet.beside("event", hit.i)
        )
        if not restored and kind == "finished" and (done := part_before(sheet, hit.i, 5)) != "vehicle":
            return "restored", done
        kind = "restored" if restored else "built" if kind == "completed" else ""
    if kind == "dated":
        part = part_before(sheet, hit.i, 1)
        return ("built", part) if part in DATED_PARTS else ("", part)
    if kind in EVENTS_OF_PARTS:
        return "restored", EVENTS_OF_PARTS[kind]
    if kind == "repainted":
        part = part_before(sheet, hit.i)
        return "restored", "body" if part in {"vehicle", "frame"} else part
    if kind == "fitted":
        part = subject_of_event(sheet, hit.i)
        if part == "vehicle":
            part = meant_by_object(sheet, hit.j) or part
        if part == "vehicle" and date.j <= hit.i and _is_late(sheet, hit):
            part = part_before(sheet, date.i, SUBJECT_REACH)
        if part == "vehicle" and sheet.starting("part", hit.j):
            part = part_before(sheet, date.i)
        return ("restored", part) if part != "vehicle" else ("", part)
    if kind in {"built", "restored"}:
        part = subject_of_event(sheet, hit.i, SUBJECT_REACH if kind == "restored" or _is_relative(sheet, hit.i) else 5)
        if part == "vehicle" and kind == "restored" and date.j <= hit.i and _is_late(sheet, hit):
            part = part_before(sheet, date.i, SUBJECT_REACH)
    elif kind == "delivered":
        part = part_before(sheet, hit.i, 3 if grid.toks[hit.i] in {"new", "supplied"} else 0)
        if part == "vehicle" and grid.toks[hit.i] == "new":
            part = heading_part(sheet, hit.i) or part
    return kind, part


def _left_its_works(sheet: Sheet, date: Date) -> bool:
    """Whether "left" and a place's name stand before a date ("This example left Hall Green in November 1953")."""
    grid, k = sheet.grid, date.i - 1
    while grid.at(k) in sheet.language.lists.any_of("before_date", "place_the"):
        k -= 1
    named = 0
    while k >= 0 and named < PLACE_WORDS and grid.as_written(k)[:1].isupper() and grid.toks[k].isalpha() and grid.same_line(k, date.i):
        named, k = named + 1, k - 1
    return named > 0 and k >= 0 and grid.toks[k] in sheet.language.lists["left_words"] and not grid.is_shouting


def _is_relative(sheet: Sheet, i: int) -> bool:
    """Whether a relative clause ties an event's word to a noun further back ("an engine that is believed to have been built")."""
    return bool(sheet.language.lists["relatives"] & set(sheet.grid.toks[max(0, i - SUBJECT_REACH) : i]))


def _events_near(sheet: Sheet, date: Date) -> list[Hit]:
    """The events of the date's sentence, and one that ends the line before it (a label on a line of its own)."""
    label = sheet.ending("event", date.i)
    found = [h for h in sheet.beside("event", date.i) if not (h.entry.value == "restored" and sheet.covering("papers", h.i))]
    return [*found, label] if label and label not in found else found


def _distance(sheet: Sheet, hit: Hit, date: Date) -> int | None:
    """Tokens between an event's word and a date that it governs; None where it does not."""
    grid = sheet.grid
    if hit.j <= date.i:
        label = grid.line[hit.j - 1] + 1 == grid.line[date.i] and date.i == hit.j and (hit.i == 0 or grid.line[hit.i - 1] != grid.line[hit.i])
        reach = LONG_REACH if grid.at(date.i - 1) in sheet.language.lists["before_date"] else EVENT_REACH
        same = grid.sentence[hit.i] == grid.sentence[date.i] and date.i - hit.j <= reach and not _parted(sheet, hit.j, date)
        same = same and not (_is_late(sheet, hit) and {",", *sheet.language.lists["span_and"]} & set(grid.toks[hit.j : date.i]))
        return date.i - hit.j if same or label else None
    if _is_late(sheet, hit):
        return _late_distance(sheet, hit, date)
    if _fronts(sheet, date, hit):
        return 0
    if (
        hit.i < date.j
        or grid.clause[hit.i] != grid.clause[date.i]
        or (hit.i - date.j > BEHIND_REACH and not set(grid.toks[date.j : hit.i]) <= sheet.language.lists["as_the"])
        or not hit.entry.value
    ):
        return None
    if (
        any(t == "," or t in sheet.language.lists["span_and"] for t in grid.toks[date.j : hit.i])
        or _dated_behind(sheet, hit)
        or (hit.i - date.j > 1 and hit.entry.value != "restored" and not set(grid.toks[date.j : hit.i]) <= sheet.language.lists["as_the"])
    ):
        return None
    return hit.i - date.j + 1


def _fronts(sheet: Sheet, date: Date, hit: Hit) -> bool:
    """Whether "In 1974" opens the sentence and the event's word follows in its clause without a date of its own."""
    grid = sheet.grid
    i = date.i - 1
    opens = grid.at(i) in sheet.language.lists["before_date"] and (
        i == 0 or grid.sentence[i - 1] != grid.sentence[i] or grid.toks[i - 1] in {"and", ","}
    )
    return (
        opens and 0 <= hit.i - date.j <= FRONT_REACH and grid.clause[hit.i] == grid.clause[date.i] and hit.entry.value in {"restored", "fitted", "repainted", "built"}
        and not _dated_behind(sheet, hit) and not any(is_year(t) for t in grid.toks[date.j : hit.i])
    )  # fmt: skip


def _is_late(sheet: Sheet, hit: Hit) -> bool:
    """Whether an event's word is one that may stand at the end of its clause, behind its date (German, Dutch participles)."""
    return sheet.grid.toks[hit.j - 1] in sheet.language.lists["late_events"]


def _late_distance(sheet: Sheet, hit: Hit, date: Date) -> int | None:
    """Tokens back from an event's word at its clause's end to its date; None where a comma, another date or one of its own stands between."""
    grid, lists = sheet.grid, sheet.language.lists
    between = grid.toks[date.j : hit.i]
    if hit.i < date.j or grid.clause[hit.i] != grid.clause[date.i] or len(between) > LATE_REACH:
        return None
    if "," in between or any(is_year(t) or t in lists["ends"] for t in between):
        return None
    own = is_year(grid.at(hit.j)) or (grid.at(hit.j) in lists["before_date"] and _dated_behind(sheet, hit))
    return None if own else len(between) + 1


def _parted(sheet: Sheet, start: int, date: Date) -> bool:
    """Whether a comma with a new statement, another date or a stop stands between an event and a date."""
    toks = sheet.grid.toks[start : date.i]
    if any(t in sheet.language.lists["ends"] or t == ";" for t in toks) or "(" in toks[:-1]:
        return True
    if "," in toks and any(is_year(t) or t in sheet.language.lists["opens_statement"] for t in toks):
        return True
    return any(is_year(t) for t in toks)


def _dated_behind(sheet: Sheet, hit: Hit) -> bool:
    """Whether an event has a date of its own behind it, before a comma and a new statement."""
    for k in range(hit.j, hit.j + 4):
        if not sheet.grid.same_line(hit.i, k) or (sheet.grid.at(k) == "," and sheet.grid.at(k + 1) in sheet.language.lists["span_and"]):
            return False
        if is_year(sheet.grid.at(k)):
            return True
    return False
