"""What a dated event is said of: the part before it, the part that heads the line, the part that "it" stands for."""

from claims.reading.sheet import Sheet
from claims.values import is_year

SUBJECT_REACH = 9
HEAD_TOKENS = 3
"""Tokens at a sentence's start in which its subject stands ("The engine …")."""
DATED_PARTS = frozenset({"engine", "gearbox", "frame", "axle", "body", "hull"})


def part_before(sheet: Sheet, i: int, reach: int = 3) -> str:
    """The part whose word stands last before token i in its clause, else the vehicle; a number read between does not count."""
    grid = sheet.grid
    at = min(i, grid.n - 1)
    for hit in reversed(sheet.beside("part", at)):
        if hit.j <= i and _is_past_a_date(sheet, hit.j, i):
            break
        if hit.j <= i and grid.clause[hit.i] == grid.clause[at] and sum(k not in sheet.taken for k in range(hit.j, i)) <= reach:
            return hit.entry.value
    return "vehicle"


def _head_of_sentence(sheet: Sheet, i: int) -> str:
    """The part that opens the sentence of token i as its subject ("Motor is a 94 out of a wreck, swapped in 2016"); empty for none."""
    hits = [h for h in sheet.beside("part", i) if h.j < i]
    if not hits or hits[0].entry.value not in {*DATED_PARTS, "component"}:
        return ""
    first = hits[0].i
    while first > 0 and sheet.grid.sentence[first - 1] == sheet.grid.sentence[i]:
        first -= 1
    return hits[0].entry.value if hits[0].i - first < HEAD_TOKENS and sheet.grid.at(hits[0].j) in sheet.language.lists["number_is"] else ""


def _is_past_a_date(sheet: Sheet, start: int, i: int) -> bool:
    """Whether a comma and a year stand between a part's word and an event's: a new statement."""
    toks = sheet.grid.toks[start:i]
    return "," in toks and any(is_year(t) or (start + n in sheet.taken and t.isdigit() and len(t) > 3) for n, t in enumerate(toks))


def subject_of_event(sheet: Sheet, i: int, reach: int = SUBJECT_REACH) -> str:
    """The part of which an event's word at token i is said: named before it, meant by "it", or heading its line."""
    inside = sheet.starting("part", i) or next((h for h in sheet.beside("part", i) if h.i == i + 1 and sheet.starting("event", i)), None)
    part = inside.entry.value if inside else part_before(sheet, i, reach)
    if part == "vehicle" and sheet.grid.at(i - 1) == ",":
        part = _head_of_sentence(sheet, i) or part
    return part if part != "vehicle" else _meant_by_it(sheet, i) or heading_part(sheet, i) or "vehicle"


def heading_part(sheet: Sheet, i: int) -> str:
    """The part that heads the line of token i as an entry of a list ("* BOX - planks, new in 2021"); empty for none."""
    grid = sheet.grid
    first = i
    while first > 0 and grid.same_line(first - 1, i):
        first -= 1
    while first < i and not grid.toks[first].isalnum():
        first += 1
    hit = sheet.starting("part", first) or sheet.starting("numpart", first)
    marked = hit is not None and hit.j < i and (grid.at(hit.j) in {":", "|"} or (grid.at(hit.j) == "-" and not grid.glued(hit.j)))
    return hit.entry.value if hit and marked and hit.entry.value not in {"vehicle", "registration", "unknown"} else ""


def _meant_by_it(sheet: Sheet, i: int) -> str:
    """The part that "it was", "the unit was" before token i stands for: the subject of the sentence before; empty for none."""
    grid, k = sheet.grid, i - 1
    while k >= 0 and grid.toks[k] in sheet.language.lists["copulas"] - sheet.language.lists["anaphor_it"]:
        k -= 1
    unit = grid.at(k) == "unit"
    if k < 0 or not (unit or grid.toks[k] in sheet.language.lists["anaphor_it"]) or not _opens(sheet, k - (unit and grid.at(k - 1) == "the")):
        return ""
    before = k
    while before >= 0 and grid.sentence[before] == grid.sentence[k]:
        before -= 1
    if before < 0:
        return ""
    hits = sheet.beside("part", before)
    first = min((n for n in range(before + 1) if grid.sentence[n] == grid.sentence[before]), default=before)
    head = next((h for h in hits if h.i - first < HEAD_TOKENS and h.entry.value in {*DATED_PARTS, "component"}), None)
    if head:
        return head.entry.value
    return "engine" if unit and any(h.entry.value == "engine" for h in hits) else ""


def meant_by_object(sheet: Sheet, j: int) -> str:
    """The part that "it" behind an event's word stands for: the last one named before ("a later engine; he fitted it in 1985"); empty for none."""
    grid = sheet.grid
    if grid.at(j) not in sheet.language.lists["anaphor_it"]:
        return ""
    before = [h for h in sheet.beside("part", j) if h.j <= j]
    if not before:
        k = j
        while k >= 0 and grid.sentence[k] == grid.sentence[j]:
            k -= 1
        before = sheet.beside("part", k)
    return before[-1].entry.value if before and before[-1].entry.value in {*DATED_PARTS, "component"} else ""


def _opens(sheet: Sheet, k: int) -> bool:
    return k <= 0 or sheet.grid.sentence[k - 1] != sheet.grid.sentence[k]


def new_part(sheet: Sheet, i: int) -> str:
    """The part that is said to be new at the date at token i ("clutch new Jan 2021", "new rear tyres in 2012"); empty for none."""
    grid, lists = sheet.grid, sheet.language.lists
    k = i - 1
    while grid.at(k) in lists["before_date"] or grid.at(k) in {"(", "-"}:
        k -= 1
    if k < 0 or not grid.same_line(k, i):
        return ""
    if grid.toks[k] in lists["new_words"]:
        end = k - (grid.at(k - 1) in lists["copulas"])
        hit = sheet.ending("part", end)
    else:
        hit = sheet.ending("part", k + 1)
        if hit is None or not any(grid.at(n) in lists["new_words"] and grid.same_line(n, hit.i) for n in (hit.i - 1, hit.i - 2)):
            return ""
    return hit.entry.value if hit and hit.entry.value not in {"vehicle", "plate"} else ""
