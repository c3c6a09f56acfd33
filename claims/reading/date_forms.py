"""Dates as written: years of four or two figures, months, days, spans, decades, with "circa" and "maybe".

`dates(sheet)` finds them in order and says nothing of what they mean; a figure that is a price, a distance or a count
is left out.
"""

from collections.abc import Iterator

from claims.claim import DENIED, HEDGED
from claims.reading.date_figures import Date, after_month, in_figures, in_order_of_size
from claims.reading.sheet import Sheet
from claims.values import day_of, is_year, two_figure_year

_SPAN_MARKS = frozenset({"-", "/"})
_MONEY = frozenset("$£€")
_NO_COUNTS = frozenset({"built", "made", "produced", "v"})
_LONGEST_SPAN = 40
_OLDEST_DONOR = 30
"""Two figures from which "off an 84" is a year (1930 on)."""


def dates(sheet: Sheet) -> Iterator[Date]:
    """Every date of a field, in order."""
    end = 0
    for i in _may_start(sheet):
        date = _date_at(sheet, i) if i >= end and i not in sheet.taken else None
        if date is not None:
            yield _with_doubt(sheet, date)
            end = date.j


def _may_start(sheet: Sheet) -> list[int]:
    """The tokens at which a date may start: figures, an apostrophe, a month's or decade's word."""
    toks = sheet.grid.toks
    places = {i for i in sheet.grid.figured if toks[i][0].isdigit()}
    places.update(hit.i for category in ("decade", "month") for hit in sheet.found(category))
    if "'" in sheet.grid.shadow:
        places.update(i for i, tok in enumerate(toks) if tok == "'")
    return sorted(places)


def _date_at(sheet: Sheet, i: int) -> Date | None:
    grid = sheet.grid
    tok, month = grid.toks[i], sheet.starting("month", i)
    if decade := sheet.starting("decade", i):
        return _of_decade(sheet, Date(i, decade.j, decade.entry.value, True)) if not grid.glued(i) else None
    if month:
        return after_month(sheet, i, month, 0)
    day = day_of(tok)
    if day and not _in_decimal(sheet, i):
        of = sheet.language.lists["of_date"]
        k = i + 1 + (grid.at(i + 1) == "." or grid.at(i + 1) in of) + (grid.at(i + 1) == "." and grid.at(i + 2) in of)
        if (month := sheet.starting("month", k)) and grid.same_line(i, k):
            return after_month(sheet, i, month, day)
        if date := in_figures(sheet, i):
            return date
    if tok == "'" and grid.glued(i + 1) and not (i and grid.glued(i) and grid.toks[i - 1].isalnum()):
        figures = grid.at(i + 1)
        if figures[-1:] == "s" and figures[:-1].isdigit() and len(figures) == 3:
            return Date(i, i + 2, f"19{figures[0]}X", True)
        if year := two_figure_year(figures):
            return _spanning(sheet, Date(i, i + 2, year, True))
    if tok[-1:] == "s" and is_year(tok[:-1]) and tok[3] == "0":
        if grid.at(i + 1) == "?" and grid.glued(i + 1):
            return Date(i, i + 2, f"{tok[:3]}X?", True, HEDGED)
        return _of_decade(sheet, Date(i, i + 1, f"{tok[:3]}X", True))
    if len(tok) == 3 and tok[1:] == "0s" and tok[0] in "23456789" and grid.at(i - 1) in sheet.language.lists["before_decade"]:
        return Date(i, i + 1, f"19{tok[0]}X", True, needs_event=True)
    if len(tok) == 3 and tok[1:] == "0s" and tok[0] in "23456789" and (sheet.ending("modelrun", i) or sheet.ending("maker", i)):
        return Date(i, i + 1, f"19{tok[0]}X", True)
    if tok[-1:] == "½" and is_year(tok[:-1]):
        return Date(i, i + 1, tok[:-1], True)
    if tok[-3:] == "ish" and is_year(tok[:-3]):
        return Date(i, i + 1, f"{tok[:-3]}~", True)
    if not is_year(tok):
        return _two_figures(sheet, i)
    if tok in sheet.designations:
        return None
    if grid.at(i + 1) == "'" and grid.at(i + 2) == "s" and tok[3] == "0":
        return _of_decade(sheet, Date(i, i + 3, f"{tok[:3]}X", True))
    if is_figure_of_something(sheet, i):
        return None
    return in_order_of_size(sheet, i) or _spanning(sheet, Date(i, i + 1, tok, True))


