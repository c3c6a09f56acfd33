"""What an advert as a whole is about: the thing for sale, or parts, or something wanted."""

from collections.abc import Sequence

from claims.claim import OTHER_ITEM, STATED
from claims.reading.sheet import Draft, Sheet
from extractors.document import TITLE

PARTS_OFFERED = ("engine", "frame", "gearbox", "axle", "component", "plate")
PART_BEFORE = 2
"""Tokens before the part with which a headline begins."""


def stance_of_advert(sheets: Sequence[Sheet], drafts: Sequence[Sequence[Draft]]) -> str:
    """The stance of a whole advert: `other-item` where its headline (or first line) wants, or sells parts only."""
    for sheet, found in zip(sheets[:1], drafts[:1], strict=True):
        if sheet.role == TITLE and (_offers_a_part(sheet, found) or _is_part_for(sheet)):
            return OTHER_ITEM
        for hit in sheet.found("headcue"):
            if sheet.covering("cue-none", hit.i):
                continue
            head = sheet.role == TITLE or (sheet.grid.line[hit.i] == 0 and hit.i < 3)
            if head and (
                hit.i == 0
                or sheet.grid.at(hit.i - 1) in {"-", "(", ":", "for", ",", "!"}
                or hit.j == sheet.grid.n
                or (sheet.role == TITLE and sheet.grid.at(hit.j) in {"-", ":"})
                or (hit.entry.value and hit.j - hit.i > 1)
            ):
                return OTHER_ITEM
    return STATED


def _offers_a_part(sheet: Sheet, drafts: Sequence[Draft]) -> bool:
    """Whether a headline offers a part alone: a part's word straight behind the last name, and nothing but a comma behind it."""
    grid = sheet.grid
    names = [d.j for d in drafts if d.kind in {"maker", "model"}]
    if not names:
        return False
    hit = sheet.starting("part", max(names))
    behind = grid.at(hit.j) if hit else ""
    return (
        hit is not None
        and hit.entry.value in PARTS_OFFERED
        and not any(d.part == "vehicle" and d.kind in {"maker", "model"} and d.j == hit.i for d in drafts if hit.entry.value == "engine")
        and (not behind or behind in {",", "for", "wanted", "complete", "spares", "only", "parts"} or behind.isdigit())
    )


def _is_part_for(sheet: Sheet) -> bool:
    """Whether a headline begins with a part and "for" ("Load box for QF-5")."""
    grid = sheet.grid
    hit = next((h for h in sheet.found("part") if h.i <= PART_BEFORE and h.entry.value in {*PARTS_OFFERED, "body"}), None)
    return hit is not None and grid.at(hit.j) in sheet.language.lists["part_for"] and grid.at(hit.j + 1) != "sale"
