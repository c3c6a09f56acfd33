"""Identity numbers: behind a label (whose part they have), quoted from a plate, or of a form that a named pack knows.

The label decides the part, not the form of the number. Words or fillers in a number's place are a number `null`.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from claims.claim import OTHER_ITEM
from claims.lexicon import Hit
from claims.pack import Pack
from claims.reading.number_forms import Extent, Forms, generic_extent, known_extent, mark_extent
from claims.reading.sheet import Draft, Sheet
from claims.values import day_of, is_year, two_figure_year
from extractors.document import TITLE

LONGEST_GAP = 5
LABELLED = ("vehicle", "frame", "engine", "gearbox", "body", "plate", "registration", "hull")
SHORTEST_UNLABELLED = 5
SHORTEST_FIGURES = 3
MOST_WORDS = 3
PLATE_REACH = 8
MARK_REACH = 4
FEWEST_FIGURES = 3
BARE_FIGURES = {"frame": 4, "vehicle": 4, "hull": 4, "engine": 6, "plate": 4, "unknown": 4}
"""Fewest figures of a bare number behind a part's word alone ("chassis 8207")."""
LONGEST_NUMBER = 20
NUMBERED = ("frame", "engine", "gearbox", "axle", "body", "plate", "hull", "component")


class Label(NamedTuple):
    """A label at tokens [i, j) and the parts whose number it announces; no parts: a number of something else."""

    i: int
    j: int
    parts: tuple[str, ...]
    weak: bool


def read(sheet: Sheet, forms: Forms, named: Sequence[Pack]) -> Iterator[Draft]:
    """Drafts of every number of a field; `forms` are those to try, `named` the packs whose makers or models it names."""
    name = sheet.grid.field.label.strip().lower()
    parts = sheet.parts or ((name,) if sheet.grid.field.is_attribute and name in LABELLED and _is_number_alone(sheet) else ())
    if parts and sheet.grid.n:
        for part in parts:
            yield from _entry(sheet, part, forms)
        return
    labels = _labels(sheet)
    sheet.labels.update(k for label in labels for k in range(label.i, label.j))
    yield from _denied(sheet, labels)
    for label in labels:
        if any(k in sheet.taken for k in range(label.i, label.j)):
            continue
        yield from _lost(sheet, label) or _behind(sheet, label, forms)
    yield from _unlabelled(sheet, forms, named)
    yield from _pointed_at(sheet, forms)


def _entry(sheet: Sheet, part: str, forms: Forms) -> Iterator[Draft]:
    """A form's entry for a number: the number, or null for a filler or words."""
    grid = sheet.grid
    whole = grid.shadow.strip().lower()
    if whole in sheet.language.lists["fillers"] or sheet.starting("none", 0) or len(set(whole)) == 1:
        yield Draft("number", part, None, 0, grid.n)
        return
    first = next((i for i in range(grid.n) if any(c.isdigit() for c in grid.toks[i]) or (grid.toks[i].isalnum() and len(grid.toks[i]) <= 4)), 0)
    found = (mark_extent(grid, first) if part == "registration" else None) or known_extent(grid, first, forms, part) or generic_extent(grid, first)
    if found and any(c.isdigit() for c in found.value):
        sheet.take(found.i, found.j)
        family = found.pack.id if found.pack and found.scheme and found.scheme.stands_alone else ""
        yield Draft("number", part, found.value, found.i, found.j, family=family)
    elif grid.n <= 12 and not any(c.isdigit() for c in whole):
        yield Draft("number", part, None, 0, grid.n)


def announced_parts(sheet: Sheet) -> tuple[str, ...]:
    """The parts whose number a text announces, where it is nothing but a label ("Frame/engine no."); else none."""
    labels = _labels(sheet)
    rest = [t for i, t in enumerate(sheet.grid.toks) if not any(la.i <= i < la.j for la in labels) and t.isalnum()]
    return (
        tuple(p for la in labels for p in la.parts)
        if labels and not rest and not any(la.weak and la.parts != ("registration",) for la in labels)
        else ()
    )


