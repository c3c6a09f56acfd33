"""The drafts of a statement of originality: one a part, and how far the telling words reach."""

from collections.abc import Iterator

from claims.claim import DENIED, HEDGED, STATED
from claims.lexicon import Hit
from claims.reading.sheet import Draft, Sheet
from claims.reading.subjects import Span, also_named


def drafts_of(sheet: Sheet, value: str, hit: Hit, parts: list[Span]) -> Iterator[Draft]:
    """A claim for each part, all with the span of the phrase and its parts; a part before it is left out of the span where
    the phrase tells by itself ("not the original", "has been replaced")."""
    grid, lists = sheet.grid, sheet.language.lists
    start, j = own_words(sheet, hit)
    before = [p for p in parts if p.i < hit.i]
    between = set(grid.toks[max((p.j for p in before), default=hit.i) : start])
    bare = value in lists["bare_values"] or grid.toks[start] in lists["bare_openings"]
    bare = bare or bool(value == "original" and lists["of_it"] & set(grid.toks[start + 1 : j]) and grid.toks[j - 1] not in lists["stand_ins"])
    bare = bare or (value == "replaced" and (j > hit.j or bool(between & lists["bare_behind"])))
    bare = bare or (value == "original" and bool(between & (lists.any_of("unsure_inside", "told_inside"))))
    if before and bare:
        parts = [Span(p.part, start, j) if p.i < hit.i else p for p in parts]
    elif any(p.i >= hit.j for p in parts) and grid.toks[start] in lists["articles"]:
        start += 1
    i, j = min([start, *(p.i for p in parts if p.i < hit.i)]), max([j, *(p.j for p in parts)])
    own = own_stance(hit)
    for part in dict.fromkeys([*(p.part for p in parts), *also_named(sheet, j)]):
        yield Draft("originality", part, value, i, j, own)


def own_stance(hit: Hit) -> str:
    """The stance that a phrase brings with it."""
    return hit.entry.more if hit.entry.more in {DENIED, HEDGED} else STATED


def own_words(sheet: Sheet, hit: Hit) -> tuple[int, int]:
    """Tokens of a phrase without the verb before it, with what stands for its noun ("not the original unit")."""
    grid, lists = sheet.grid, sheet.language.lists
    i, j = hit.i, hit.j
    while i + 1 < j and (grid.toks[i] in lists["trim_lead"] or (i > hit.i and grid.toks[i] in lists["trim_article"])):
        i += 1
    if grid.same_line(i, j):
        stands_in = hit.entry.value != "matching_numbers" and grid.at(j) in lists["stand_ins"]
        j += stands_in or (grid.toks[j - 1] in lists["takes_one_more"] and any(c.isdigit() for c in grid.at(j)))
    return i, j
