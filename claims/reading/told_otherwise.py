"""A part that is not the first, told without a word for it: "not the 350 it left with", "a B20 replaces the B18", "the 5 speed
instead of the old box".

A bare displacement or type stands for the engine where no other part is named. The words are data (`originality`: grammar
`stead_words`, `left_verbs`, `closing`).
"""

from collections.abc import Iterator

from claims.reading.sheet import Draft, Sheet
from claims.reading.subjects import far_subject, parts_from, subject_before

CLOSING_REACH = 6
NOUN_REACH = 4
CENTURIES = ("19", "20")
YEAR_DIGITS = 4


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of `replaced` for every such statement of a field."""
    lists = sheet.language.lists
    if not lists["left_verbs"].isdisjoint(sheet.grid.words):
        yield from _not_as_left(sheet)
    if lists["stead_words"] and sheet.found("stead"):
        yield from _in_its_stead(sheet)
    if not lists["put_verbs"].isdisjoint(sheet.grid.words):
        yield from _put_in(sheet)


def closing_of(sheet: Sheet, j: int) -> int:
    """The token behind the word that closes "… it left the works with", at most a few tokens from j; 0 without one."""
    grid = sheet.grid
    return next((k + 1 for k in range(j, min(j + CLOSING_REACH, grid.n)) if grid.toks[k] in sheet.language.lists["closing"]), 0)


def denial_before(sheet: Sheet, i: int) -> int:
    """The token at which "not", "isn't" or "no longer" straight before token i begins, or -1."""
    grid, lists = sheet.grid, sheet.language.lists
    k = i - 1
    if grid.at(k) == "t" and grid.at(k - 1) == "'":
        k -= 2
    return k if k >= 0 and grid.same_line(k, i) and grid.toks[k] in lists["denied_inside"] else -1


def _not_as_left(sheet: Sheet) -> Iterator[Draft]:
    """ "Not the 350 it left with", "isn't the engine she left Derby with"."""
    grid, lists = sheet.grid, sheet.language.lists
    for i, tok in enumerate(grid.toks):
        start = denial_before(sheet, i) if tok in lists["articles"] else -1
        if start < 0:
            continue
        last = min(i + NOUN_REACH, grid.n - 1)
        verb = next((k + 1 for k in range(i + 2, last) if grid.toks[k] in lists["pronouns"] and grid.at(k + 1) in lists["left_verbs"]), 0)
        end = closing_of(sheet, verb + 1) if verb else 0
        if not end or grid.sentence[end - 1] != grid.sentence[i] or not grid.same_line(i, end - 1):
            continue
        named = parts_from(sheet, i + 1) or subject_before(sheet, start) or far_subject(sheet, start)
        part = named[0].part if named else "engine" if is_a_type(sheet, i + 1) else ""
        if part and part != "vehicle":
            yield Draft("originality", part, "replaced", start, end)


def _put_in(sheet: Sheet) -> Iterator[Draft]:
    """ "Had a 186 put in it", "somebody put a 350 in it": an engine by its size or type, with the verb behind or before it."""
    grid, lists = sheet.grid, sheet.language.lists
    for k in grid.figured:
        if grid.at(k - 1) not in lists["articles"] or k in sheet.taken or not is_a_type(sheet, k) or not any(map(str.isdigit, grid.toks[k])):
            continue
        if grid.at(k + 1) in lists["put_verbs"] and grid.at(k + 2) in lists["put_in"] and grid.same_line(k, k + 2):
            start, end = k - 1, k + 3
        elif grid.at(k - 2) in lists["put_verbs"] and grid.at(k + 1) in lists["put_in"] and grid.same_line(k - 2, k + 1):
            start, end = k - 2, k + 2
        else:
            continue
        yield Draft("originality", "engine", "replaced", start, end + (grid.at(end) in lists["anaphor_it"]))


def _in_its_stead(sheet: Sheet) -> Iterator[Draft]:
    """ "Replaced with a 186", "replaces the B18", "instead of the original box"."""
    grid, lists = sheet.grid, sheet.language.lists
    for hit in sheet.found("stead"):
        if not sheet.is_free(hit.i, hit.j):
            continue
        k = hit.j
        while grid.at(k) in lists.any_of("articles", "stead_between") and grid.same_line(hit.i, k):
            k += 1
        if k >= grid.n or not grid.same_line(hit.i, k):
            continue
        first = next((n + 1 for n in range(hit.i - 1, -1, -1) if grid.clause[n] != grid.clause[hit.i] or not grid.same_line(n, hit.i)), 0)
        before = [h for h in sheet.beside("part", hit.i) if first <= h.i < hit.i and h.entry.value != "vehicle"]
        own = [p for p in parts_from(sheet, k) if p.part != "vehicle"]
        if hit.entry.value == "passive" and (before or own):
            continue
        if own:
            yield Draft("originality", own[0].part, "replaced", hit.i, own[0].j)
        elif is_a_type(sheet, k) and (before or any(is_a_type(sheet, n) for n in range(first, hit.i))):
            yield Draft("originality", before[-1].entry.value if before else "engine", "replaced", hit.i, k + 1)


def is_a_type(sheet: Sheet, k: int) -> bool:
    """Whether token k may stand for an engine by its displacement or type ("186", "M130"), and is no year, size or count."""
    tok = sheet.grid.at(k)
    if not any(map(str.isdigit, tok)) or tok in sheet.language.lists["no_types"]:
        return False
    if sheet.grid.at(k + 1) == "." and sheet.grid.glued(k + 1) and sheet.grid.at(k + 2).isdigit():
        return False
    year = len(tok) == YEAR_DIGITS and tok.isdigit() and tok.startswith(CENTURIES)
    return not year and len(tok) > 1 and not tok.endswith("s") and sheet.grid.at(k + 1) not in sheet.language.lists["behind_sizes"]
