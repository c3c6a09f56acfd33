"""What a document itself says, told beside it: its country, number, date and holder ("carte grise belge, n° B-77120").

Each is a claim of its own with stance `reported`, about the document beside which it stands. The words are data
(`papers`: grammar `countries` and `issued`, table `holder`); in a language that gives none, nothing is read.
"""

from collections.abc import Iterator, Sequence

from claims.claim import REPORTED
from claims.lexicon import Hit
from claims.reading.date_forms import Date
from claims.reading.number_forms import generic_extent
from claims.reading.sheet import Draft, Sheet

KINDS = frozenset({"registration", "title", "factory_record"})
REACH = 24
NAME_WORDS = 4
HOLDER, HOLDER_OF_ISSUED = "holder", "issued"
"""Words that a holder follows, and words that one follows only where the document is said to be issued."""


def read(sheet: Sheet, hit: Hit, dates: Sequence[Date]) -> Iterator[Draft]:
    """Drafts of what is said of the document named by a hit; `dates` are those of the field that nothing else has read."""
    end = _end(sheet, hit)
    found = [*_country(sheet, hit), *_number(sheet, hit, end), *_date(sheet, hit, end, dates), *_holder(sheet, hit, end)]
    for i, j in found:
        yield Draft("papers", "vehicle", hit.entry.value, i, j, REPORTED)


def _end(sheet: Sheet, hit: Hit) -> int:
    """Where the words about a document end: with its sentence, at the next document, or after so many words."""
    grid = sheet.grid
    others = [h.i for h in sheet.beside("papers", hit.i) if h.i >= hit.j]
    end = min([grid.n, hit.j + REACH, *others])
    return next((k for k in range(hit.j, end) if grid.sentence[k] != grid.sentence[hit.i]), end)


def _country(sheet: Sheet, hit: Hit) -> Iterator[tuple[int, int]]:
    """The country's word straight before or behind the document's ("belgisches", "US-Title", "carte grise française")."""
    grid, countries = sheet.grid, sheet.language.lists["countries"]
    before = hit.i - 1 - (grid.at(hit.i - 1) == "-")
    for k in (before, hit.j):
        if grid.at(k) in countries and grid.same_line(k, hit.i):
            yield k, k + 1


def _number(sheet: Sheet, hit: Hit, end: int) -> Iterator[tuple[int, int]]:
    """The number behind a bare word for "number" that is no label of a part's number."""
    grid = sheet.grid
    for word in sheet.beside("numword", hit.i):
        if not hit.j - 1 <= word.i < end or grid.at(word.i) not in sheet.language.lists["bare_number"]:
            continue
        label = sheet.covering("label", word.i)
        if (label and label.entry.value) or sheet.ending("numpart", word.i):
            continue
        number = generic_extent(grid, word.j + (grid.at(word.j) in {".", ":"}))
        if number and all(k in sheet.aside or k not in sheet.taken for k in range(number.i, number.j)):
            yield number.i, number.j


def _date(sheet: Sheet, hit: Hit, end: int, dates: Sequence[Date]) -> Iterator[tuple[int, int]]:
    """A date straight behind the document ("Fahrzeugbrief von 1974"), or one behind a word for its issue."""
    lists = sheet.language.lists
    for date in dates:
        if not hit.j <= date.i < end:
            continue
        between = sheet.grid.toks[hit.j : date.i]
        if (between and all(t in lists["of_year"] for t in between)) or any(t in lists["issued"] for t in between):
            yield date.i, date.j


def _holder(sheet: Sheet, hit: Hit, end: int) -> Iterator[tuple[int, int]]:
    """Whose name the document is in."""
    grid = sheet.grid
    for words in sheet.beside("holder", hit.i):
        if not hit.j <= words.i < end or words.j >= grid.n:
            continue
        issued = any(t in sheet.language.lists["issued"] for t in grid.toks[hit.j : words.i])
        named = grid.as_written(words.j)[:1].isupper()
        if words.entry.value == HOLDER_OF_ISSUED and not (issued and named):
            continue
        k = words.j + 1
        while k < min(grid.n, words.j + NAME_WORDS) and grid.same_line(words.j, k) and (grid.toks[k] == "." or grid.as_written(k)[:1].isupper()):
            k += 1
        yield words.j, k + (not named and grid.at(k).isalpha())
        return
