"""Numbers without a label: of a form that a named pack knows, read off a plate, or pointed at by a place."""

from collections.abc import Iterator, Sequence

from claims.grid import Grid
from claims.pack import Pack
from claims.reading.number_forms import MOST_PIECES, SHORTEST_UNLABELLED, Extent, Forms, ends_at_once, generic_extent, known_extent, mark_extent
from claims.reading.number_shapes import has_unit, is_date, is_range, is_telephone
from claims.reading.sheet import Draft, Sheet
from claims.reading.spelled_numbers import begins_to_spell, may_spell, spelled_extent
from claims.values import is_year
from extractors.document import TITLE

LABELLED = ("vehicle", "frame", "engine", "gearbox", "body", "plate", "registration", "hull")
PLATE_REACH = 12
MARK_REACH = 4
FEWEST_FIGURES = 3
PIECES_BEFORE = 3
FEWEST_ON_IT = 4
"""Characters of a number's last piece that is "stamped on it": fewer are a count."""
SHORT_WORD = 2
"""Letters of "no", which may be an answer ("floors no. 9500"): only a part whose number is usual goes with it."""
PLACE_WORDS = 6
"""Words between "on" and a number on a thing of its own."""
LONGEST_NUMBER = 20
LONGEST_CASTING = 6
_NUMBER_SIGNS = frozenset({"number", "no", "serial", "#"})
_STOPS_BEFORE = frozenset({".", ":"})
NUMBERED = ("frame", "engine", "gearbox", "axle", "body", "plate", "hull", "component")


def unlabelled(sheet: Sheet, forms: Forms, named: Sequence[Pack]) -> Iterator[Draft]:
    """Numbers without a label: of a form that a named pack knows or that stands alone, and whole 17-character ones."""
    grid = sheet.grid
    named_ids = {p.id for p in named}
    has_marks, has_models = _has_mark_words(sheet), _has_model_words(sheet)
    for i in _runs_to_figures(grid):
        if i in sheet.taken:
            continue
        if not grid.toks[i].isalnum() or (
            i and grid.glued(i) and (grid.toks[i - 1].isalnum() or grid.toks[i - 1] in {"@", "$", "£", "€", "#", "/", "=", "'"})
        ):
            continue
        mark = (
            mark_extent(grid, i)
            if has_marks
            and (grid.as_written(i).isupper() or (grid.toks[i].isdigit() and not sheet.starting("month", i + 1)))
            and _is_near_mark_word(sheet, i)
            else None
        )
        if mark and mark.j - mark.i > 1 and sheet.is_free(mark.i, mark.j) and not is_year(grid.at(i + 1)) and not _is_of_words(sheet, mark):
            sheet.take(mark.i, mark.j)
            yield Draft("number", "registration", mark.value, mark.i, mark.j)
            continue
        if sheet.starting("event", i) or (has_models and names_a_model(sheet, i)):
            continue
        found = known_extent(grid, i, forms, alone=True)
        if found and is_telephone(sheet, found):
            continue
        if not found or len(found.value) < SHORTEST_UNLABELLED or not sheet.is_free(found.i, found.j):
            continue
        if (model := sheet.starting("model", found.i)) and model.j >= found.j:
            continue
        if found.scheme is None:
            if len(grid.toks[i]) == 17:
                sheet.take(found.i, found.j)
                yield Draft("number", "vehicle", found.value, found.i, found.j)
            continue
        if not any(c.isalpha() for c in found.value) or not (found.scheme.stands_alone or (found.pack and found.pack.id in named_ids)):
            continue
        if grid.text(found.i, found.j).islower() and not grid.has_no_capitals:
            continue
        if sheet.role == TITLE and is_year(grid.toks[found.j - 1]) and not found.scheme.stands_alone:
            continue
        sheet.take(found.i, found.j)
        family = found.pack.id if found.pack and found.scheme.stands_alone else ""
        yield Draft("number", _part_beside(sheet, found), found.value, found.i, found.j, family=family)


def _has_model_words(sheet: Sheet) -> bool:
    """Whether a field holds a word for "model" at all: without one no token names a model so."""
    return not sheet.language.lists["model_words"].isdisjoint(sheet.grid.words)


