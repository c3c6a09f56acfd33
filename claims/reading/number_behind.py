"""The number behind a label, or the filler or the words that stand in its place."""

from collections.abc import Iterator

from claims.claim import OTHER_ITEM, STATED, compact
from claims.grid import Grid
from claims.reading.name_parts import is_outboard
from claims.reading.name_runs import USUAL_SIZES
from claims.reading.number_forms import LONGEST_WORD, SHORTEST_UNLABELLED, Extent, Forms, generic_extent, known_extent, mark_extent
from claims.reading.number_instead import nothing_behind
from claims.reading.number_labels import Label
from claims.reading.number_on_plate import is_on_a_plate, is_said_by_a_plate
from claims.reading.number_pairs import present_number, range_behind, respective, second_of_a_pair
from claims.reading.number_shapes import SHORTEST_FIGURES, has_unit, is_date, is_range
from claims.reading.sheet import Draft, Sheet
from claims.reading.spelled_numbers import spelled_extent
from claims.reading.topics import opening_subject, part_in_hand
from claims.values import is_year

LONGEST_GAP = 5
MOST_WORDS = 3
SHORTEST_VERB = 4
"""Letters from which a word that may join a label to its number is no piece of the number ("says", "stamped")."""
PIECES_BEFORE, FEWEST_FIGURES_BEFORE = 4, 5
"""Tokens of a number before its part's word, and fewest of its figures."""
LONGEST_PREFIX = 2
"""Letters of a piece of a number in a text of capitals; more make a word ("MOTOR DONE AT 41")."""
FEWEST_OF_ENGINE = 4
"""Fewest figures of a bare number behind "Engine:"; fewer, or a usual size, are a displacement."""
FEWEST_ARTICLED = 4
"""Fewest figures of a number behind "the" or "a" ("motor is the M130" names a type)."""
BARE_FIGURES = {"frame": 4, "vehicle": 4, "hull": 4, "engine": 6, "plate": 4, "unknown": 4}
"""Fewest figures of a bare number behind a part's word alone ("chassis 8207")."""


def behind(sheet: Sheet, label: Label, forms: Forms) -> Iterator[Draft]:
    """The number (or the words that there is none) behind a label."""
    grid = sheet.grid
    if any(0 <= label.i - h.j <= LONGEST_GAP and grid.same_line(h.i, label.i) for h in sheet.beside("cast", label.i)):
        return
    if ahead := _number_before(sheet, label):
        sheet.take(ahead.i, ahead.j)
        yield Draft("number", label.parts[0], ahead.value, ahead.i, ahead.j)
        return
    k, lines = label.j, 0
    announced = False
    joiners = sheet.language.lists["joiners"]
    while k < grid.n and k - label.j <= LONGEST_GAP:
        step = grid.line[k] - grid.line[k - 1]
        if step > 1 or lines + step > 1:
            return
        lines += step
        if (
            grid.toks[k] not in joiners
            or (label.weak and grid.toks[k] == "and")
            or (grid.toks[k] == "." and (k > label.j or label.weak))
            or _starts_number(sheet, k, forms)
        ):
            break
        announced = announced or grid.toks[k] in sheet.language.lists["announcers"]
        k += 1
    if k >= grid.n or k in sheet.taken or not label.parts:
        if not label.parts and k < grid.n and any(c.isdigit() for c in grid.toks[k]) and (found := generic_extent(grid, k)):
            end = next((n for n in range(found.i + 1, found.j) if grid.toks[n] == "-" and not grid.glued(n)), found.j)
            sheet.take(found.i, end)
            sheet.aside.update(range(found.i, end))
        return
    if place := nothing_behind(sheet, label, k, announced):
        sheet.take(*place)
        yield from (Draft("number", part, None, *place) for part in label.parts)
        return
    found = _found_behind(sheet, k, label, forms, announced)
    if found and not announced and _belongs_behind(sheet, found):
        return
    if found:
        sheet.take(found.i, found.j)
        parts = (_told_of(sheet, label, found.j),) if label.parts == ("vehicle",) else label.parts
        if parts == ("unknown",):
            parts = (found.scheme.part if found.scheme else "plate",)
        if span := range_behind(sheet, label, found):
            sheet.take(found.i, span.j)
            yield from (Draft("number", part, e.value, e.i, e.j, OTHER_ITEM) for part in parts for e in (found, span))
            return
        if (
            label.weak
            and len(parts) > 1
            and found.scheme
            and found.scheme.part in parts
            and not set(parts) <= {found.scheme.part, *found.scheme.also_parts}
        ):
            parts = (found.scheme.part,)
        family = found.pack.id if found.pack and found.scheme and found.scheme.stands_alone else ""
        if len(parts) == 2 and (other := respective(sheet, found, forms, parts[1])):
            sheet.take(other.i, other.j)
            yield Draft("number", parts[0], found.value, found.i, found.j, family=family)
            yield Draft("number", parts[1], other.value, other.i, other.j, family=family)
            return
        present = present_number(sheet, found)
        own = OTHER_ITEM if present else STATED
        yield from (Draft("number", part, found.value, found.i, found.j, own, family=family) for part in parts)
        second = present or second_of_a_pair(sheet, label, found)
        if len(parts) == 1 and second:
            sheet.take(second.i, second.j)
            yield Draft("number", parts[0], second.value, second.i, second.j)


