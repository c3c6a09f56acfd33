"""Years and dates: first found as written, then told apart by what is said of them.

A date with an event's word beside it (built, registered, sold new, restored) is that event's. A date with a word of
ownership, tax, sale or storage beside it is no claim. A bare year is a claim only where it stands before a maker, a
model or a vehicle's or part's noun, heads a title, or is what "it is a …" says.
"""

from collections.abc import Iterator
from typing import NamedTuple

from claims.claim import REPORTED
from claims.lexicon import Hit
from claims.reading.sheet import Draft, Sheet
from claims.values import day_of, is_year, month_date, numeric_date, two_figure_year, whole_year

EVENT_REACH = 7
LONG_REACH = 12
"""Reach of an event whose date follows with "in" or "on"."""
BEHIND_REACH = 3
NOUN_REACH = 4
_SPAN_WORDS = frozenset({"-", "to", "/", "and", "until", "till", "or"})
_ARTICLES = frozenset({"a", "an", "the", "is", "its", "it", "from", "year", ":", "my", "this", "=", "was", "of", "are", "for", "model", "vintage", "fine", "rare", "lovely", "very", "early", "late", "mid", "genuine", "in", "as", "s"})
_DECADES = frozenset({"s", "ies"})
_FIELD_KINDS = frozenset({"year", "built", "registered", "delivered"})
_MONEY = frozenset("$£€")
_BETWEEN = frozenset({"between", "from"})
_OPEN_BEFORE = frozenset({"before", "pre"})
_STOPS = frozenset({".", ",", ";", "(", ")", ":", "with", "and", "for", "in", "on", "from", "to", "by", "as", "is", "was", "but", "/", "-", "+", "the", "then", "when"})