def _two_figures(sheet: Sheet, i: int) -> Date | None:
    """Two figures as a year where nothing else can be meant: at a headline's start or behind "a", before a name."""
    grid = sheet.grid
    year = two_figure_year(grid.toks[i])
    if year and (either := _either_of_two(sheet, i, year)):
        return either
    if year and grid.at(i - 1) in {"as", "a"} and _is_titled(sheet, i):
        return Date(i, i + 1, year, True)
    if year and (span := _two_figure_span(sheet, i, year)):
        return span
    if not year or (i and grid.glued(i)) or (grid.glued(i + 1) and grid.at(i + 1) not in {",", ".", ")"}):
        return None
    lists, label = sheet.language.lists, i - 1 - (grid.at(i - 1) == ".")
    if grid.same_line(label, i) and (grid.at(label) in lists["two_figures_behind"] or grid.at(label) in lists["two_years_behind"]):
        spanning = _spanning(sheet, Date(i, i + 1, year, True))
        if "/" in spanning.value or grid.at(label) in lists["two_figures_behind"]:
            return spanning
    if (
        grid.at(i - 1) == ":"
        and (i < 2 or not grid.same_line(i - 2, i) or grid.at(i - 2).isdigit() or grid.at(i - 3) == "#")
        and sheet.starting("model", i + 1)
    ):
        return Date(i, i + 1, year, True)
    named = sheet.starting("modelrun", i + 1) or sheet.starting("maker", i + 1) or sheet.starting("model", i + 1) or is_year(grid.at(i + 1))
    offered = sheet.role == "title" and all(tok in lists["before_sale"] or not tok.isalnum() for tok in grid.toks[:i])
    opens = (
        sheet.role == "text"
        and not grid.field.is_attribute
        and grid.at(i + 1) not in lists["behind_figure"]
        and (i == 0 or not grid.same_line(i - 1, i))
        and len(grid.toks[i]) == 2
    )
    heads = offered or opens or (sheet.role == "title" and sheet.starting("maker", i + 1) is not None and not grid.at(i - 1).isdigit())
    spoken = grid.at(i - 1) in {"a", "an", "my", "moms", "dads", "this", "s", "the"} and grid.same_line(i - 1, i)
    if (heads or spoken) and named:
        return Date(i, i + 1, year, True)
    if grid.at(i - 1) == "a" and grid.at(i - 2) in lists["saying"] and not grid.at(i + 1).isdigit():
        return Date(i, i + 1, year, True)
    if (
        grid.at(i - 1) == ":"
        and (sheet.ending("part", i - 1) or sheet.ending("numpart", i - 1))
        and grid.at(i + 1).isalpha()
        and grid.at(i + 1) not in lists["behind_figure"]
    ):
        return Date(i, i + 1, year, True)
    if grid.at(i - 1) == "a" and grid.at(i - 2) in {"is", "was"} and sheet.ending("part", i - 2) and grid.at(i + 2) == "." and grid.glued(i + 2):
        return Date(i, i + 1, year, True)
    alone = not grid.at(i + 1).isdigit() and grid.at(i + 1) not in lists["behind_figure"]
    if int(grid.toks[i]) >= _OLDEST_DONOR and alone and is_of_a_donor(sheet, i):
        return Date(i, i + 1, year, True)
    if grid.at(i - 1) in {"so", "therefore"} and not grid.at(i + 1).isalnum() and grid.same_line(i - 1, i):
        return Date(i, i + 1, year, True)
    if (
        grid.at(i - 1) == "a"
        and grid.at(i - 2) in {"s", "is", "its", "not", "so", "therefore", "hence"}
        and (not grid.at(i + 1).isalnum() or grid.at(i + 1) in {"not", "and", "but", "with", "model"})
    ):
        return Date(i, i + 1, year, True)
    return None


def is_of_a_donor(sheet: Sheet, i: int) -> bool:
    """Whether "off a", "from a", "out of an" stands straight before token i: the year of what a part came from."""
    grid = sheet.grid
    if grid.at(i - 1) not in sheet.language.lists["indefinite"] or not grid.same_line(i - 2, i):
        return False
    return grid.at(i - 2) in sheet.language.lists["donor_before"] or f"{grid.at(i - 3)} {grid.at(i - 2)}" in sheet.language.lists["donor_before"]


def _is_titled(sheet: Sheet, i: int) -> bool:
    """Whether "titled as (a)" stands straight before token i."""
    grid = sheet.grid
    k = i - 1 - (grid.at(i - 1) == "a")
    return grid.at(k) == "as" and grid.at(k - 1) in sheet.language.lists["titled"] and grid.same_line(k, i) and not grid.at(i + 1).isdigit()