def _number_before(sheet: Sheet, label: Label) -> Extent | None:
    """The number that ends straight before a bare part's word, a comma or the end behind it ("B-2604418 frame, M-2604418 motor")."""
    grid = sheet.grid
    if not label.weak or label.j - label.i > 1 or len(label.parts) != 1 or label.parts[0] not in BARE_FIGURES:
        return None
    if grid.at(label.j) not in {",", ".", ";", ""} and grid.same_line(label.i, label.j):
        return None
    for i in range(max(0, label.i - PIECES_BEFORE), label.i):
        if grid.glued(i) or not grid.same_line(i, label.i) or not sheet.is_free(i, label.i):
            continue
        found = generic_extent(grid, i)
        mixed = found is not None and any(c.isalpha() for c in found.value) and sum(c.isdigit() for c in found.value) >= FEWEST_FIGURES_BEFORE
        if found and found.j == label.i and mixed and not has_unit(grid.toks[found.i : found.j]):
            return found
    return None


def _told_of(sheet: Sheet, label: Label, j: int) -> str:
    """The part whose number a plain "serial" is, by its sentence ("Motor is a 1957 …, serial 08817") or the plate that it is on, else the vehicle."""
    plain = sheet.grid.at(label.i) in sheet.language.lists["plain_serial"]
    if is_on_a_plate(sheet, j) or (plain and is_said_by_a_plate(sheet, label.i)):
        return "plate"
    if plain and (part := part_in_hand(sheet, label.i)) != "vehicle":
        return part
    if plain and (part := opening_subject(sheet, label.i)):
        return part
    if plain and any(is_outboard(sheet, h.i) for h in sheet.beside("maker", label.i) if h.i < label.i):
        return "engine"
    return "vehicle"


def _found_behind(sheet: Sheet, k: int, label: Label, forms: Forms, announced: bool) -> Extent | None:
    """The number at token k behind a label, past a unit's letter ("Gearbox A - …"), a word or two, or a verb."""
    grid = sheet.grid
    if len(grid.at(k)) == 1 and grid.at(k).isalpha() and grid.at(k + 1) in {"-", ":", ")"} and not grid.glued(k + 1 + (grid.at(k + 1) == "-")):
        k += 2
    if not label.weak and sheet.language.lists["starts"] & set(grid.toks[label.j : k]) and (first := _first_piece(sheet, k)):
        return first
    if not label.weak or announced:
        if spelled := spelled_extent(grid, k):
            return spelled
        if grid.at(k) in sheet.language.lists["fillers"] and grid.at(k + 1) in {",", "-", "it"} and grid.same_line(k, k + 2):
            k += 2
    return _number_at(sheet, k, label, forms, announced) or _past_words(sheet, k, label, forms) or _past_announcer(sheet, k, label)


