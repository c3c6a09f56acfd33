"""Years and dates: what each date that stands in a field is said of.

A date with an event's word beside it (built, registered, sold new, restored) is that event's. A date with a word of
ownership, tax, sale or storage beside it is no claim. A bare year is a claim only where it stands beside a maker, a
model or a vehicle's or part's noun, heads a title, or is what "it is a …" or the papers say.
"""

from collections.abc import Iterator

from claims.claim import OTHER_ITEM, REPORTED
from claims.reading import tables
from claims.reading.date_events import event_of
from claims.reading.date_figures import Date
from claims.reading.date_forms import dates, is_of_a_donor
from claims.reading.date_subjects import DATED_PARTS, new_part
from claims.reading.date_years import (
    heads,
    is_an_item,
    is_before_its_name,
    is_loose,
    is_said_to_be,
    is_what_papers_say,
    is_what_somebody_says,
    named_beside,
    part_behind_names,
    part_of_year,
    subject,
)
from claims.reading.sheet import Draft, Sheet
from claims.reading.topics import opening_subject

PAPERS = "papers"
"""How the role of a form's entry for a document begins: a date alone there is that of a test or an issue."""
_FIELD_KINDS = frozenset({"year", "built", "registered", "delivered"})


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of every year and dated event of a field."""
    found = list(dates(sheet))
    if sheet.role.startswith(PAPERS) and not sheet.found("event"):
        return
    if sheet.role in _FIELD_KINDS:
        if found and not (sheet.role == "year" and not found[0].bare and sheet.grid.field.label.lower() == "date"):
            yield Draft(sheet.role, "vehicle", found[0].value, found[0].i, found[0].j, found[0].own)
        return
    cells = tables.year_cells(sheet)
    last: Date | None = None
    said: Draft | None = None
    for date in found:
        if (date.i, date.j) in cells:
            draft: Draft | None = Draft("year", "vehicle", date.value, date.i, date.j, date.own)
        else:
            draft = _alike(sheet, last, said, date) if last and _goes_on(sheet, last, date) else _classified(sheet, date)
        last, said = date, draft
        if draft:
            sheet.take(date.i, date.j)
            yield draft._replace(loose=True) if draft.kind in {"year", "built"} and is_loose(sheet, date) else draft


def _goes_on(sheet: Sheet, last: Date, date: Date) -> bool:
    """Whether a date is the next of a list of dates ("repainted 1972, 1998")."""
    between, lists = sheet.grid.toks[last.j : date.i], sheet.language.lists
    doubtful = lists.any_of("maybe", "part_of_decade", "span_or") | {"."}
    listed = len(between) <= 2 and set(between) <= lists["span_and"] | {",", "&"}
    doubted = "," in between and len(between) <= 4 and set(between) <= doubtful | {","} and bool(set(between) & lists["maybe"])
    return bool(between) and (listed or doubted) and last.bare and date.bare


def _alike(sheet: Sheet, last: Date, said: Draft | None, date: Date) -> Draft | None:
    """The draft of a date that goes on a list: of what the one before is said, but for a year of its own."""
    if said and (said.kind != "year" or set(sheet.grid.toks[last.j : date.i]) & sheet.language.lists["maybe"]):
        return said._replace(value=date.value, i=date.i, j=date.j, own=date.own)
    return _classified(sheet, date) if said or event_of(sheet, last) is None else None


def _classified(sheet: Sheet, date: Date) -> Draft | None:
    """The claim that a date is, or None where it is none."""
    if date.bare and sheet.grid.at(date.i - 1) in sheet.language.lists["until"] and event_of(sheet, date) is None:
        return None
    if part := part_of_year(sheet, date):
        return Draft("year", part, date.value, date.i, date.j, date.own)
    if part := _heads_cell(sheet, date):
        return Draft("year", part, date.value, date.i, date.j, date.own)
    if part := new_part(sheet, date.i):
        return Draft("delivered", part, date.value, date.i, date.j, date.own)
    if date.bare and is_before_its_name(sheet, date):
        of_part = part_behind_names(sheet, date.j)
        part = of_part if of_part in DATED_PARTS else opening_subject(sheet, date.i) or subject(sheet, date.i)
        return Draft("year", part if part in DATED_PARTS else "vehicle", date.value, date.i, date.j, date.own)
    if _is_all_that_is_said(sheet, date):
        return Draft("year", "vehicle", date.value, date.i, date.j, REPORTED)
    event = event_of(sheet, date)
    if event is not None:
        kind, part = event
        return Draft(kind, part, date.value, date.i, date.j, date.own) if kind else None
    if date.needs_event:
        return None
    if is_what_papers_say(sheet, date) or (not date.bare and is_what_somebody_says(sheet, date)):
        return Draft("year" if date.bare else "built", "vehicle", date.value, date.i, date.j, REPORTED)
    if not date.bare and "/" not in date.value and sheet.role != "title":
        part = subject(sheet, date.i) if sheet.grid.at(date.i - 1) in sheet.language.lists["year_is"] else ""
        return Draft("year", part, date.value, date.i, date.j, date.own) if part in DATED_PARTS else None
    if date.bare and is_of_a_donor(sheet, date.i):
        return Draft("year", "vehicle", date.value, date.i, date.j, OTHER_ITEM)
    part = named_beside(sheet, date)
    if part:
        return Draft("year", part, date.value, date.i, date.j, date.own)
    if sheet.role == "title" and heads(sheet, date):
        return Draft("year", "vehicle", date.value, date.i, date.j, date.own)
    if is_said_to_be(sheet, date):
        return Draft("year", subject(sheet, date.i), date.value, date.i, date.j, date.own)
    if is_what_somebody_says(sheet, date):
        return Draft("year", "vehicle", date.value, date.i, date.j, REPORTED)
    if is_an_item(sheet, date):
        return Draft("year", "vehicle", date.value, date.i, date.j, date.own)
    return None


def _is_all_that_is_said(sheet: Sheet, date: Date) -> bool:
    """Whether a bare year stands straight behind "says", "records" and no event's word follows ("he said 1928, because of the 28")."""
    grid = sheet.grid
    if not date.bare or grid.at(date.i - 1) not in sheet.language.lists["saying"]:
        return False
    return not any(h.i >= date.j and grid.clause[h.i] == grid.clause[date.i] for h in sheet.beside("event", date.i))


def _heads_cell(sheet: Sheet, date: Date) -> str:
    """The part before a colon straight before a bare year that opens what is said of it ("trans: 52 four speed"); empty for none."""
    grid = sheet.grid
    if not date.bare or grid.at(date.i - 1) != ":" or not grid.same_line(date.i - 1, date.i):
        return ""
    hit = sheet.ending("part", date.i - 1) or sheet.ending("numpart", date.i - 1)
    return hit.entry.value if hit and hit.entry.value in {*DATED_PARTS, "component"} and not sheet.starting("event", date.j) else ""