def _is_number_alone(sheet: Sheet) -> bool:
    """Whether a form's entry ("Engine: QE 164**") is a number and nothing else."""
    found = generic_extent(sheet.grid, 0)
    return found is not None and found.j == sheet.grid.n and len(found.value) >= SHORTEST_UNLABELLED and not _has_unit(sheet.grid.toks)


def _labels(sheet: Sheet) -> list[Label]:
    """Every label of the field: one of its own, or a part's word with a word for "number" beside it."""
    grid = sheet.grid
    out: list[Label] = []
    own = sheet.found("label")
    for hit in own:
        j = hit.j
        while (word := sheet.starting("numword", j)) and grid.same_line(hit.i, j):
            j = word.j
        text = grid.text(hit.i, hit.j).lower()
        out.append(Label(hit.i, j, (hit.entry.value,) if hit.entry.value else (), text in sheet.language.lists["weak_labels"] and j == hit.j))
    for hit in sheet.found("numpart"):
        if sheet.covering("label", hit.i):
            continue
        label = _composed(sheet, hit)
        if label:
            out.append(label)
    out.sort(key=lambda label: (label.i, -label.j))
    return _without_inner(out)


def _lost(sheet: Sheet, label: Label) -> list[Draft]:
    """A number that is gone or cannot be read, said straight behind its label ("serial plate missing")."""
    grid = sheet.grid
    plate = label.parts == ("plate",)
    hit = sheet.starting("lost", label.j)
    if hit is None or not label.parts or (label.weak and not plate) or not grid.same_line(label.i, hit.i) or any(c.isdigit() for c in grid.at(hit.j)):
        return []
    sheet.take(label.i, hit.j)
    return [Draft("number", part, None, label.i, hit.j) for part in label.parts]


def _pointed_at(sheet: Sheet, forms: Forms) -> Iterator[Draft]:
    """Numbers that a place points at ("G 7712 on the engine"), or that a bare "number" announces, of the part named last."""
    grid = sheet.grid
    for i in range(grid.n):
        if i in sheet.taken or not _may_start(sheet, i):
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
            _has_unit([*grid.toks[found.i : found.j], grid.at(found.j)])
            or _is_date(sheet, i)
            or grid.at(found.j) in sheet.language.lists["behind_figure"]
        ):
            continue
        if (
            is_year(found.value)
            or _is_range(sheet, found)
            or grid.at(i - 1) in sheet.language.lists["before_figure"] - {"number", "no", "serial", "#"}
        ):
            continue
        part = _place_behind(sheet, found.j) or _announced_before(sheet, i)
        if part:
            sheet.take(found.i, found.j)
            yield Draft("number", part, found.value, found.i, found.j)


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
    while grid.at(k) in {"is", "stamped", "marked", "cast"} and grid.same_line(j - 1, k):
        k += 1
    if grid.at(k) not in {"on", "upon"} or not grid.same_line(j - 1, k):
        return ""
    k += 1
    while grid.at(k) in {"the", "its", "my", "both", "each"}:
        k += 1
    hit = (
        sheet.starting("numpart", k)
        or sheet.starting("part", k)
        or (sheet.starting("part", k + 1) if grid.at(k) in {"front", "rear", "left", "right", "main"} else None)
    )
    return hit.entry.value if hit and hit.entry.value in NUMBERED else ""


def _announced_before(sheet: Sheet, i: int) -> str:
    """The part whose number a bare "number" before token i announces: the part named last in the sentence."""
    grid = sheet.grid
    word = sheet.ending("numword", i - (grid.at(i - 1) in {".", ":"}))
    if word is None or word.i in sheet.labels or grid.toks[word.i] in {"#", "stamp", "reads", "sn"} or not grid.same_line(word.i, i):
        return ""
    named = [h for h in (*sheet.beside("numpart", i), *sheet.beside("part", i)) if h.j <= word.i and h.entry.value in NUMBERED]
    return max(named, key=lambda h: h.j).entry.value if named else ""


