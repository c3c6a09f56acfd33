"""Words of originality that claim nothing here: questions, work still to be done, what is said of something else."""

from claims.lexicon import Hit
from claims.reading.sheet import Sheet
from claims.reading.subjects import before_copulas

NEED_WORDS = 4


def asked(sheet: Sheet) -> set[int]:
    """The tokens of questions that the text answers ("Q. Original box?", "Is it matching numbers?"): their words are no claim."""
    grid, lists, out = sheet.grid, sheet.language.lists, set[int]()
    if "?" not in grid.words:
        return out
    for mark in (k for k, tok in enumerate(grid.toks) if tok == "?"):
        first = mark
        while first > 0 and grid.line[first - 1] == grid.line[mark] and grid.sentence[first - 1] == grid.sentence[mark]:
            first -= 1
        headed = first > 0 and grid.same_line(first - 2, first) and grid.at(first - 1) in {".", ":", ")"} and grid.at(first - 2) in lists["asks"]
        if headed or grid.toks[first] in lists.any_of("ask_verbs", "asks"):
            out.update(range(first, mark))
    return out


def is_aside(sheet: Sheet, hit: Hit) -> bool:
    """Whether a word alone in brackets is said of a noun before them that is no vehicle ("Turbo Twists (replica)")."""
    if sheet.grid.at(hit.i - 1) != "(" or sheet.grid.at(hit.j) != ")":
        return False
    return not any(sheet.ending(category, hit.i - 1) for category in ("maker", "model", "modelrun", "vehiclenoun"))


def is_of_something_else(sheet: Sheet, hit: Hit) -> bool:
    """Whether "rebuilt" is said of a designation that is no known part, or of a unit: "4L60E rebuilt", "a reconditioned unit"."""
    grid, k = sheet.grid, before_copulas(sheet, hit.i)
    if hit.entry.value not in {"restored", "rebuilt"}:
        return False
    designation = (
        k >= 0 and grid.clause[k] == grid.clause[hit.i] and grid.same_line(k, hit.i) and not grid.toks[k].isalpha() and grid.toks[k].isalnum()
    )
    return grid.at(hit.j) in sheet.language.lists["stand_ins"] or (designation and k not in sheet.taken)


def is_needed(sheet: Sheet, hit: Hit) -> bool:
    """Whether "needs" and its like stand a few words before a phrase with no comma between, or "started", "half done" soon
    behind it: still to be done."""
    grid, i = sheet.grid, hit.i
    behind = [grid.toks[k] for k in range(hit.j, min(hit.j + NEED_WORDS, grid.n)) if grid.clause[k] == grid.clause[i]]
    if "," not in behind and not sheet.language.lists["unfinished"].isdisjoint(behind):
        return True
    for k in range(i - 1, max(i - 1 - NEED_WORDS, -1), -1):
        if sheet.grid.sentence[k] != sheet.grid.sentence[i] or not sheet.grid.toks[k].isalnum():
            return False
        if sheet.grid.toks[k] in sheet.language.lists["needs"]:
            return True
    return False
