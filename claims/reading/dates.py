"""Years and dates: what each date that stands in a field is said of.

A date with an event's word beside it (built, registered, sold new, restored) is that event's. A date with a word of
ownership, tax, sale or storage beside it is no claim. A bare year is a claim only where it stands beside a maker, a
model or a vehicle's or part's noun, heads a title, or is what "it is a …" or the papers say.
"""

from collections.abc import Iterator

from claims.claim import REPORTED
from claims.lexicon import Hit
from claims.reading.date_forms import Date, dates
from claims.reading.date_subjects import DATED_PARTS, SUBJECT_REACH, new_part, part_before, subject_of_event
from claims.reading.sheet import Draft, Sheet
from claims.values import is_year

EVENT_REACH = 7
LONG_REACH = 12
"""Reach of an event whose date follows with "in" or "on"."""
BEHIND_REACH = 3
LATE_REACH = 14
"""Reach back from an event's word that may end its clause ("1998 in Ulm … restauriert")."""
NOUN_REACH = 4
OPENING_TOKENS = 30
"""Tokens of a text in which a year may stand as an entry of its own."""
FRONT_REACH = 10
"""Tokens between a date that opens its sentence ("In 1974 …") and the event's word."""
_MARKS = frozenset({".", ",", ";", "(", ")", ":", "/", "-", "+"})
_FIELD_KINDS = frozenset({"year", "built", "registered", "delivered"})


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of every year and dated event of a field."""
    found = list(dates(sheet))
    if sheet.role in _FIELD_KINDS:
        if found and not (sheet.role == "year" and not found[0].bare and sheet.grid.field.label.lower() == "date"):
            yield Draft(sheet.role, "vehicle", found[0].value, found[0].i, found[0].j, found[0].own)
        return
    last: Date | None = None
    said: Draft | None = None
    for date in found:
        draft = _alike(sheet, last, said, date) if last and _goes_on(sheet, last, date) else _classified(sheet, date)
        last, said = date, draft
        if draft:
            sheet.take(date.i, date.j)
            yield draft


def _goes_on(sheet: Sheet, last: Date, date: Date) -> bool:
    """Whether a date is the next of a list of dates ("repainted 1972, 1998")."""
    between = sheet.grid.toks[last.j : date.i]
    return 0 < len(between) <= 2 and set(between) <= sheet.language.lists["span_and"] | {",", "&"} and last.bare and date.bare


def _alike(sheet: Sheet, last: Date, said: Draft | None, date: Date) -> Draft | None:
    """The draft of a date that goes on a list: of what the one before is said, but for a year of its own."""
    if said and said.kind not in {"year"}:
        return said._replace(value=date.value, i=date.i, j=date.j, own=date.own)
    return _classified(sheet, date) if said or _event(sheet, last) is None else None


def _classified(sheet: Sheet, date: Date) -> Draft | None:
    """The claim that a date is, or None where it is none."""
    if part := _part_of_year(sheet, date):
        return Draft("year", part, date.value, date.i, date.j, date.own)
    if part := new_part(sheet, date.i):
        return Draft("delivered", part, date.value, date.i, date.j, date.own)
    if date.bare and _is_before_its_name(sheet, date):
        return Draft("year", "vehicle", date.value, date.i, date.j, date.own)
    event = _event(sheet, date)
    if event is not None:
        kind, part = event
        return Draft(kind, part, date.value, date.i, date.j, date.own) if kind else None
    if date.needs_event:
        return None
    if _is_what_papers_say(sheet, date) or (not date.bare and _is_what_somebody_says(sheet, date)):
        return Draft("year", "vehicle", date.value, date.i, date.j, REPORTED)
    if not date.bare and "/" not in date.value and sheet.role != "title":
        return None
    part = _named_beside(sheet, date)
    if part:
        return Draft("year", part, date.value, date.i, date.j, date.own)
    if sheet.role == "title" and _heads(sheet, date):
        return Draft("year", "vehicle", date.value, date.i, date.j, date.own)
    if _is_said_to_be(sheet, date):
        return Draft("year", _subject(sheet, date.i), date.value, date.i, date.j, date.own)
    if _is_what_somebody_says(sheet, date):
        return Draft("year", "vehicle", date.value, date.i, date.j, REPORTED)
    if _is_an_item(sheet, date):
        return Draft("year", "vehicle", date.value, date.i, date.j, date.own)
    return None


def _is_before_its_name(sheet: Sheet, date: Date) -> bool:
    """Whether a determiner, the year and the name stand in a row ("…, this 1957 Corvette"), or a season or model year is meant."""
    grid, lists = sheet.grid, sheet.language.lists
    if grid.at(date.j) in lists["seasons"] or (grid.at(date.j) in lists["models_year"] and grid.at(date.j + 1) in lists["year_labels"]):
        return grid.same_line(date.i, date.j)
    named = sheet.starting("modelrun", date.j) or sheet.starting("maker", date.j)
    return named is not None and grid.at(date.i - 1) in lists["pointing"] and grid.same_line(date.i - 1, date.j)


def _is_what_papers_say(sheet: Sheet, date: Date) -> bool:
    """Whether "on the V5", "on the title" stands straight behind a year."""
    grid, lists = sheet.grid, sheet.language.lists
    k = date.j
    if grid.at(k) not in lists["on_paper"] or not grid.same_line(date.i, k):
        return False
    k += 1
    while grid.at(k) in lists["place_the"]:
        k += 1
    return sheet.starting("papers", k) is not None


def _is_an_item(sheet: Sheet, date: Date) -> bool:
    """Whether a year is an entry by itself among the first words of an advert (", 2016, 38k miles"), or "circa 1930." a sentence."""
    grid = sheet.grid
    before, behind = grid.at(date.i - 1), grid.at(date.j)
    opens = date.i == 0 or not grid.same_line(date.i - 1, date.i) or grid.sentence[date.i - 1] != grid.sentence[date.i] or before == ","
    closes = date.j >= grid.n or not grid.same_line(date.i, date.j) or behind in {",", ".", ";"} or sheet.starting("cue-before", date.j) is not None
    return opens and closes and ("~" in date.value or (date.bare and sheet.role in {"text", "title"} and date.i < OPENING_TOKENS and before == ","))


def _event(sheet: Sheet, date: Date) -> tuple[str, str] | None:
    """(kind or '', part) of the event whose word is nearest in the date's sentence, or None."""
    grid = sheet.grid
    best: tuple[int, Hit] | None = None
    for hit in _events_near(sheet, date):
        distance = _distance(sheet, hit, date)
        if distance is not None and (best is None or distance < best[0]):
            best = (distance, hit)
    if best is None:
        return None
    hit = best[1]
    kind, part = hit.entry.value, "vehicle"
    if kind == "registered" and grid.at(date.i - 1) in sheet.language.lists["until"]:
        return "", part
    if kind in {"completed", "finished"}:
        restored = any(
            h.entry.value == "restored" and h.j <= hit.i and grid.sentence[h.i] == grid.sentence[hit.i] for h in sheet.beside("event", hit.i)
        )
        kind = "restored" if restored else "built" if kind == "completed" else ""
    if kind == "dated":
        part = part_before(sheet, hit.i, 1)
        return ("built", part) if part in DATED_PARTS else ("", part)
    if kind == "repainted":
        part = part_before(sheet, hit.i)
        return "restored", "body" if part in {"vehicle", "frame"} else part
    if kind == "fitted":
        part = subject_of_event(sheet, hit.i)
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
    return kind, part


