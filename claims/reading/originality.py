"""How the thing relates to how it left the factory: matching numbers, original, restored, replaced, replica …

A phrase is said of the whole, of a part that stands beside it, or of either. What stands behind "original" decides
whether it is a claim at all: original owner, miles, colour and manual are none.
"""

from collections.abc import Iterator

from claims.lexicon import Hit
from claims.reading.sheet import Draft, Sheet

NOUN_REACH = 5
FAR_WORDS = 7
_AND = frozenset({"and", "&", ",", "/", "+"})
_COPULAS = frozenset({"is", "are", "was", "were", "been", "being", "looks", "appears", "remains", "be", "has", "have", "all", "both", "still", "very", "completely", "totally", "fully", "also", "the", "its", "of", "believed", "to", "not", "recently", "professionally", "just", "freshly", "n't", "isn", "'", "t", "s", "never", "largely", "mostly", "100", "%", "as", "it", "no", "longer", "an", "a", ":", "="})
_WHOLE_SIGNS = frozenset({"all", "completely", "totally", "100", "fully", "very", "highly", "entirely", "complete", "throughout", "bone", "as", "largely", "mostly", "so", "most", "remarkably", "wonderfully", "unusually", "amazingly"})


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of every originality claim of a field."""
    for hit in sheet.found("originality"):
        entry = hit.entry
        if not entry.value or not sheet.is_free(hit.i, hit.i + 1):
            continue
        if entry.part == "original":
            yield from _original(sheet, hit)
        elif entry.part == "whole":
            if not _is_of_a_paper(sheet, hit):
                parts = _subject(sheet, hit.i) if entry.value == "unrestored" else []
                yield from (Draft("originality", p, entry.value, hit.i, hit.j) for p in parts or ["vehicle"])
        elif entry.part == "engine":
            yield Draft("originality", "engine", entry.value, hit.i, hit.j)
        else:
            yield from _of_part(sheet, hit, entry.part == "either")


def _original(sheet: Sheet, hit: Hit) -> Iterator[Draft]:
    grid = sheet.grid
    k = hit.j
    while grid.at(k) in sheet.language.lists["between"] and grid.same_line(hit.i, k) and not sheet.starting("part", k):
        k += 1
    last = grid.toks[hit.j - 1]
    if paint := sheet.starting("paint", k):
        yield Draft("originality", "body", "original", hit.i, paint.j)
        return
    if sheet.starting("unoriginal", k) and grid.same_line(hit.i, k) and not (last not in {"original", "orig", "stock"} and k > hit.j):
        unsaid = sheet.starting("unoriginal", k)
        part = sheet.starting("part", k)
        if unsaid and not (part and part.j > unsaid.j):
            return
    parts = _parts_from(sheet, k)
    if parts:
        named = [p for p, _ in parts if p not in {"vehicle"}]
        if named:
            yield from (Draft("originality", p, "original", hit.i, hit.j) for p in named)
            return
        yield Draft("originality", "vehicle", "original", hit.i, hit.j)
        return
    if sheet.starting("vehiclenoun", k) or any(t in _WHOLE_SIGNS for t in grid.toks[hit.i : hit.j]):
        subject = _subject(sheet, hit.i)
        yield from (Draft("originality", p, "original", hit.i, hit.j) for p in (subject or ["vehicle"]))
        return
    ended = hit.j >= grid.n or not grid.same_line(hit.i, hit.j) or not grid.toks[hit.j].isalnum() or grid.toks[hit.j] in {"and", "but", "with", "apart", "except", "as", "throughout", "to"}
    if ended:
        subject = _subject(sheet, hit.i)
        if subject:
            yield from (Draft("originality", p, "original", hit.i, hit.j) for p in subject)
        elif _says_of_it(sheet, hit.i):
            yield Draft("originality", "vehicle", "original", hit.i, hit.j)


def _says_of_it(sheet: Sheet, i: int) -> bool:
    """Whether "it is", a list's start or a comma stands before: said of the vehicle."""
    grid = sheet.grid
    before = grid.at(i - 1)
    return i == 0 or not grid.same_line(i - 1, i) or before in {"is", "s", "very", ",", "-", "*", "completely", "totally", "fully", "still", "remains", "and", ".", ":", "all", "mostly", "believed", "be", "appears", "largely", "nice", "!"} and not sheet.covering("unoriginal", i - 2)