def _first_piece(sheet: Sheet, k: int) -> Extent | None:
    """The first piece that stands for a number ("engine number starts FK"), at token k."""
    tok = sheet.grid.at(k)
    written_so = sheet.grid.as_written(k).isupper() or sheet.grid.has_no_capitals
    if written_so and tok.isalpha() and tok.isascii() and 1 < len(tok) <= LONGEST_WORD and tok not in sheet.language.lists["not_a_model"]:
        return Extent(k, k + 1, compact(tok), None, None)
    return None


def _past_announcer(sheet: Sheet, k: int, label: Label) -> Extent | None:
    """A number behind a strong label, a word or two, and a verb that announces it ("VIN on that one ends 118820")."""
    if label.weak:
        return None
    grid = sheet.grid
    if grid.at(k) in sheet.language.lists["place_on"]:
        return _past_place(sheet, k)
    for _ in range(MOST_WORDS + 1):
        if not (grid.at(k).isalpha() and grid.same_line(label.j - 1, k + 1)) or k in sheet.taken or k in sheet.labels:
            return None
        k += 1
        if grid.at(k) == ":" and grid.same_line(k, k + 1):
            return generic_extent(grid, k + 1) if any(c.isdigit() for c in grid.at(k + 1) + grid.at(k + 2)) and not is_date(sheet, k + 1) else None
        if grid.at(k - 1) in sheet.language.lists.any_of("announcers", "starts") and any(c.isdigit() for c in grid.at(k) + grid.at(k + 1)):
            found = generic_extent(grid, k)
            return found if found and len(found.value) >= SHORTEST_UNLABELLED and not is_date(sheet, k) and not is_year(found.value) else None
    return None


def _past_place(sheet: Sheet, k: int) -> Extent | None:
    """A number behind a strong label and the place that it stands on ("serial no. on flywheel housing 1012345")."""
    grid = sheet.grid
    for n in range(k + 2, min(k + 2 + MOST_WORDS + 1, grid.n)):
        if not grid.same_line(k, n) or n in sheet.taken or not (grid.toks[n].isalnum() or grid.toks[n] in {":", "-", "("}):
            return None
        if any(c.isdigit() for c in grid.toks[n]):
            found = generic_extent(grid, n)
            return found if found and sum(c.isdigit() for c in found.value) >= SHORTEST_UNLABELLED and not is_date(sheet, n) else None
    return None


def _belongs_behind(sheet: Sheet, found: Extent) -> bool:
    """Whether a number is that of the label behind it ("… and T 24019 is the engine number")."""
    grid, k = sheet.grid, found.j
    if grid.at(k) not in sheet.language.lists["number_is"]:
        return False
    k += 1 + (grid.at(k + 1) in sheet.language.lists["place_the"])
    word = sheet.starting("numpart", k)
    return word is not None and sheet.starting("numword", word.j) is not None


def _past_words(sheet: Sheet, k: int, label: Label, forms: Forms) -> Extent | None:
    """A number of a known form for the label's part behind a word or two ("gearbox lid QGE09-118")."""
    grid = sheet.grid
    for skipped in range(1, MOST_WORDS + 1):
        if grid.at(k) in sheet.language.lists["and"] or not (grid.at(k).isalpha() and grid.same_line(k, k + 1)):
            return None
        k += 1
        found = known_extent(grid, k, forms, label.parts[0])
        if found and found.scheme and found.scheme.part in label.parts and skipped:
            return found
    return None


def _starts_number(sheet: Sheet, k: int, forms: Forms) -> bool:
    """Whether a word that may join a label to its number is already part of the number."""
    tok = sheet.grid.toks[k]
    is_word = len(tok) >= SHORTEST_VERB and tok.isalpha()
    return not is_word and tok not in {":", "=", "-", "(", ".", "#"} and known_extent(sheet.grid, k, forms) is not None


