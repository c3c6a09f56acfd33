"""Parts that no list knows, named by the noun before a statement: "the cutwater is original", "Igniter reproduction, …".

Such a noun is a `component`. It counts only at the head of its clause, and only where nothing says that it is the whole
vehicle, a name, a person, the trim or a paper. The words that it may not be are data (`originality`: grammar `no_component`).
"""

from claims.lexicon import Hit
from claims.reading.sheet import Sheet
from claims.reading.subjects import Span, before_copulas
from claims.reading.told_otherwise import is_a_type

NOUN_WORDS = 3
SHORTEST = 3
_NOT_PARTS = ("vehiclenoun", "unoriginal", "paint", "maker", "model", "modelrun", "papers", "feature", "month", "part", "originality", "several")
_NOT_INSIDE = tuple(category for category in _NOT_PARTS if category != "part")


def noun_before(sheet: Sheet, hit: Hit, *, plainly: bool) -> list[Span]:
    """The noun that a statement is about, as a component; `plainly` asks for an article or a verb between them."""
    grid, lists = sheet.grid, sheet.language.lists
    if not lists["no_component"] or sheet.role != "text":
        return []
    k = hit.i - 2
    if (
        grid.at(hit.i - 1) in {",", "|", ":"}
        and grid.at(k) in lists["plate_words"]
        and grid.same_line(k, hit.i)
        and not (k and grid.same_line(k - 1, k))
    ):
        return [Span("plate", k, hit.i - 1)]
    if grid.at(hit.i - 1) in {"|", ":"}:
        return _label(sheet, hit)
    last = before_copulas(sheet, hit.i)
    if coded := next((part for part in ("gearbox", "engine") if grid.at(last) in lists[f"{part}_codes"]), ""):
        return [Span(coded, last, last + 1)]
    if last < 0 or grid.clause[last] != grid.clause[hit.i - 1] or not grid.same_line(last, hit.i):
        return []
    if is_a_type(sheet, last) and grid.at(last - 1) in lists["definite"] and not lists["left_signs"].isdisjoint(grid.toks[hit.i : hit.j]):
        return [Span("engine", last, last + 1)]
    first = last
    while first > 0 and last - first < NOUN_WORDS and _is_open(sheet, first - 1, last):
        first -= 1
    opener = grid.at(first - 1) if first and grid.same_line(first - 1, first) else ""
    if first < last and grid.toks[first] in lists["articles"] - lists["definite"]:
        return []
    article = opener in lists["definite"] or grid.toks[first] in lists["definite"]
    first += grid.toks[first] in lists["definite"]
    heads = article or not opener or (not opener.isalnum() and not grid.glued(first)) or opener in lists["and"]
    verb = not set(grid.toks[last + 1 : hit.i]).isdisjoint(lists["be"])
    words = range(first, last + 1)
    if not heads or not words or (plainly and not (verb or article)):
        return []
    if len(words) == 1 and grid.toks[first] in lists["plate_words"] and verb:
        return [Span("plate", first, last + 1)]
    if not all(_may_name(sheet, k, last=last) for k in words):
        return []
    after = grid.at(hit.j) if grid.same_line(hit.i, hit.j) else ""
    if not verb and after.isalpha() and after not in lists.any_of("after_new", "after_part", "after_alone", "after_noun"):
        return []
    return [Span("component", first, last + 1)]


def _label(sheet: Sheet, hit: Hit) -> list[Span]:
    """The noun that heads a line or a table's row, before what is said of it ("Sideboards: reproduction")."""
    grid, last = sheet.grid, hit.i - 2
    first = hit.i - 1
    while first > 0 and grid.same_line(first - 1, hit.i) and hit.i - first <= NOUN_WORDS + 1:
        first -= 1
    first += grid.toks[first] in {"|", "*", "-"}
    words = range(first, last + 1)
    told = hit.entry.value in {"reproduction", "replaced"} and len(words) <= NOUN_WORDS
    whole = first == 0 or not grid.same_line(first - 1, first) or grid.toks[first - 1] in {"|", "*", "-"}
    if not words or not told or not whole or not all(_may_name(sheet, k, last=last) for k in words):
        return []
    return [Span("component", first, last + 1)]


def _is_open(sheet: Sheet, k: int, last: int) -> bool:
    """Whether the noun's words may reach back to token k: a word on the same line and in the same clause."""
    grid = sheet.grid
    return (
        grid.toks[k].isalpha() and grid.clause[k] == grid.clause[last] and grid.same_line(k, last) and grid.toks[k] not in sheet.language.lists["and"]
    )


def _may_name(sheet: Sheet, k: int, *, last: int) -> bool:
    """Whether token k may be a word of an unlisted part's name; a listed part may stand inside it ("mast top section")."""
    grid, lists = sheet.grid, sheet.language.lists
    word = grid.toks[k]
    if not word.isalpha() or len(word) < SHORTEST or word.endswith("ly") or k in sheet.taken:
        return False
    small = lists.any_of("no_component", "parts_words", "after_alone", "copulas", "pronouns", "needs")
    maker = sheet.covering("maker", k)
    if maker and maker.entry.part == "component" and word not in small:
        return True
    return word not in small and not any(sheet.covering(category, k) for category in (_NOT_PARTS if k == last else _NOT_INSIDE))