def _is_relative(sheet: Sheet, i: int) -> bool:
    """Whether a relative clause ties an event's word to a noun further back ("an engine that is believed to have been built")."""
    return bool(sheet.language.lists["relatives"] & set(sheet.grid.toks[max(0, i - SUBJECT_REACH) : i]))


def _events_near(sheet: Sheet, date: Date) -> list[Hit]:
    """The events of the date's sentence, and one that ends the line before it (a label on a line of its own)."""
    label = sheet.ending("event", date.i)
    found = sheet.beside("event", date.i)
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


def _part_of_year(sheet: Sheet, date: Date) -> str:
    """The part or vehicle that a year straight behind it is given to ("Motor von 1968", "2CV de 1957 restaurée"), in
    languages that say so; else an empty string."""
    end = date.i - 1
    if not date.bare or sheet.grid.at(end) not in sheet.language.lists["part_of_year"]:
        return ""
    if sheet.ending("modelrun", end) or sheet.ending("maker", end):
        return "vehicle"
    hit = sheet.ending("part", end)
    return hit.entry.value if hit and hit.entry.value in {*DATED_PARTS, "vehicle"} else ""


def _parted(sheet: Sheet, start: int, date: Date) -> bool:
    """Whether a comma with a new statement, another date or a stop stands between an event and a date."""
    toks = sheet.grid.toks[start : date.i]
    if any(t in sheet.language.lists["ends"] or t == ";" for t in toks) or "(" in toks[:-1]:
        return True
    if "," in toks and any(is_year(t) or t in sheet.language.lists["opens_statement"] for t in toks):
        return True
    return any(is_year(t) and start + k not in sheet.taken for k, t in enumerate(toks))


def _dated_behind(sheet: Sheet, hit: Hit) -> bool:
    """Whether an event has a date of its own behind it."""
    return any(is_year(sheet.grid.at(k)) for k in range(hit.j, hit.j + 4) if sheet.grid.same_line(hit.i, k))


