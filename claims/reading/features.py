"""Features that a named pack knows: in the very words it gives for their variants, or with the same words in another order.

Words that belong to a feature may stand apart from what tells its variant: "Plate: brass, on two rivets". Then the part
or the feature's word named last before must be its own, and the span holds the telling words alone.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from claims.claim import DENIED, HEDGED, STATED
from claims.feature_forms import Form, Forms, forms, stems_of
from claims.pack import Pack
from claims.reading.sheet import Draft, Sheet

ROOM = 3
"""Further words that may stand between those of a feature."""
TOPIC_WORDS = 25
_SEPARATORS = frozenset({":", "|"})


Stems = Sequence[frozenset[str]]
"""The stems of each token of a field."""


class _Found(NamedTuple):
    """A form found at tokens [i, j): the tokens of its stems, and whether all of its nouns are among them."""

    i: int
    j: int
    form: Form
    telling: tuple[int, ...]
    nouns: tuple[int, ...]
    whole: bool


def read(sheet: Sheet, packs: Sequence[Pack], named: frozenset[str]) -> Iterator[Draft]:
    """Drafts of every feature of the packs in `named`."""
    taken: set[int] = set()
    for hit in sheet.found("feature"):
        if hit.entry.family in named:
            taken.update(range(hit.i, hit.j))
            yield Draft("feature", hit.entry.part, hit.entry.value, hit.i, _with_tail(sheet, hit.j), family=hit.entry.family)
    described = [pack for pack in packs if pack.id in named and pack.variants]
    glossary = sheet.language.glossary
    if not described or sheet.grid.n < 2:
        return
    stems = [stems_of(t, glossary.get(t, "")) for t in sheet.grid.toks] if glossary else list(map(stems_of, sheet.grid.toks))
    places: dict[str, list[int]] = {}
    for i, keys in enumerate(stems):
        for key in keys:
            places.setdefault(key, []).append(i)
    for pack in described:
        yield from _in_other_order(sheet, pack, taken, stems, places)


def _in_other_order(sheet: Sheet, pack: Pack, taken: set[int], stems: Stems, places: Mapping[str, list[int]]) -> Iterator[Draft]:
    grid, known = sheet.grid, forms(pack)
    found: list[_Found] = []
    for key in sorted(known.by_stem.keys() & places.keys()):
        for form in known.by_stem[key]:
            if form.telling <= places.keys() and _has_enough(form, places):
                found += [here for i in places[key] if (here := _at(sheet, stems, i, key, form, known, places))]
    found.sort(key=lambda f: (-len(f.telling) - len(f.nouns), f.j - f.i, not f.whole, f.i))
    said: set[tuple[str, str, int]] = set()
    nouns: set[int] = set()
    for here in found:
        place = (here.form.feature, here.form.variant, grid.sentence[here.i])
        if place in said or any(k in taken or k in nouns for k in here.telling):
            continue
        if any(k in nouns or k in taken for k in here.nouns):
            kept = tuple(k for k in here.nouns if k not in nouns and k not in taken)
            tokens = (*here.telling, *kept)
            here = here._replace(i=min(tokens), j=max(tokens) + 1, nouns=kept, whole=False)
            if len(tokens) == 1 and not here.form.alone:
                continue
        if any(k in taken for k in range(here.i, here.j)):
            continue
        said.add(place)
        taken.update(here.telling)
        nouns.update(here.nouns)
        i, j = _grown(sheet, stems, here)
        own = _own_stance(sheet, i, j, here)
        yield Draft("feature", here.form.part, f"{here.form.feature}={here.form.variant}", i, j, own, family=pack.id)


def _has_enough(form: Form, places: Mapping[str, list[int]]) -> bool:
    """Whether more than one word of a form is there, where one alone says nothing."""
    return form.alone or not form.nouns or len(form.telling) > 1 or not places.keys().isdisjoint(form.nouns)


def _at(sheet: Sheet, stems: Stems, at: int, key: str, form: Form, known: Forms, places: Mapping[str, list[int]]) -> _Found | None:
    """The form around token `at`, close together and in one sentence, or None. A noun that is not there, or stands behind
    a colon or words of another feature, must be what the sentence speaks of."""
    reach = len(form.telling) + len(form.nouns) + ROOM
    telling = [at]
    for wanted in form.telling - {key}:
        if (k := _nearest(sheet, places[wanted], at, reach)) is None:
            return None
        telling.append(k)
    i, j = min(telling), max(telling) + 1
    if j - i > reach or ";" in sheet.grid.toks[i:j] or _strangers(stems, i, j, form, known, telling):
        return None
    nouns: list[int] = []
    for wanted in sorted(form.nouns):
        k = _nearest(sheet, places.get(wanted, ()), at, reach)
        if k is None or _parted(sheet, stems, min(i, k), max(j, k + 1), form, known, telling, reach) or _is_apart(sheet, k, telling):
            continue
        nouns.append(k)
        i, j = min(i, k), max(j, k + 1)
    whole = len(nouns) == len(form.nouns)
    several = len(telling) + len(nouns) > 1
    if not whole and not (several or form.alone):
        return None
    if not whole and not (form.unique and j - i == len(telling)) and not _is_topic(sheet, stems, i, form, known, several=several):
        return None
    return _Found(i, j, form, tuple(telling), tuple(nouns), whole)


def _nearest(sheet: Sheet, places: Sequence[int], at: int, reach: int) -> int | None:
    """The nearest of some tokens to token `at` in its sentence and reach, or None."""
    sentence = sheet.grid.sentence
    near = [k for k in places[bisect_left(places, at - reach) : bisect_right(places, at + reach)] if sentence[k] == sentence[at]]
    return min(near, key=lambda k: abs(k - at)) if near else None


def _strangers(stems: Stems, i: int, j: int, form: Form, known: Forms, telling: Sequence[int]) -> bool:
    """Whether words of other features stand inside tokens [i, j)."""
    return any(k not in telling and not known.known.isdisjoint(stems[k]) and form.own.isdisjoint(stems[k]) for k in range(i, j))


def _parted(sheet: Sheet, stems: Stems, i: int, j: int, form: Form, known: Forms, telling: Sequence[int], reach: int) -> bool:
    """Whether tokens [i, j) are too long a run, or hold a colon, a dash, two commas or words of other features."""
    grid = sheet.grid
    toks = grid.toks[i:j]
    dash = any(t == "-" and not grid.glued(i + n) for n, t in enumerate(toks))
    words = sum(t.isalnum() for t in toks)
    return (
        words > reach
        or dash
        or not _SEPARATORS.isdisjoint(toks)
        or toks.count(",") > 1
        or ";" in toks
        or _strangers(stems, i, j, form, known, telling)
    )


def _is_apart(sheet: Sheet, noun: int, telling: Sequence[int]) -> bool:
    """Whether a comma that does not touch the noun at token `noun`, or a number, parts it from what tells ("the beam is
    new, unmarked", "gearbox PGJ12-077 with top filler")."""
    nearest = min(telling, key=lambda k: abs(k - noun))
    i, j = sorted((noun, nearest))
    return any(k in sheet.taken or (sheet.grid.toks[k] == "," and abs(k - noun) > 1) for k in range(i + 1, j))


def _is_topic(sheet: Sheet, stems: Stems, i: int, form: Form, known: Forms, *, several: bool) -> bool:
    """Whether the part or the feature's word named last before token i, in its sentence, is of this feature; for `several`
    words of it the part alone will do ("engine" for the crankcase). Common words of the part's other features are passed
    over; one word in brackets is an aside."""
    grid = sheet.grid
    for k in range(i - 1, max(i - 1 - TOPIC_WORDS, -1), -1):
        if grid.sentence[k] != grid.sentence[i] or (grid.toks[k] == "(" and not several):
            return False
        if not form.nouns.isdisjoint(stems[k]):
            return True
        part = sheet.covering("part", k)
        if part and part.entry.value != "vehicle":
            named = any(not form.nouns.isdisjoint(stems[n]) for n in range(part.i, part.j))
            if named or part.entry.value != form.part:
                return named
            if several:
                return True
        elif any(form.part not in known.nouns.get(word, {form.part}) for word in stems[k]):
            return False
    return False


def _own_stance(sheet: Sheet, i: int, j: int, here: _Found) -> str:
    """The stance that a word inside the span gives ("the plate is not brass"), unless it is the variant's own "no"."""
    lists = sheet.language.lists
    inside = {t for k, t in enumerate(sheet.grid.toks[i:j], i) if k not in here.telling}
    return DENIED if inside & lists["denied_inside"] else HEDGED if inside & lists["unsure_inside"] else STATED


def _grown(sheet: Sheet, stems: Stems, here: _Found) -> tuple[int, int]:
    """The span with the variant's other words that touch it, and without its part "on", "held by" and the like."""
    grid, lists = sheet.grid, sheet.language.lists
    i, j = here.i, here.j
    while i > 0 and grid.same_line(i - 1, i) and not here.form.own.isdisjoint(stems[i - 1]):
        i -= 1
    while j < grid.n and grid.same_line(j - 1, j) and not here.form.own.isdisjoint(stems[j]):
        j += 1
    if "(" in grid.toks[i:j] and grid.at(j) == ")":
        j += 1
    if here.whole:
        j += grid.at(j) in lists["feature_kinds"] and grid.same_line(j - 1, j)
        return i, _with_tail(sheet, j)
    k = i
    while grid.at(k - 1) in lists["feature_articles"] and grid.same_line(k - 1, i):
        k -= 1
    if grid.at(k - 1) in lists["feature_links"] and grid.same_line(k - 1, i):
        i = k - 1
        i -= grid.at(i - 1) in lists["feature_held"]
    return i, _with_tail(sheet, j)


def _with_tail(sheet: Sheet, j: int) -> int:
    """The end of a span with the "on" of a participle ("riveted on", "screwed it on")."""
    grid = sheet.grid
    if not grid.at(j - 1).endswith("ed") or not grid.same_line(j - 1, j):
        return j
    k = j + (grid.at(j) == "it")
    return k + 1 if grid.at(k) == "on" else j