def _either_of_two(sheet: Sheet, i: int, year: str) -> Date | None:
    """Two figures, "or", two figures as a span of years ("probably 68 or 69"), or None."""
    grid, lists = sheet.grid, sheet.language.lists
    second = two_figure_year(grid.at(i + 2)) if len(grid.at(i + 2)) == 2 else ""
    if not second or grid.at(i + 1) not in lists["span_or"] or grid.at(i - 1) not in lists.any_of("either", "maybe") or not grid.same_line(i, i + 2):
        return None
    if grid.at(i + 3) in lists["behind_figure"] or not 0 < int(second) - int(year) < 10:
        return None
    return Date(i, i + 3, f"{year}/{second}", True, HEDGED)


def _two_figure_span(sheet: Sheet, i: int, year: str) -> Date | None:
    """Two figures, a dash and two higher ones as a span of years, in a headline or behind "says" ("G3L ex WD, 42-44"), or None."""
    grid, lists = sheet.grid, sheet.language.lists
    second = grid.at(i + 2)
    cell = sheet.role == "year" or grid.at(i - 2) in lists["year_labels"]
    named = sheet.starting("maker", i + 3) or sheet.starting("modelrun", i + 3)
    if grid.at(i + 1) in lists["span_to"] and named and two_figure_year(second) and int(year[2:]) < int(second) and grid.same_line(i, i + 3):
        return Date(i, i + 3, f"{year}/{two_figure_year(second)}", True)
    joined = (grid.at(i + 1) == "-" or (cell and grid.at(i + 1) == "/")) and grid.glued(i + 1) and grid.glued(i + 2) and not (i and grid.glued(i))
    if not joined or not two_figure_year(second) or (grid.glued(i + 3) and grid.at(i + 3).isalnum()) or int(year[2:]) >= int(second):
        return None
    meant = cell or sheet.role == "title" or grid.at(i - 1) in lists.any_of("saying", "part_of_decade")
    return Date(i, i + 3, f"{year}/{two_figure_year(second)}", True) if meant and grid.at(i + 3) not in lists["behind_figure"] else None


def _in_decimal(sheet: Sheet, i: int) -> bool:
    grid = sheet.grid
    return i > 1 and grid.glued(i) and grid.toks[i - 1] in {".", ",", "/"} and grid.toks[i - 2].isdigit() and grid.glued(i - 1)


def _of_decade(sheet: Sheet, date: Date) -> Date:
    """ "Early 1990s" is the decade with its word."""
    k = date.i - 1 - (sheet.grid.at(date.i - 1) == "-")
    return date._replace(i=k) if sheet.grid.at(k) in sheet.language.lists["part_of_decade"] and sheet.grid.same_line(k, date.i) else date


def _spanning(sheet: Sheet, date: Date) -> Date:
    """The date with what belongs to it: `1942-44`, `between 1942 and 1944`, `before 1971`, `from 1960 on`, `1964 1/2`, `1964?`."""
    grid, lists, i, j = sheet.grid, sheet.language.lists, date.i, date.j
    if grid.at(j) == "1" and grid.at(j + 1) == "/" and grid.at(j + 2) == "2":
        return date._replace(j=j + 3)
    if grid.at(j) == "." and grid.at(j + 1) == "5" and grid.glued(j) and grid.glued(j + 1):
        return date._replace(j=j + 2)
    cell = grid.at(i - 1) in {"|", ":"} and not grid.same_line(j, j + 1)
    if grid.at(j) == "?" and (grid.glued(j) or (cell and grid.same_line(i, j))):
        return date._replace(j=j + 1, value=date.value + "?", own=DENIED if grid.at(j + 1) == "no" and not grid.at(j + 2).isalnum() else HEDGED)
    if second := _second_year(sheet, date):
        year, end = second
        start = i - 1 if grid.at(i - 1) in lists["span_from"] and grid.same_line(i - 1, i) else i
        return Date(start, end, f"{date.value}/{year}", False)
    if grid.at(i - 1) in lists["before_year"] and grid.same_line(i - 1, i):
        return Date(i - 1, j, f"/{int(date.value) - 1}", False)
    started = grid.at(i - 1) in lists["from_year"]
    if grid.at(j) in lists["onwards"] and (started or grid.at(j) != "on" or not grid.at(j + 1).isalpha() or grid.at(j + 1) == "with"):
        return Date(i - 1 if started else i, j + 1, f"{date.value}/", False)
    if grid.at(i - 1) in lists["from_alone"] and grid.same_line(i - 1, i):
        return Date(i - 1, j, f"{date.value}/", False)
    return date