def names_a_model(sheet: Sheet, i: int) -> bool:
    """Whether token i stands straight behind "model" or "model no.": a designation and no serial number."""
    grid, k = sheet.grid, i - 1
    while k > 0 and grid.same_line(k, i) and (grid.toks[k] in {".", ":", "#", "-"} or grid.toks[k] in sheet.language.lists["number_words"]):
        k -= 1
    return grid.at(k) in sheet.language.lists["model_words"] and grid.same_line(k, i)


def spelled(sheet: Sheet, forms: Forms, named: Sequence[Pack]) -> Iterator[Draft]:
    """Numbers spelled out in words without a label, of a form that a named pack knows."""
    grid, named_ids = sheet.grid, {p.id for p in named}
    if not named_ids or not may_spell(grid):
        return
    for i in range(grid.n):
        if i in sheet.taken or not begins_to_spell(grid.toks[i]) or (found := spelled_extent(grid, i)) is None or not sheet.is_free(found.i, found.j):
            continue
        fits = [(p, s) for p, s in forms.fitting(found.value) if p.id in named_ids and any(c.isalpha() for c in found.value)]
        if fits:
            sheet.take(found.i, found.j)
            yield Draft("number", fits[0][1].part, found.value, found.i, found.j)


def pointed_at(sheet: Sheet, forms: Forms, named: Sequence[Pack]) -> Iterator[Draft]:
    """Numbers that a place points at ("G 7712 on the engine"), or that a bare "number" announces, of the part named last.

    A short code of a form that a named pack knows for castings of that part is a casting ("17H9 on the rear axle").
    """
    grid, lists = sheet.grid, sheet.language.lists
    places, announced = _before_places(sheet), _behind_announcers(sheet)
    for i in _up_to_figures(sheet, 1) if places or announced else ():
        if i in sheet.taken or (i not in announced and places.isdisjoint(range(i + 1, i + MOST_PIECES + 1))) or not _may_start(sheet, i):
            continue
        if places.isdisjoint(range(i + 1, i + MOST_PIECES + 1)) and not _announced_before(sheet, i):
            continue
        found = known_extent(grid, i, forms) or generic_extent(grid, i)
        if (
            not found
            or not sheet.is_free(found.i, found.j)
            or sum(c.isdigit() for c in found.value) < FEWEST_FIGURES
            or len(found.value) > LONGEST_NUMBER
        ):
            continue
        if (
            has_unit(grid.toks[found.i : found.j])
            or has_unit([*grid.toks[found.i : found.j], grid.at(found.j)])
            or is_date(sheet, i)
            or grid.at(found.j) in sheet.language.lists["behind_figure"]
        ):
            continue
        if (
            is_year(found.value)
            or (is_year(grid.toks[found.i]) and found.j - found.i > 1)
            or is_range(sheet, found)
            or (grid.at(i - 1) in lists["before_figure"] and grid.at(i - 1) not in _NUMBER_SIGNS and grid.at(i - 1) not in lists["bare_number"])
        ):
            continue
        place = _place_behind(sheet, found.j)
        part = place or _announced_before(sheet, i)
        if part:
            sheet.take(found.i, found.j)
            yield Draft("casting" if place and _is_casting(found, part, named) else "number", part, found.value, found.i, found.j)


def _runs_to_figures(grid: Grid) -> list[int]:
    """The tokens that hold a figure and up to three before each, as far as they could be pieces of one number, in order."""
    out: list[int] = []
    following = 0
    for i in grid.figured:
        first = i
        while first > max(following, i - PIECES_BEFORE) and not ends_at_once(grid, first - 1):
            first -= 1
        out += range(first, i + 1)
        following = i + 1
    return out


def _up_to_figures(sheet: Sheet, before: int) -> list[int]:
    """The tokens that hold a figure and so many before each, in order."""
    out: list[int] = []
    following = 0
    for i in sheet.grid.figured:
        out += range(max(following, i - before), i + 1)
        following = i + 1
    return out


