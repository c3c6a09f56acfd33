"""Words by which a part has no number, without the label that a number has: "no number on the chassis", "engine tag missing"."""

from collections.abc import Iterator

from claims.lexicon import Hit
from claims.reading.sheet import Draft, Sheet

OF_A_PART = frozenset({"frame", "engine", "gearbox", "axle", "body", "hull", "plate"})


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of numbers that are not there: a bare word for "number" denied or gone, a tag or plate missing, "not yet stamped"."""
    yield from _denied(sheet)
    yield from _gone(sheet)
    yield from _withheld(sheet)
    yield from _tags(sheet)
    yield from _unstamped(sheet)


def _denied(sheet: Sheet) -> Iterator[Draft]:
    """ "No number" with its part behind ("on the data plate") or before ("Axle: no number")."""
    grid = sheet.grid
    for hit in sheet.found("no"):
        k = hit.j
        while grid.at(k) in sheet.language.lists["denied_fillers"]:
            k += 1
        word = sheet.starting("numword", k)
        if word is None or grid.at(word.i) not in sheet.language.lists["absent_words"] or not sheet.is_free(hit.i, word.j) or word.i in sheet.labels:
            continue
        end = word.j
        while grid.at(end) in sheet.language.lists["absent_behind"] and grid.same_line(word.i, end):
            end += 1
        part = _part_behind(sheet, end)
        if part:
            yield from _absent(sheet, part.entry.value, hit.i, part.j)
        elif before := _part_before(sheet, hit.i):
            yield from _absent(sheet, before, hit.i, end)


def _gone(sheet: Sheet) -> Iterator[Draft]:
    """A bare word for "number" with "is gone" behind it, of the part named last ("the gearbox is right; its number is gone")."""
    grid = sheet.grid
    for hit in sheet.found("lost"):
        word = sheet.ending("numword", hit.i - (grid.at(hit.i - 1) in {".", ":"}))
        if word is None or word.i in sheet.labels or not sheet.is_free(word.i, hit.j) or any(c.isdigit() for c in grid.at(hit.j)):
            continue
        if grid.at(word.i) in sheet.language.lists.any_of("absent_words", "bare_number") and (part := _part_before(sheet, word.i)):
            yield from _absent(sheet, part, word.i, hit.j)


def _withheld(sheet: Sheet) -> Iterator[Draft]:
    """A bare "number" that is kept back ("number on request", "number available if you come"), of the part named last, else of the whole."""
    grid = sheet.grid
    for hit in sheet.found("none"):
        word = sheet.ending("numword", hit.i)
        if word is None or word.i in sheet.labels or not sheet.is_free(word.i, hit.j) or grid.at(word.i) not in sheet.language.lists["absent_words"]:
            continue
        if grid.text(hit.i, hit.j).lower() in sheet.language.lists["withheld"]:
            yield from _absent(sheet, _part_before(sheet, word.i) or "vehicle", word.i, hit.j)


def _tags(sheet: Sheet) -> Iterator[Draft]:
    """A tag or plate that carries a number and is missing: of the part named straight before it, else the maker's plate."""
    grid = sheet.grid
    for hit in sheet.found("tag"):
        start = hit.i
        behind = sheet.starting("lost", hit.j)
        denied = next(
            (h for h in sheet.beside("no", hit.i) if h.j <= hit.i and set(grid.toks[h.j : hit.i]) <= sheet.language.lists["denied_fillers"]), None
        )
        part = sheet.ending("numpart", hit.i) if not hit.entry.value else None
        if part and part.entry.value == "body":
            continue
        start = part.i if part else start
        if behind and grid.same_line(hit.i, behind.i) and sheet.is_free(start, behind.j):
            part = part or _part_behind(sheet, behind.j)
            yield from _absent(sheet, _of_tag(hit, part), start, behind.j)
        elif denied and sheet.is_free(denied.i, hit.j) and (part or grid.at(hit.j) not in sheet.language.lists["place_on"]):
            yield from _absent(sheet, _of_tag(hit, part), denied.i, hit.j)


def _unstamped(sheet: Sheet) -> Iterator[Draft]:
    """ "Not yet stamped", said of the part named last ("replacement chassis, not yet stamped")."""
    for hit in sheet.found("unstamped"):
        if sheet.is_free(hit.i, hit.j) and (part := _part_before(sheet, hit.i)) and part != "plate":
            yield from _absent(sheet, part, hit.i, hit.j)


def _of_tag(hit: Hit, part: Hit | None) -> str:
    return part.entry.value if part and part.entry.value in OF_A_PART else hit.entry.value or "plate"


def _absent(sheet: Sheet, part: str, i: int, j: int) -> Iterator[Draft]:
    sheet.take(i, j)
    yield Draft("number", part, None, i, j)


def _part_behind(sheet: Sheet, k: int) -> Hit | None:
    """The part of "on the data plate" at token k, or None."""
    grid = sheet.grid
    if grid.at(k) not in sheet.language.lists.any_of("place_on", "place_off"):
        return None
    k += 1
    while grid.at(k) in sheet.language.lists["place_the"]:
        k += 1
    hit = sheet.starting("numpart", k) or sheet.starting("part", k) or sheet.starting("label", k)
    return hit if hit and hit.entry.value in OF_A_PART else None


def _part_before(sheet: Sheet, i: int) -> str:
    """The part named last before token i in its sentence; empty for none."""
    named = [h for category in ("numpart", "part", "label") for h in sheet.beside(category, i) if h.j <= i and h.entry.value in OF_A_PART]
    return max(named, key=lambda h: h.j).entry.value if named else ""