def _goes_on(grid: Grid, mark: Extent) -> bool:
    """Whether figures follow a mark on its line, so that it is a longer one of another form ("12 BH 34")."""
    return grid.at(mark.j).isdigit() and len(grid.at(mark.j)) <= 3 and grid.same_line(mark.i, mark.j) and mark.value[0].isdigit()


def _number_at(sheet: Sheet, k: int, label: Label, forms: Forms, announced: bool) -> Extent | None:
    grid = sheet.grid
    if is_date(sheet, k):
        return None
    if (
        label.parts == ("registration",)
        and (mark := mark_extent(grid, k))
        and not _goes_on(grid, mark)
        and not (label.weak and is_year(mark.value[:4]))
    ):
        return mark
    found = known_extent(grid, k, forms, label.parts[0])
    if found and not found.value.isdigit() and not (label.weak and found.scheme is None and len(found.value) < SHORTEST_UNLABELLED):
        return found
    found = generic_extent(grid, k)
    if found is None or is_range(sheet, found):
        return None
    if label.weak and not announced:
        strong = any(c.isalpha() for c in found.value) and any(c.isdigit() for c in found.value) and len(found.value) >= SHORTEST_UNLABELLED
        strong = strong or (found.value.isdigit() and len(found.value) >= BARE_FIGURES.get(label.parts[0], 99) and not is_year(found.value))
        if label.parts == ("registration",):
            strong = strong and not is_year(found.value[:4])
        written = grid.text(found.i, found.j)
        if (
            not strong
            or (written.islower() and any(c.isalpha() for c in written) and not grid.has_no_capitals)
            or has_unit(grid.toks[found.i : found.j])
            or (label.parts[0] in {"engine", "gearbox", "component", "axle"} and len(found.value) < 6)
        ):
            return None
    written = grid.text(found.i, found.j)
    if label.weak and grid.is_shouting and any(tok.isalpha() and len(tok) > LONGEST_PREFIX for tok in grid.toks[found.i : found.j]):
        return None
    articled = grid.at(k - 1) in sheet.language.lists.any_of("place_the", "indefinite")
    if label.weak and articled and sum(c.isdigit() or c == "?" for c in found.value) < FEWEST_ARTICLED:
        return None
    if grid.toks[found.i] in {"a", "i"} and not grid.glued(found.i + 1) and (label.weak or is_year(grid.at(found.i + 1))):
        return None
    if grid.toks[found.i].isalpha() and len(grid.toks[found.i]) > 1 and grid.toks[found.i] in sheet.language.lists["not_a_model"]:
        return None
    if (
        written.islower()
        and not grid.has_no_capitals
        and any(t.isalpha() and t in sheet.language.lists["not_a_model"] for t in grid.toks[found.i : found.j])
    ):
        return None
    if (
        any(c.isalpha() for c in found.value) is False
        and label.parts[0] in {"vehicle", "frame", "engine"}
        and is_year(found.value)
        and len(grid.toks[found.i]) == 4
        and not announced
    ):
        return None
    if not any(c.isalpha() for c in found.value) and len(found.value.replace("?", "")) < SHORTEST_FIGURES and not announced:
        return None
    if label.parts == ("registration",) and found.value.endswith(("V5", "V5C")):
        return None
    if label.parts == ("registration",) and (is_year(found.value) or (found.value.isdigit() and len(found.value) < 3)):
        return None
    if label.weak and (is_year(found.value) or has_unit([*grid.toks[found.i : found.j], grid.at(found.j)])):
        return None
    if label.weak and label.parts == ("engine",) and found.value.isdigit() and (len(found.value) < FEWEST_OF_ENGINE or found.value in USUAL_SIZES):
        return None
    if grid.at(found.j) in {"cc", "miles", "km", "hp"} or grid.at(found.i - 1) in {"$", "£", "€"}:
        return None
    return found