def _second_year(sheet: Sheet, date: Date) -> tuple[str, int] | None:
    """(second year, end) of a span of years, or None."""
    grid, lists, j = sheet.grid, sheet.language.lists, date.j
    joint, before = grid.at(j), grid.at(date.i - 1)
    meant = (
        joint in _SPAN_MARKS or joint in lists["span_to"] or joint in lists["span_or"]
        or (joint in lists["span_and"] and before in lists["span_from_two"]) or (joint in lists["span_until"] and before in lists["span_from"])
    )  # fmt: skip
    if not meant or not grid.same_line(j, j + 1):
        return None
    k = j + 1 + (grid.at(j + 1) == "'")
    second = grid.at(k)
    if grid.at(k + 1) in sheet.language.lists["behind_figure"] or (joint == "/" and grid.at(k + 1) == "/"):
        return None
    if is_year(second):
        year = second
    elif (
        len(second) == 2
        and second.isdigit()
        and (joint in lists["span_or"] or (joint in {"-", "/"} and grid.glued(k)))
        and int(date.value[2:4]) < int(second)
    ):
        year = date.value[:2] + second
    elif (
        len(second) == 1
        and second.isdigit()
        and joint in {"-", "/"}
        and grid.glued(j)
        and grid.glued(k)
        and not (grid.glued(k + 1) and grid.at(k + 1) in {"/", "-"})
    ):
        year = date.value[:3] + second
    else:
        return None
    return (year, k + 1) if 0 < int(year) - int(date.value[:4]) <= _LONGEST_SPAN else None


def _with_doubt(sheet: Sheet, date: Date) -> Date:
    """The date with "circa", "maybe" or "could be" before it."""
    grid, lists, i = sheet.grid, sheet.language.lists, date.i
    k = i - 1 if grid.at(i - 1) == "." else i
    if grid.at(i - 1) in lists["before_date"] and grid.at(i - 2) in lists["maybe"] and not set("~X/?") & set(date.value):
        return date._replace(value=date.value + "?", own=HEDGED)
    if not set("~X/?") & set(date.value):
        for words in map(str.split, lists["circa_behind"]):
            if grid.toks[date.j : date.j + len(words)] == words and grid.same_line(i, date.j):
                return date._replace(j=date.j + len(words), value=date.value + "~")
    hit = sheet.ending("circa", k)
    if hit and grid.line[hit.i] == grid.line[i] and not set("~X/?") & set(date.value):
        return Date(hit.i, date.j, date.value + "~", date.bare, date.own)
    if date.bare and not set("~X/?") & set(date.value):
        maybe = k - 1 - (grid.at(k - 1) == "early")
        if grid.at(maybe) in lists["maybe"] and grid.same_line(maybe, i):
            return date._replace(i=maybe if grid.at(maybe) != "poss" else i, value=date.value + "?", own=HEDGED)
        be = i - 1 - (grid.at(i - 1) in lists["indefinite"])
        if grid.at(be) == "be" and grid.at(be - 1) in {"could", "might", "may"}:
            return date._replace(value=date.value + "?", own=HEDGED)
    return date


def _counts(sheet: Sheet, word: str) -> bool:
    """Whether a word behind a figure makes it a count, a size or a price; what was built in a year is none."""
    return word in sheet.language.lists["behind_figure"] and word not in _NO_COUNTS


def is_figure_of_something(sheet: Sheet, i: int) -> bool:
    """Whether the four figures are a price, a distance, a size, a count or the year of a copyright."""
    grid, lists = sheet.grid, sheet.language.lists
    before, behind = grid.at(i - 1), grid.at(i + 1)
    loose = before in {"model", "over", "no", "only"} and behind not in lists["behind_figure"]
    if before == ")" and grid.at(i - 2) == "c" and grid.at(i - 3) == "(":
        return True
    if before in _MONEY or (before in lists["before_figure"] and not loose):
        return True
    if _counts(sheet, behind) or (behind == "-" and grid.glued(i + 1) and _counts(sheet, grid.at(i + 2))):
        return True
    if before in {".", ",", "-", "/"} and grid.glued(i) and grid.at(i - 2)[-1:].isdigit() and grid.glued(i - 1):
        return True
    return behind in {".", ","} and grid.glued(i + 1) and grid.at(i + 2)[:1].isdigit() and grid.glued(i + 2)