def _before_places(sheet: Sheet) -> set[int]:
    """The tokens from which words like "is stamped" lead to "on the …"."""
    grid, lists = sheet.grid, sheet.language.lists
    on, stamped = lists["place_on"], lists["place_stamped"]
    out: set[int] = set()
    if on.isdisjoint(grid.words):
        return out
    for k in [k for k, tok in enumerate(grid.toks) if tok in on]:
        first = k
        while first > 0 and grid.toks[first - 1] in stamped:
            first -= 1
        out.update(range(first, k + 1))
    return out


def _behind_announcers(sheet: Sheet) -> set[int]:
    """The tokens to which a bare word for "number" leads, straight or over words like "is stamped on"."""
    grid, lists = sheet.grid, sheet.language.lists
    out: set[int] = set()
    for word in sheet.found("numword"):
        k = word.j
        out.add(k)
        while grid.at(k) in _STOPS_BEFORE or grid.at(k) in lists["place_stamped"] or grid.at(k) in lists["place_on"]:
            k += 1
            out.add(k)
    return out


def _is_casting(found: Extent, part: str, named: Sequence[Pack]) -> bool:
    """Whether a short code of figures and a letter has a form of castings of that part, in a pack that is named."""
    if found.scheme is not None or len(found.value) > LONGEST_CASTING or not any(c.isalpha() for c in found.value):
        return False
    forms = ((p, s) for p in named for s in p.schemes.values() if s.earliest and part in (s.part, *s.also_parts))
    return any(p.patterns[s.scheme].search(found.value) for p, s in forms)


def _may_start(sheet: Sheet, i: int) -> bool:
    grid = sheet.grid
    tok = grid.toks[i]
    if not tok.isalnum() or (i and grid.glued(i) and grid.toks[i - 1] not in {"(", ":", '"'}):
        return False
    return any(c.isdigit() for c in tok) or (
        tok.isalpha() and len(tok) <= 5 and grid.as_written(i).isupper() and any(c.isdigit() for c in grid.at(i + 1))
    )


def _place_behind(sheet: Sheet, j: int) -> str:
    """The part of "… on the engine", "… is stamped on the frame" behind a number; empty for none."""
    grid = sheet.grid
    k = j
    while grid.at(k) in sheet.language.lists["place_stamped"] and grid.same_line(j - 1, k):
        k += 1
    if grid.at(k) not in sheet.language.lists["place_on"] or not grid.same_line(j - 1, k):
        return ""
    k += 1
    while grid.at(k) in sheet.language.lists["place_the"]:
        k += 1
    if grid.at(k) in sheet.language.lists["anaphor_it"] and len(grid.at(j - 1)) >= FEWEST_ON_IT and (part := _named_last(sheet, j)):
        return part
    hit = (
        sheet.starting("numpart", k)
        or sheet.starting("part", k)
        or (sheet.starting("part", k + 1) if grid.at(k) in {"front", "rear", "left", "right", "main"} else None)
    )
    rests = hit is not None and grid.toks[hit.j - 1] in sheet.language.lists["rests"]
    return hit.entry.value if hit and not rests and hit.entry.value in NUMBERED else ""


def _named_last(sheet: Sheet, i: int) -> str:
    """The part that "it" stands for at token i: the one named last before it in its sentence."""
    named = [h for c in ("numpart", "part") for h in sheet.beside(c, i - 1) if h.j < i and h.entry.value in NUMBERED]
    return max(named, key=lambda h: h.j).entry.value if named else ""


def _announced_before(sheet: Sheet, i: int) -> str:
    """The part whose number a bare "number" before token i announces: the part named last in the sentence."""
    grid = sheet.grid
    k = i
    lists = sheet.language.lists
    while not sheet.ending("numword", k) and (
        grid.at(k - 1) in _STOPS_BEFORE or grid.at(k - 1) in lists["place_stamped"] or grid.at(k - 1) in lists["place_on"]
    ):
        k -= 1
    word = sheet.ending("numword", k)
    if word is None or word.i in sheet.labels or grid.toks[word.i] in {"#", "stamp", "reads", "sn"} or not grid.same_line(word.i, i):
        return ""
    plates = [h.j for c in ("label", "numpart") for h in sheet.beside(c, i) if h.entry.value == "plate" and h.j <= word.i]
    if plates and sheet.language.lists["plate_says"] & set(grid.toks[max(plates) : word.i]):
        return "plate"
    short = len(grid.toks[word.i]) <= SHORT_WORD
    parts = () if short else sheet.beside("part", i)
    named = [h for h in (*sheet.beside("numpart", i), *parts) if h.j <= word.i and h.entry.value in NUMBERED]
    return max(named, key=lambda h: h.j).entry.value if named else ""