def _composed(sheet: Sheet, hit: Hit) -> Label | None:
    grid = sheet.grid
    parts, j = [hit.entry.value], hit.j
    while grid.at(j) in {"and", "&", "/", "+", ","} and (also := sheet.starting("numpart", j + 1)):
        parts.append(also.entry.value)
        j = also.j
    if grid.at(j) == "'" and grid.at(j + 1) == "s":
        j += 2
    if grid.at(j) == "," and sheet.starting("numword", j + 1) and grid.at(j + 2) in {".", ":"}:
        j += 1
    if word := sheet.starting("numword", j):
        while word and grid.same_line(hit.i, word.i):
            j = word.j
            word = sheet.starting("numword", j)
        j += grid.at(j) == "." and not (grid.at(j + 1) == "" or (grid.at(j + 1)[0].isalpha() and len(grid.at(j + 1)) > 5))
        return Label(hit.i, j, tuple(parts), False)
    before = hit.i - 1
    while grid.at(before) in {"the", "of", "on", "for"}:
        before -= 1
    if (
        before < hit.i - 1
        and (word := sheet.ending("numword", before + 1))
        and word.i >= 0
        and grid.at(word.i - 1) not in {"part", "casting", "model"}
    ):
        return Label(word.i, hit.j, tuple(parts), False)
    return Label(hit.i, j, tuple(parts), True)


def _without_inner(labels: list[Label]) -> list[Label]:
    out: list[Label] = []
    for label in labels:
        if out and label.i < out[-1].j:
            continue
        out.append(label)
    return out


def _behind(sheet: Sheet, label: Label, forms: Forms) -> Iterator[Draft]:
    """The number (or the words that there is none) behind a label."""
    grid = sheet.grid
    if any(0 <= label.i - h.j <= LONGEST_GAP and grid.same_line(h.i, label.i) for h in sheet.beside("cast", label.i)):
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
        announced = announced or grid.toks[k] in {":", "=", "is", "reads", "stamped", "#", "says", "shows"}
        k += 1
    if k >= grid.n or k in sheet.taken or not label.parts:
        if not label.parts and k < grid.n and any(c.isdigit() for c in grid.toks[k]) and (found := generic_extent(grid, k)):
            sheet.take(found.i, found.j)
            sheet.aside.update(range(found.i, found.j))
        return
    none = sheet.starting("none", k)
    if none and (announced or not label.weak) and grid.same_line(label.j - 1, none.i):
        sheet.take(none.i, none.j)
        yield from (Draft("number", part, None, none.i, none.j) for part in label.parts)
        return
    filler = _filler(sheet, k)
    if filler and (announced or not label.weak):
        sheet.take(k, filler)
        yield from (Draft("number", part, None, k, filler) for part in label.parts)
        return
    found = _number_at(sheet, k, label, forms, announced) or _past_words(sheet, k, label, forms)
    if found:
        sheet.take(found.i, found.j)
        parts = label.parts
        if parts == ("unknown",) and found.scheme:
            parts = (found.scheme.part,)
        if span := _range_behind(sheet, label, found):
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
        yield from (Draft("number", part, found.value, found.i, found.j, family=family) for part in parts)


def _is_range(sheet: Sheet, found: Extent) -> bool:
    """Whether a number is two figures with a dash, the second one higher: a range and no number."""
    toks = sheet.grid.toks[found.i : found.j]
    return (
        len(toks) == 3 and toks[1] == "-" and toks[0].isdigit() and toks[2].isdigit() and len(toks[0]) == len(toks[2]) and int(toks[2]) > int(toks[0])
    )