class Date(NamedTuple):
    """A date as found: tokens [i, j), its EDTF value, whether it is a bare year."""

    i: int
    j: int
    value: str
    bare: bool


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of every year and dated event of a field."""
    found = list(_dates(sheet))
    if sheet.role in _FIELD_KINDS:
        if found:
            yield Draft(sheet.role, "vehicle", found[0].value, found[0].i, found[0].j)
        return
    for date in found:
        if draft := _classified(sheet, date):
            sheet.take(date.i, date.j)
            yield draft


def _dates(sheet: Sheet) -> Iterator[Date]:
    grid, i = sheet.grid, 0
    while i < grid.n:
        date = None
        if i not in sheet.taken and (grid.toks[i][0].isdigit() or grid.toks[i] == "'" or sheet.starting("month", i) or sheet.starting("season", i)):
            date = _date_at(sheet, i)
        if date is None:
            i += 1
            continue
        yield _with_circa(sheet, date)
        i = date.j


def _date_at(sheet: Sheet, i: int) -> Date | None:
    grid = sheet.grid
    tok, month = grid.toks[i], sheet.starting("month", i)
    if month:
        return _after_month(sheet, i, month, 0)
    if season := sheet.starting("season", i):
        k = season.j + (grid.at(season.j) in {"of", ",", "'"})
        return Date(i, k + 1, f"{grid.at(k)}-{season.entry.value}", False) if is_year(grid.at(k)) else None
    day = day_of(tok)
    if day and not _in_decimal(sheet, i):
        k = i + 1 + (grid.at(i + 1) in {"of", "."}) + (grid.at(i + 1) == "." and grid.at(i + 2) == "of")
        if (month := sheet.starting("month", k)) and grid.same_line(i, k):
            return _after_month(sheet, i, month, day)
        if date := _in_figures(sheet, i):
            return date
    if tok == "'" and (year := two_figure_year(grid.at(i + 1))) and grid.glued(i + 1) and not (i and grid.glued(i) and grid.toks[i - 1].isalnum()):
        return _spanning(sheet, Date(i, i + 2, year, True))
    if tok[-1:] == "s" and is_year(tok[:-1]) and tok[3] == "0":
        return Date(i, i + 1, f"{tok[:3]}X", True)
    if not is_year(tok):
        return None
    if grid.at(i + 1) == "'" and grid.at(i + 2) == "s" and tok[3] == "0":
        return Date(i, i + 3, f"{tok[:3]}X", True)
    if _is_figure_of_something(sheet, i):
        return None
    if grid.at(i + 1) in {"-", "/", "."} and grid.at(i + 3) in {"-", "/", "."} and grid.glued(i + 1) and grid.glued(i + 4):
        month_text, day_text = grid.at(i + 2), grid.at(i + 4)
        if month_text.isdigit() and day_text.isdigit() and 1 <= int(month_text) <= 12 and day_of(day_text):
            return Date(i, i + 5, month_date(tok, int(month_text), int(day_text)), False)
    if grid.at(i + 1) == "-" and grid.glued(i + 1) and grid.glued(i + 2) and len(grid.at(i + 2)) == 2 and grid.at(i + 2).isdigit() and grid.at(i + 2)[0] in "01" and 1 <= int(grid.at(i + 2)) <= 12:
        return Date(i, i + 3, month_date(tok, int(grid.at(i + 2))), False)
    return _spanning(sheet, Date(i, i + 1, tok, True))


def _after_month(sheet: Sheet, i: int, month: Hit, day: int) -> Date | None:
    """A date whose month is found: the year behind it, with a day before (`day`) or between."""
    grid, k = sheet.grid, month.j
    k += grid.at(k) in {".", ",", "of", "/", "-"}
    if not day and day_of(grid.at(k)) and (is_year(grid.at(k + 1)) or (grid.at(k + 1) == "," and is_year(grid.at(k + 2)))):
        day, k = day_of(grid.at(k)), k + 1 + (grid.at(k + 1) == ",")
    if grid.at(k) == "'" and two_figure_year(grid.at(k + 1)):
        return Date(i, k + 2, month_date(two_figure_year(grid.at(k + 1)), int(month.entry.value), day), False)
    if is_year(grid.at(k)) and grid.same_line(month.i, k):
        return Date(i, k + 1, month_date(grid.at(k), int(month.entry.value), day), False)
    return None


def _in_figures(sheet: Sheet, i: int) -> Date | None:
    """`12/01/1939`, `26. 2. 1948`, `3/67`, `03/1967` at token i."""
    grid = sheet.grid
    sep = grid.at(i + 1)
    if sep not in {"/", ".", "-"} or not grid.toks[i].isdigit():
        return None
    second = grid.at(i + 2)
    if second.isdigit() and len(second) <= 2 and grid.at(i + 3) == sep:
        third = grid.at(i + 4)
        year = third if is_year(third) else two_figure_year(third) if sep != "." or grid.glued(i + 4) else ""
        if year and (value := numeric_date(int(grid.toks[i]), int(second), year)):
            return Date(i, i + 5, value, False)
    if is_year(second) and 1 <= int(grid.toks[i]) <= 12 and grid.glued(i + 2):
        return Date(i, i + 3, month_date(second, int(grid.toks[i])), False)
    return None


def _in_decimal(sheet: Sheet, i: int) -> bool:
    grid = sheet.grid
    return i > 1 and grid.glued(i) and grid.toks[i - 1] in {".", ",", "/"} and grid.toks[i - 2].isdigit() and grid.glued(i - 1)


def _spanning(sheet: Sheet, date: Date) -> Date:
    """The date with a second year behind it: `1942-44`, `1966/67`, `between 1942 and 1944`, `1964 1/2`, `1964?`."""
    grid, j = sheet.grid, date.j
    if grid.at(j) == "1" and grid.at(j + 1) == "/" and grid.at(j + 2) == "2":
        return Date(date.i, j + 3, date.value, True)
    if grid.at(j) == "." and grid.at(j + 1) == "5" and grid.glued(j) and grid.glued(j + 1):
        return Date(date.i, j + 2, date.value, True)
    if grid.at(j) == "?" and grid.glued(j):
        return Date(date.i, j + 1, date.value + "?", True)
    joint = grid.at(j)
    if joint not in _SPAN_WORDS or (joint in {"and", "or"} and grid.at(date.i - 1) not in _BETWEEN and joint != "or") or not grid.same_line(j, j + 1):
        return date
    k = j + 1 + (grid.at(j + 1) == "'")
    second = grid.at(k)
    if joint in {"until", "till"} or grid.at(k + 1) in sheet.language.lists["behind_figure"] or (joint == "/" and grid.at(k + 1) == "/"):
        return date
    if is_year(second):
        year = second
    elif len(second) == 2 and second.isdigit() and joint in {"-", "/"} and grid.glued(k) and int(date.value[2:4]) < int(second):
        year = date.value[:2] + second
    else:
        return date
    if not 0 < int(year) - int(date.value[:4]) <= 40:
        return date
    return Date(date.i, k + 1, f"{date.value}/{year}", False)


def _with_circa(sheet: Sheet, date: Date) -> Date:
    grid, i = sheet.grid, date.i
    k = i - 1 if grid.at(i - 1) == "." else i
    hit = sheet.ending("circa", k)
    if hit and grid.line[hit.i] == grid.line[i] and "~" not in date.value and "X" not in date.value:
        value = date.value + "~" if "/" not in date.value else date.value
        return Date(hit.i, date.j, value.replace("?~", "~"), date.bare)
    if grid.toks[i][0] == "c" and is_year(grid.toks[i][1:]):
        return Date(i, date.j, grid.toks[i][1:] + "~", True)
    return date


def _is_figure_of_something(sheet: Sheet, i: int) -> bool:
    """Whether the four figures are a price, a distance, a size or a count."""
    grid, lists = sheet.grid, sheet.language.lists
    before, behind = grid.at(i - 1), grid.at(i + 1)
    if before in _MONEY or (before in lists["before_figure"] and not (before in {"model", "over", "no", "only"} and is_year(grid.at(i)) and behind not in lists["behind_figure"])):
        return True
    if behind in lists["behind_figure"] and behind not in {"built", "made", "produced", "v"}:
        return True
    if behind == "-" and grid.glued(i + 1) and grid.at(i + 2) in lists["behind_figure"] - {"built", "made", "produced"}:
        return True
    if before in {".", ","} and grid.glued(i) and grid.at(i - 2)[-1:].isdigit():
        return True
    if behind in {".", ","} and grid.glued(i + 1) and grid.at(i + 2)[:1].isdigit() and grid.glued(i + 2):
        return True
    return before in {"-", "/"} and grid.glued(i) and grid.at(i - 2)[-1:].isdigit() and grid.glued(i - 1)


def _classified(sheet: Sheet, date: Date) -> Draft | None:
    """The claim that a date is, or None where it is none."""
    event = _event(sheet, date)
    if event is not None:
        kind, part, i, j = event
        return Draft(kind, part, date.value, i, j) if kind else None
    if not date.bare and "/" not in date.value:
        return None
    part = _noun_behind(sheet, date)
    if part:
        return Draft("year", part, date.value, date.i, date.j)
    if sheet.role == "title" and _heads(sheet, date):
        return Draft("year", "vehicle", date.value, date.i, date.j)
    if _is_said_to_be(sheet, date) or _is_what_papers_say(sheet, date):
        return Draft("year", _subject(sheet, date.i), date.value, date.i, date.j)
    return None


def _event(sheet: Sheet, date: Date) -> tuple[str, str, int, int] | None:
    """(kind or '', part, i, j) of the event whose word is nearest in the date's clause, or None."""
    grid = sheet.grid
    best: tuple[int, Hit] | None = None
    for hit in sheet.found("event"):
        if hit.j <= date.i and grid.sentence[hit.i] == grid.sentence[date.i] and date.i - hit.j <= (LONG_REACH if grid.at(date.i - 1) in {"in", "on"} else EVENT_REACH):
            if _parted(sheet, hit.j, date.i):
                continue
            distance = date.i - hit.j
        elif hit.i >= date.j and grid.clause[hit.i] == grid.clause[date.i] and hit.i - date.j <= BEHIND_REACH and not hit.entry.value == "":
            if any(t in {",", "and"} for t in grid.toks[date.j : hit.i]) or sheet.starting("event", hit.i) is None or _dated_behind(sheet, hit):
                continue
            if hit.i - date.j > 1 and hit.entry.value != "restored":
                continue
            distance = hit.i - date.j + 1
        else:
            continue
        if best is None or distance < best[0]:
            best = (distance, hit)
    if best is None:
        return None
    hit = best[1]
    kind, part = hit.entry.value, "vehicle"
    if kind in {"completed", "finished"}:
        other = "built" if kind == "completed" else ""
        kind = "restored" if any(h.entry.value == "restored" and h.j <= hit.i and grid.sentence[h.i] == grid.sentence[hit.i] for h in sheet.found("event")) else other
    if kind == "dated":
        part = _part_before(sheet, hit.i)
        kind = "built" if part != "vehicle" else ""
    elif kind == "repainted":
        kind, part = "restored", _part_before(sheet, hit.i)
        part = "body" if part in {"vehicle", "frame"} else part
    elif kind == "fitted":
        part = _part_before(sheet, hit.i)
        kind = "restored" if part != "vehicle" else ""
    elif kind in {"built", "restored", "delivered"}:
        part = _part_before(sheet, hit.i) if kind != "delivered" else "vehicle"
    return kind, part, date.i, date.j