def _named_beside(sheet: Sheet, date: Date) -> str:
    """The part or vehicle that a year stands beside ("1948 tractor", "1952 cylinder head", "QF-5 of 1929"), or an empty string."""
    grid = sheet.grid
    k = date.i
    while (grid.at(k - 1) == "," or grid.at(k - 1) in sheet.language.lists["of_year"]) and grid.same_line(k - 1, date.i):
        k -= 1
    noun = sheet.ending("part", k) if k < date.i and grid.at(k) == "," else None
    if (sheet.ending("modelrun", k) or sheet.ending("maker", k) or (noun and noun.entry.value == "vehicle")) and (
        not grid.at(date.j).isalnum() or k == date.i or grid.at(date.j) in _MARKS or grid.at(date.j) in sheet.language.lists["after_year"]
    ):
        return "vehicle"
    if sheet.role == "title" and (hit := sheet.ending("part", date.i)):
        return hit.entry.value
    if grid.at(date.i - 1) in {"is", "was", "a", "an"} and (subject := _subject(sheet, date.i)) in DATED_PARTS:
        return subject
    for k in range(date.j, min(date.j + NOUN_REACH, grid.n)):
        if not grid.same_line(date.i, k) or grid.toks[k] in _MARKS or grid.toks[k] in sheet.language.lists["after_year"]:
            break
        if hit := sheet.starting("part", k):
            return hit.entry.value
        if hit := sheet.starting("modelrun", k) or sheet.starting("maker", k) or sheet.starting("model", k):
            part = sheet.starting("part", hit.j)
            return part.entry.value if part and grid.at(part.j) not in {"no", "number", "numbers", "#"} else "vehicle"
    return ""


def _is_what_somebody_says(sheet: Sheet, date: Date) -> bool:
    """Whether words of hearsay stand straight before a year: "papers say 1969", "titled as a 1969", "the book says 1948"."""
    grid = sheet.grid
    for k in range(date.i, max(date.i - 4, 0), -1):
        hit = sheet.ending("cue-after", k)
        if (hit and sheet.language.cues[hit.entry.value].stance == REPORTED) or grid.toks[k - 1] in sheet.language.lists["saying"]:
            return grid.same_line(k - 1, date.i) or grid.sentence[k - 1] == grid.sentence[date.i]
        if grid.toks[k - 1] not in sheet.language.lists["said_fillers"]:
            return False
    return False


def _subject(sheet: Sheet, i: int) -> str:
    """The part of which "… is (a) 1971" is said, else the vehicle."""
    k = i - 1
    while sheet.grid.at(k) in sheet.language.lists["is_a"]:
        k -= 1
    hit = sheet.ending("part", k + 1)
    return hit.entry.value if hit else "vehicle"


def _heads(sheet: Sheet, date: Date) -> bool:
    """Whether a year in a title stands free: at its head, its end, or between punctuation; no year of a test or a look."""
    grid = sheet.grid
    if sheet.ending("papers", date.i) or grid.at(date.j) in sheet.language.lists["looks"]:
        return False
    before, behind = grid.at(date.i - 1), grid.at(date.j)
    return date.i == 0 or not before.isalnum() or not behind.isalnum()


def _is_said_to_be(sheet: Sheet, date: Date) -> bool:
    """Whether "it is a", "year:" or a line of its own says the year of the thing."""
    grid = sheet.grid
    i = date.i
    lists = sheet.language.lists
    if {grid.at(i - 1), grid.at(i)} & lists["two_years_behind"] and "/" in date.value and grid.at(date.j - 2) in lists["span_or"]:
        return True
    alone = not grid.same_line(i - 1, i) and (not grid.same_line(i, date.j) or grid.at(date.j) in {".", ",", "|", "-"})
    if alone:
        return (
            i == 0
            or grid.at(i - 1) in sheet.language.lists["year_labels"]
            or (grid.at(i - 1) == ":" and grid.at(i - 2) in sheet.language.lists["year_labels"])
        )
    before = [grid.at(k) for k in range(max(0, i - 3), i) if grid.same_line(k, i)]
    if not before:
        return False
    if before[-1] in {":", "=", "|"} and len(before) > 1 and before[-2] in {"year", "date", "y"}:
        return True
    if before[-1] in {"a", "an"} and len(before) > 1 and before[-2] in {"is", "s", "be", "its", "was", "as", "believe", "not"}:
        return not grid.at(date.j).isalnum() or grid.at(date.j) in {"with", "and", "but", "model", "so", "i", "not", "as", "one"}
    if before[-1] in sheet.language.lists["year_is"]:
        return not grid.same_line(i, date.j) or not grid.at(date.j).isalnum()
    return before[-1] == "year" and (len(before) < 2 or before[-2] in {"model", "the", ","})