def _of_part(sheet: Sheet, hit: Hit, whole_too: bool) -> Iterator[Draft]:
    grid, entry = sheet.grid, hit.entry
    only = entry.more.split()
    inside = [h.entry.value for h in sheet.found("part") if hit.i <= h.i and h.j <= hit.j and h.entry.value in {"engine", "gearbox"}]
    if entry.value == "matching_numbers":
        behind = [p for p, _ in _parts_from(sheet, hit.j) if p in {"engine", "gearbox", "frame", "axle"}]
        of = behind or (["engine"] if inside and "numbers" not in grid.toks[hit.i : hit.j] and len(inside) == 1 and "frame" not in grid.toks[hit.i : hit.j] and "chassis" not in grid.toks[hit.i : hit.j] else ["vehicle"])
        yield from (Draft("originality", p, entry.value, hit.i, hit.j) for p in of)
        return
    if inside:
        yield Draft("originality", inside[0], entry.value, hit.i, hit.j)
        return
    k = hit.j
    while grid.at(k) in sheet.language.lists["between"] | {"to", "a", "with", "type", "correct"} and grid.same_line(hit.i, k) and not sheet.starting("part", k) and k - hit.j < 4:
        k += 1
    named = [(p, j) for p, j in _parts_from(sheet, k) if p != "vehicle"] if grid.at(hit.j) not in {".", ","} else []
    subject = [] if named else _subject(sheet, hit.i) or _far_subject(sheet, hit.i)
    parts = [p for p, _ in named] or subject
    if only:
        parts = [p for p, _ in named if p in only]
        if not parts or (grid.at(named[0][1]) in {"oil", "mount", "mounts", "seat", "cover", "covers", "parts", "gasket", "gaskets", "number", "plate", "rubbers", "numbers"}):
            return
    if parts:
        yield from (Draft("originality", p, entry.value, hit.i, hit.j) for p in dict.fromkeys(parts))
    elif whole_too:
        yield Draft("originality", "vehicle", entry.value, hit.i, hit.j)


def _is_of_a_paper(sheet: Sheet, hit: Hit) -> bool:
    return bool(sheet.starting("unoriginal", hit.j) and hit.entry.value in {"replica", "composite"})


def _parts_from(sheet: Sheet, k: int) -> list[tuple[str, int]]:
    """(part, end) of the parts that stand at token k, a list of them included ("frame and engine")."""
    grid = sheet.grid
    out: list[tuple[str, int]] = []
    reach = k + NOUN_REACH
    while k < min(reach, grid.n):
        hit = sheet.starting("part", k)
        if hit is None or (out and not grid.same_line(k - 1, k)):
            break
        if sheet.starting("unoriginal", hit.j) and grid.at(hit.j) in {"manual", "book", "bill", "oil"}:
            break
        out.append((hit.entry.value, hit.j))
        k = hit.j
        if grid.at(k) in _AND and sheet.starting("part", k + 1):
            k += 1
            reach += 2
    return list(dict.fromkeys(out))


def _far_subject(sheet: Sheet, i: int) -> list[str]:
    """The part last named in the clause before "is a replacement" and its like, with some words between."""
    grid = sheet.grid
    near = [h for h in sheet.found("part") if h.j <= i and i - h.j <= FAR_WORDS and grid.clause[h.i] == grid.clause[i] and h.entry.value != "vehicle"]
    if not near or not set(grid.toks[near[-1].j : i]) & {"is", "was", "are", "were", "been"} or "," in grid.toks[near[-1].j : i]:
        return []
    return [near[-1].entry.value]


def _subject(sheet: Sheet, i: int) -> list[str]:
    """The parts that are the subject of a statement ending at token i ("frame and engine are original")."""
    grid = sheet.grid
    k = i - 1
    while k >= 0 and grid.toks[k] in _COPULAS and grid.same_line(k, i):
        k -= 1
    out: list[str] = []
    while k >= 0 and grid.clause[k] == grid.clause[i - 1 if i else 0] and grid.same_line(k, i):
        hit = next((h for h in sheet.found("part") if h.j == k + 1), None)
        if hit is None:
            break
        if hit.entry.value != "vehicle":
            out.append(hit.entry.value)
        k = hit.i - 1
        if grid.at(k) in {"and", "&", ","} and any(h.j == k for h in sheet.found("part")):
            k -= 1
        else:
            break
    return list(dict.fromkeys(reversed(out)))