def _parted(sheet: Sheet, start: int, end: int) -> bool:
    """Whether a comma with a new statement, another date or a stop stands between an event and a date."""
    toks = sheet.grid.toks[start:end]
    if any(t in sheet.language.lists["ends"] or t in {";", "("} for t in toks):
        return True
    if "," in toks and any(is_year(t) or t in {"is", "was", "has", "it", "i"} for t in toks):
        return True
    return any(is_year(t) and start + k not in sheet.taken for k, t in enumerate(toks) if not whole_year(sheet.grid.at(end)) or t != sheet.grid.at(end))


def _dated_behind(sheet: Sheet, hit: Hit) -> bool:
    """Whether an event has a date of its own behind it."""
    return any(is_year(sheet.grid.at(k)) for k in range(hit.j, hit.j + 4) if sheet.grid.same_line(hit.i, k))


def _part_before(sheet: Sheet, i: int) -> str:
    """The part whose word stands last before token i in its clause, else the vehicle."""
    grid = sheet.grid
    for hit in reversed(sheet.found("part")):
        if hit.j <= i and grid.clause[hit.i] == grid.clause[min(i, grid.n - 1)] and i - hit.j <= 3:
            return hit.entry.value
    return "vehicle"


def _noun_behind(sheet: Sheet, date: Date) -> str:
    """The part or vehicle that a year stands before ("1948 tractor", "1952 cylinder head"), or an empty string."""
    grid = sheet.grid
    for k in range(date.j, min(date.j + NOUN_REACH, grid.n)):
        if not grid.same_line(date.i, k) or grid.toks[k] in _STOPS:
            break
        if hit := sheet.starting("part", k):
            return hit.entry.value
        if hit := sheet.starting("modelrun", k) or sheet.starting("maker", k) or sheet.starting("model", k):
            part = sheet.starting("part", hit.j)
            return part.entry.value if part and grid.at(part.j) not in {"no", "number", "numbers", "#"} else "vehicle"
    return ""


