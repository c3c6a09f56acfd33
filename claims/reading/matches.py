"""A part's number said to match that of another part or of the whole: "the engine number matches the VIN", "motor does not match the frame"."""

from collections.abc import Iterator

from claims.claim import DENIED, STATED
from claims.reading.sheet import Draft, Sheet

MATCHED = frozenset({"engine", "gearbox", "frame", "body", "axle", "plate"})
VERB_REACH = 4
"""Tokens between a part and "matches": a word for its number, a denial."""
TARGET_REACH = 3


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of `matching_numbers` of the part that is compared, denied where the words deny it."""
    grid, lists = sheet.grid, sheet.language.lists
    if not lists["match_verbs"] or lists["match_verbs"].isdisjoint(grid.toks):
        return
    named = {h.i: h for category in ("part", "numpart") for h in sheet.found(category)}
    for hit in sorted(named.values()):
        if hit.entry.value not in MATCHED:
            continue
        verb = next((k for k in range(hit.j, min(hit.j + VERB_REACH + 1, grid.n)) if grid.toks[k] in lists["match_verbs"]), 0)
        if not verb or grid.clause[verb] != grid.clause[hit.i] or not grid.same_line(hit.i, verb):
            continue
        between = grid.toks[hit.j : verb]
        small = lists.any_of("match_between", "number_words") | {"'"}
        if not all(tok in small or sheet.covering("numword", hit.j + n) for n, tok in enumerate(between)):
            continue
        end = _target(sheet, verb + 1)
        if end:
            denied = not lists["match_denials"].isdisjoint(between)
            yield Draft("originality", hit.entry.value, "matching_numbers", hit.i, end, DENIED if denied else STATED)


def _target(sheet: Sheet, k: int) -> int:
    """The end of what a number is compared with at token k: a part, the vehicle, the VIN; 0 for anything else (a document, a colour)."""
    grid, lists = sheet.grid, sheet.language.lists
    first = k
    while grid.at(k) in lists.any_of("place_the", "articles", "match_with") and k - first < TARGET_REACH:
        k += 1
    if not grid.same_line(first - 1, k) or ((paper := sheet.starting("papers", k)) and paper.entry.value):
        return 0
    hit = sheet.starting("label", k) or sheet.starting("part", k) or sheet.starting("numpart", k) or sheet.starting("vehiclenoun", k)
    return hit.j if hit and hit.entry.value not in {"component", "tyre", "unknown", ""} else 0


__all__ = ["read"]