def _range_behind(sheet: Sheet, label: Label, found: Extent) -> Extent | None:
    """The second number of a production range ("numbers 316 to 20894"), or None."""
    grid = sheet.grid
    joint = grid.at(found.j)
    if not found.value.isdigit() or joint not in {"to", "-", "and"} or (joint == "and" and grid.at(found.i - 1) != "between"):
        return None
    second = generic_extent(grid, found.j + 1)
    if second and second.value.isdigit() and int(second.value) > int(found.value):
        return second
    return None


def _past_words(sheet: Sheet, k: int, label: Label, forms: Forms) -> Extent | None:
    """A number of a known form for the label's part behind a word or two ("gearbox lid QGE09-118")."""
    grid = sheet.grid
    for skipped in range(1, MOST_WORDS + 1):
        if not (grid.at(k).isalpha() and grid.same_line(k, k + 1)):
            return None
        k += 1
        found = known_extent(grid, k, forms, label.parts[0])
        if found and found.scheme and found.scheme.part in label.parts and skipped:
            return found
    return None


def _starts_number(sheet: Sheet, k: int, forms: Forms) -> bool:
    """Whether a word that may join a label to its number is already part of the number."""
    return sheet.grid.toks[k] not in {":", "=", "-", "(", ".", "#"} and known_extent(sheet.grid, k, forms) is not None


def _filler(sheet: Sheet, k: int) -> int:
    """The end of a filler that stands alone at token k ("xxxx", "123", "?"), or 0."""
    grid = sheet.grid
    end = k + 1
    while end < grid.n and grid.glued(end) and grid.toks[end] not in {".", ",", ")", "|", ";"}:
        end += 1
    text = grid.text(k, end).lower()
    alone = end >= grid.n or not grid.same_line(k, end) or not any(c.isdigit() for c in grid.toks[end])
    return end if alone and (text in sheet.language.lists["fillers"] or (len(text) > 3 and len(set(text)) == 1)) else 0


def _number_at(sheet: Sheet, k: int, label: Label, forms: Forms, announced: bool) -> Extent | None:
    grid = sheet.grid
    if _is_date(sheet, k):
        return None
    if label.parts == ("registration",) and (mark := mark_extent(grid, k)) and not (label.weak and is_year(mark.value[:4])):
        return mark
    found = known_extent(grid, k, forms, label.parts[0])
    if found and not found.value.isdigit() and not (label.weak and found.scheme is None and len(found.value) < SHORTEST_UNLABELLED):
        return found
    found = generic_extent(grid, k)
    if found is None or _is_range(sheet, found):
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
            or _has_unit(grid.toks[found.i : found.j])
            or (label.parts[0] in {"engine", "gearbox", "component", "body", "axle"} and len(found.value) < 6)
        ):
            return None
    written = grid.text(found.i, found.j)
    if grid.toks[found.i].isalpha() and grid.toks[found.i] in sheet.language.lists["not_a_model"]:
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
    if label.weak and (is_year(found.value) or _has_unit([*grid.toks[found.i : found.j], grid.at(found.j)])):
        return None
    if grid.at(found.j) in {"cc", "miles", "km", "hp"} or grid.at(found.i - 1) in {"$", "£", "€"}:
        return None
    return found


def _has_unit(tokens: Sequence[str]) -> bool:
    return any(
        t
        in {
            "cc",
            "hp",
            "bhp",
            "ci",
            "cid",
            "cui",
            "litre",
            "liter",
            "l",
            "speed",
            "cylinder",
            "cyl",
            "mm",
            "v",
            "volt",
            "x",
            "kw",
            "ps",
            "miles",
            "mph",
        }
        or (t[:-2].isdigit() and t[-2:] in {"cc", "hp"})
        for t in tokens
    )