def _is_of_words(sheet: Sheet, mark: Extent) -> bool:
    """Whether what looks like a mark is a figure and a common word ("CONTRACT 31 SO 1931")."""
    toks = sheet.grid.toks[mark.i : mark.j]
    return any(t.isalpha() and t in sheet.language.lists["not_a_model"] for t in toks) and sheet.grid.is_shouting


def _has_mark_words(sheet: Sheet) -> bool:
    """Whether a field holds any word before which a mark may be told."""
    words = sheet.grid.words
    return not sheet.language.lists["mark_words"].isdisjoint(words) or ("as" in words and bool(sheet.found("event")))


def _is_near_mark_word(sheet: Sheet, i: int) -> bool:
    """Whether a word of marks and plates stands shortly before token i, with no data plate meant."""
    grid = sheet.grid
    if grid.at(i - 1) == "as" and any(h.entry.value == "registered" and h.j <= i for h in sheet.beside("event", i)):
        return True
    near = [grid.toks[k] for k in range(max(0, i - MARK_REACH), i) if grid.same_line(k, i)]
    return bool(sheet.language.lists["mark_words"] & set(near)) and not {"data", "maker", "chassis", "frame", "engine"} & set(near)


def _is_on_another_thing(sheet: Sheet, i: int) -> bool:
    """Whether "on a bit of tin:" stands before a number: a thing that is none of the vehicle's parts."""
    grid = sheet.grid
    if grid.at(i - 1) not in {":", ","}:
        return False
    for k in range(i - 2, max(i - 2 - PLACE_WORDS, -1), -1):
        if not grid.same_line(k, i) or not grid.toks[k].isalpha():
            return False
        if grid.toks[k] in sheet.language.lists["place_on"]:
            named = [h for c in ("numpart", "label") for h in sheet.beside(c, k) if k <= h.i < i]
            return grid.at(k + 1) in sheet.language.lists["indefinite"] and not named
    return False


def _is_read_off_a_plate(sheet: Sheet, before: int, i: int) -> bool:
    """Whether a plate stands straight before a number, or is what "it reads" speaks of."""
    grid = sheet.grid
    ends = [h.j for category in ("label", "numpart") for h in sheet.beside(category, i) if h.entry.value == "plate" and h.j <= i]
    if not ends:
        return False
    between = grid.toks[max(ends) : i]
    return max(ends) == before + 1 or (len(between) <= PLATE_REACH and bool(sheet.language.lists["plate_says"] & set(between)))


def _part_beside(sheet: Sheet, found: Extent) -> str:
    """The part that stands beside an unlabelled number ("41207 is the frame number"), else its form's own."""
    grid = sheet.grid
    if grid.field.is_attribute and grid.field.label.strip().lower() in LABELLED:
        return grid.field.label.strip().lower()
    if place := _place_behind(sheet, found.j):
        return place
    if _is_on_another_thing(sheet, found.i):
        return "unknown"
    k = found.j
    while grid.at(k) in {"(", "is", "the", "on", "as", "for", "being", "-"} and grid.same_line(found.i, k):
        k += 1
    hit = sheet.starting("numpart", k) if k > found.j and grid.same_line(found.i, k) else None
    if hit:
        return hit.entry.value
    before = found.i - 1
    while (
        grid.at(before) in {"-", ":", "is", "(", ",", "reads", "says", "number", "stamped", "shows", "with"}
        and before >= 0
        and grid.same_line(before, found.i)
    ):
        before -= 1
    if _is_read_off_a_plate(sheet, before, found.i):
        return "plate"
    if announced := _announced_before(sheet, found.i):
        return announced
    if found.scheme is None or set(LABELLED) & set(found.scheme.also_parts) - {"plate"}:
        return "vehicle"
    return found.scheme.part