def _is_what_papers_say(sheet: Sheet, date: Date) -> bool:
    """Whether words of hearsay stand straight before a year: "papers say 1969", "titled as a 1969"."""
    k = date.i
    while sheet.grid.at(k - 1) in {"a", "an", "the", "it", "is", "its", "to", "be", "of", "in", ":"} and k > date.i - 4:
        k -= 1
    hit = sheet.ending("cue-after", k)
    return hit is not None and sheet.language.cues[hit.entry.value].stance == REPORTED and not sheet.grid.at(date.j).isalnum()


def _subject(sheet: Sheet, i: int) -> str:
    """The part of which "… is (a) 1971" is said, else the vehicle."""
    k = i - 1
    while sheet.grid.at(k) in {"a", "an", "is", "was", "be"}:
        k -= 1
    hit = sheet.ending("part", k + 1)
    return hit.entry.value if hit else "vehicle"


def _heads(sheet: Sheet, date: Date) -> bool:
    """Whether a year in a title stands free: at its head, its end, or between punctuation."""
    grid = sheet.grid
    before, behind = grid.at(date.i - 1), grid.at(date.j)
    return date.i == 0 or not before.isalnum() or not behind or not behind.isalnum() or bool(sheet.ending("maker", date.i) or sheet.ending("modelrun", date.i))


def _is_said_to_be(sheet: Sheet, date: Date) -> bool:
    """Whether "it is a", "year:" or a line of its own says the year of the thing."""
    grid = sheet.grid
    i = date.i
    alone = not grid.same_line(i - 1, i) and (not grid.same_line(i, date.j) or grid.at(date.j) in {".", ",", "|", "-"})
    if alone:
        return True
    before = [grid.at(k) for k in range(max(0, i - 3), i) if grid.same_line(k, i)]
    if not before:
        return False
    if before[-1] in {":", "=", "|"} and len(before) > 1 and before[-2] in {"year", "date", "y"}:
        return True
    if before[-1] in {"a", "an"} and len(before) > 1 and before[-2] in {"is", "s", "be", "its", "was", "as", "believe"}:
        return not grid.at(date.j).isalnum() or grid.at(date.j) in {"with", "and", "but", "model", "so", "i", "not"}
    if before[-1] in {"is", "s", "be", "being"}:
        return not grid.at(date.j).isalnum()
    return before[-1] == "year" and (len(before) < 2 or before[-2] in {"model", "the", ","})