def _is_date(sheet: Sheet, k: int) -> bool:
    """Whether a date stands at token k ("26. 2. 1948")."""
    grid = sheet.grid
    sep = grid.at(k + 1)
    if day_of(grid.at(k)) and sheet.starting("month", k + 1):
        return True
    return bool(
        day_of(grid.at(k))
        and sep in {".", "/"}
        and day_of(grid.at(k + 2))
        and grid.at(k + 3) == sep
        and (is_year(grid.at(k + 4)) or (sep == "/" and two_figure_year(grid.at(k + 4))))
    )


def _denied(sheet: Sheet, labels: Sequence[Label]) -> Iterator[Draft]:
    """Words that deny a number: "no frame number", "missing its engine number"."""
    grid = sheet.grid
    by_start = {label.i: label for label in labels}
    for hit in sheet.found("no"):
        k = hit.j
        while grid.at(k) in {"visible", "readable", "legible", "original", "the", "a", "an", "any", "stamped", "factory", "its", "of"}:
            k += 1
        label = by_start.get(k)
        if label is None or label.weak or not label.parts or label.parts == ("registration",) or hit.i in sheet.taken:
            continue
        behind = grid.at(label.j)
        if any(c.isdigit() for c in behind) or behind in {":", "="} or (behind in {"is", "are"} and grid.at(label.j + 1)[:1].isdigit()):
            continue
        sheet.take(hit.i, label.j)
        yield from (Draft("number", part, None, hit.i, label.j) for part in label.parts)


def _unlabelled(sheet: Sheet, forms: Forms, named: Sequence[Pack]) -> Iterator[Draft]:
    """Numbers without a label: of a form that a named pack knows or that stands alone, and whole 17-character ones."""
    grid = sheet.grid
    named_ids = {p.id for p in named}
    for i in range(grid.n):
        if i in sheet.taken or not (
            any(c.isdigit() for c in grid.toks[i]) or any(c.isdigit() for c in grid.at(i + 1)) or any(c.isdigit() for c in grid.at(i + 2))
        ):
            continue
        if not grid.toks[i].isalnum() or (
            i and grid.glued(i) and (grid.toks[i - 1].isalnum() or grid.toks[i - 1] in {"@", "$", "£", "€", "#", "/", "=", "'"})
        ):
            continue
        mark = mark_extent(grid, i) if grid.text(i, i + 1).isupper() else None
        if mark and mark.j - mark.i > 1 and sheet.is_free(mark.i, mark.j) and _is_near_mark_word(sheet, i):
            sheet.take(mark.i, mark.j)
            yield Draft("number", "registration", mark.value, mark.i, mark.j)
            continue
        found = known_extent(grid, i, forms)
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


def _is_near_mark_word(sheet: Sheet, i: int) -> bool:
    """Whether a word of marks and plates stands shortly before token i, with no data plate meant."""
    grid = sheet.grid
    near = [grid.toks[k] for k in range(max(0, i - MARK_REACH), i) if grid.same_line(k, i)]
    return bool(sheet.language.lists["mark_words"] & set(near)) and not {"data", "maker", "chassis", "frame", "engine"} & set(near)


def _is_read_off_a_plate(sheet: Sheet, before: int, i: int) -> bool:
    """Whether a plate stands straight before a number, or is what "it reads" speaks of."""
    grid = sheet.grid
    ends = [h.j for category in ("label", "numpart") for h in sheet.beside(category, i) if h.entry.value == "plate" and h.j <= i]
    if not ends:
        return False
    between = grid.toks[max(ends) : i]
    return max(ends) == before + 1 or (len(between) <= PLATE_REACH and bool({"reads", "says", "shows", "bears", "carries", "stamped"} & set(between)))


def _part_beside(sheet: Sheet, found: Extent) -> str:
    """The part that stands beside an unlabelled number ("41207 is the frame number"), else its form's own."""
    grid = sheet.grid
    if grid.field.is_attribute and grid.field.label.strip().lower() in LABELLED:
        return grid.field.label.strip().lower()
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
    if found.scheme is None or set(LABELLED) & set(found.scheme.also_parts) - {"plate"}:
        return "vehicle"
    return found.scheme.part
