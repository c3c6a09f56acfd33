"""The part that words are about where they do not name it: what heads their line, or the block of lines that they stand in.

Habit: lists by part ("MOTOR", then its lines; "Motor: 2004 Yamaha F25, serial …").
"""

from itertools import pairwise

from claims.reading.date_subjects import DATED_PARTS, heading_part
from claims.reading.sheet import Sheet
from claims.values import is_year

HEADING_TOKENS = 3
"""Tokens of a line that is a heading."""
LONGEST_BLOCK = 8
"""Lines under a heading that are still of its part."""
_OF_A_LIST = frozenset({"-", "*", "•", "|", ":"})


def part_in_hand(sheet: Sheet, i: int) -> str:
    """The part that heads the line of token i or the block over it; `vehicle` where none does."""
    part = heading_part(sheet, i) or _heading_over(sheet, i)
    return part if part in DATED_PARTS or part == "component" else "vehicle"


def opening_subject(sheet: Sheet, i: int) -> str:
    """The part that opens the sentence of token i as its subject ("The motor is newer, a 1985 Johnson, serial 8112047"); empty for none.

    A word for where something came from between them ends its hold ("motor is a 1.8 from a 1994 Miata").
    """
    grid, lists = sheet.grid, sheet.language.lists
    first = i
    while first > 0 and grid.sentence[first - 1] == grid.sentence[i] and grid.same_line(first - 1, i):
        first -= 1
    k = first
    while grid.at(k) in lists.any_of("articles", "place_the") and k < i:
        k += 1
    hit = sheet.starting("part", k)
    if hit is None or hit.j >= i or hit.entry.value not in DATED_PARTS or grid.at(hit.j) not in lists["number_is"] | {"was"}:
        return ""
    between = grid.toks[hit.j : i]
    others = [h for c in ("part", "numpart") for h in sheet.beside(c, i) if hit.j <= h.i < i and h.entry.value not in {hit.entry.value, "vehicle"}]
    return "" if others or lists["origins"] & set(between) or comes_from_one(sheet, hit.j, i) else hit.entry.value


def comes_from_one(sheet: Sheet, i: int, j: int) -> bool:
    """Whether tokens [i, j) say that something comes from another machine ("is from", "ist von einem")."""
    toks, lists = sheet.grid.toks[i:j], sheet.language.lists
    return "from" in toks or any(one in lists["from_a"] and other in lists["indefinite"] for one, other in pairwise(toks))


def is_straight_behind(sheet: Sheet, i: int) -> bool:
    """Whether token i opens its line, but for the line's heading and a year."""
    grid = sheet.grid
    k = i - 1
    while is_year(grid.at(k)) and grid.same_line(k, i):
        k -= 1
    return k < 0 or not grid.same_line(k, i) or grid.toks[k] in _OF_A_LIST


def _heading_over(sheet: Sheet, i: int) -> str:
    """The part whose word alone makes a line over that of token i, with no empty line between; empty for none."""
    grid = sheet.grid
    if not grid.line[i]:
        return ""
    first = i
    for _ in range(LONGEST_BLOCK):
        while first > 0 and grid.line[first - 1] == grid.line[i]:
            first -= 1
        if first == 0 or grid.line[first] - grid.line[first - 1] > 1:
            return ""
        end = first
        i = first = end - 1
        while first > 0 and grid.line[first - 1] == grid.line[i]:
            first -= 1
        hit = sheet.starting("part", first) or sheet.starting("numpart", first)
        if hit and end - first <= HEADING_TOKENS and (hit.j == end or (hit.j == end - 1 and grid.toks[hit.j] in _OF_A_LIST)):
            return hit.entry.value
    return ""


__all__ = ["comes_from_one", "is_straight_behind", "opening_subject", "part_in_hand"]
