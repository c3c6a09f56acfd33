"""What a document itself says, told beside it: its country, number, date and holder ("carte grise belge, n° B-77120").

Each is a claim of its own with stance `reported`, about the document beside which it stands. The words are data
(`papers`: grammar `countries` and `issued`, table `holder`); in a language that gives none, nothing is read.
"""

from bisect import bisect_left
from collections.abc import Iterator, Sequence

from claims.claim import REPORTED
from claims.lexicon import Hit
from claims.reading.date_figures import Date
from claims.reading.number_forms import Extent, generic_extent
from claims.reading.sheet import Draft, Sheet

KINDS = frozenset({"registration", "title", "factory_record", "history"})
REACH = 24
NAME_WORDS = 5
STRAIGHT_WORDS = 2
OWNED_REACH = 8
HOLDER, HOLDER_OF_ISSUED = "holder", "issued"
"""Words that a holder follows, and words that one follows only where the document is said to be issued."""


def read(sheet: Sheet, hit: Hit, dates: Sequence[Date], value: str) -> Iterator[Draft]:
    """Drafts of what is said of the document named by a hit; `dates` are those of the field that nothing else has read."""
    if value not in KINDS:
        return
    end = _end(sheet, hit)
    number = _number(sheet, hit, end)
    found = [*_country(sheet, hit), *((n.i, n.j) for n in number), *_date(sheet, hit, end, dates, number), *_holder(sheet, hit, end)]
    for i, j in found:
        yield Draft("papers", "vehicle", value, i, j, REPORTED)


def _end(sheet: Sheet, hit: Hit) -> int:
    """Where the words about a document end: with its sentence, at the next document, or after so many words."""
    grid = sheet.grid
    others = [h.i for h in sheet.beside("papers", hit.i) if h.i >= hit.j]
    end = min([grid.n, hit.j + REACH, *others])
    return next((k for k in range(hit.j, end) if grid.sentence[k] != grid.sentence[hit.i]), end)


def _country(sheet: Sheet, hit: Hit) -> Iterator[tuple[int, int]]:
    """The country's word before the document's ("belgisches", "US-Title", "Norwegian army note") or behind it ("carte grise
    française", "log book (Northmark)"); a second adjective or two may stand between."""
    grid, lists = sheet.grid, sheet.language.lists
    k = hit.i - 1 - (grid.at(hit.i - 1) == "-")
    while grid.at(k) in lists["country_between"]:
        k -= 1
    for place in (k, hit.j + (grid.at(hit.j) == "(")):
        if grid.at(place) in lists["countries"] and grid.same_line(place, hit.i):
            yield place, place + 1


def _number(sheet: Sheet, hit: Hit, end: int) -> list[Extent]:
    """The number behind a bare word for "number" that is no label of a part's number; at most one."""
    grid = sheet.grid
    words = sheet.language.lists.any_of("bare_number", "paper_number")
    for word in sheet.beside("numword", hit.i):
        if not hit.j - 1 <= word.i < end or grid.at(word.i) not in words:
            continue
        label = sheet.covering("label", word.i)
        if (label and label.i >= hit.j) or (sheet.ending("numpart", word.i) and word.i > hit.j):
            continue
        number = generic_extent(grid, word.j + (grid.at(word.j) in {".", ":"}))
        if number and number.i < end and all(k in sheet.aside or k not in sheet.taken for k in range(number.i, number.j)):
            sheet.labels.update(range(word.i, word.j))
            return [number]
    return []


def _date(sheet: Sheet, hit: Hit, end: int, dates: Sequence[Date], number: Sequence[Extent]) -> Iterator[tuple[int, int]]:
    """A date straight behind the document ("Fahrzeugbrief von 1974"), one behind a word for its issue, or a day in the
    brackets behind it ("libretto (Milan, 22 October 1970)")."""
    lists = sheet.language.lists
    straight = lists.any_of("of_year", "paper_of")
    told = {k for n in number for k in range(n.i, n.j)}
    words = lists.any_of("bare_number", "paper_number")
    for date in dates[bisect_left(dates, hit.j, key=lambda d: d.i) :]:
        if date.i >= end:
            break
        between = [t for k in range(hit.j, date.i) if (t := sheet.grid.toks[k]) not in {",", "."} and k not in told and (not told or t not in words)]
        bracketed = between[:1] == ["("] and ")" not in between and not date.bare
        if (
            (between and len(between) <= STRAIGHT_WORDS and all(t in straight for t in between))
            or bracketed
            or any(t in lists["issued"] for t in between)
        ):
            yield date.i, date.j
            return


def _holder(sheet: Sheet, hit: Hit, end: int) -> Iterator[tuple[int, int]]:
    """Whose name the document is in."""
    yield from [*_named_holder(sheet, hit, end), *_owned_name(sheet, hit, end)][:1]


def _named_holder(sheet: Sheet, hit: Hit, end: int) -> Iterator[tuple[int, int]]:
    """The name behind "in the name of" and its like, or behind "issued … to"."""
    grid, lists = sheet.grid, sheet.language.lists
    for words in sheet.beside("holder", hit.i):
        if not hit.j <= words.i < end or words.j >= grid.n:
            continue
        issued = any(t in lists["issued"] for t in grid.toks[hit.j : words.i])
        named = grid.as_written(words.j)[:1].isupper() and not grid.has_no_capitals
        if words.entry.value == HOLDER_OF_ISSUED and not (issued and named):
            continue
        start = words.j - (grid.toks[words.j - 1] in lists["holder_articles"])
        k = words.j + 1
        if not named:
            while grid.at(k - 1) in lists.any_of("holder_adjectives", "paper_articles") and grid.at(k).isalpha():
                k += 1
        last = min(end, words.j + NAME_WORDS)
        while k < last and grid.sentence[k] == grid.sentence[hit.i] and _is_of_a_name(sheet, k):
            k += 1
        k -= grid.toks[k - 1] == "." and len(grid.toks[k - 2]) > 1
        yield start, k
        return


def _is_of_a_name(sheet: Sheet, k: int) -> bool:
    """Whether token k goes on with a name: a capital, the point of an initial, "de" before a capital."""
    grid = sheet.grid
    if grid.toks[k] == "." or grid.as_written(k)[:1].isupper():
        return True
    return grid.toks[k] in sheet.language.lists["name_particles"] and grid.as_written(min(k + 1, grid.n - 1))[:1].isupper()


def _owned_name(sheet: Sheet, hit: Hit, end: int) -> Iterator[tuple[int, int]]:
    """The owner in "in the late doctor's name"; the seller's own ("in my name") is nobody named."""
    grid, lists = sheet.grid, sheet.language.lists
    for k in range(hit.j, min(end, hit.j + OWNED_REACH)):
        if grid.toks[k] not in lists["holder_openers"]:
            continue
        last = next((n for n in range(k + 1, min(end, k + OWNED_REACH)) if grid.toks[n] in lists["holder_names"]), 0)
        if last and "'" in grid.toks[k:last] and grid.clause[last] == grid.clause[k]:
            yield k + 1, last + 1
        return
