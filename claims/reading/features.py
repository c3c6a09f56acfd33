"""Features that a named pack knows: in the very words it gives for their variants, or with the same words in another order."""

from collections.abc import Iterator, Mapping, Sequence

from claims.feature_forms import Form, forms, stem
from claims.pack import Pack
from claims.reading.sheet import Draft, Sheet

ROOM = 3
"""Further words that may stand between those of a feature."""


def read(sheet: Sheet, packs: Sequence[Pack], named: frozenset[str]) -> Iterator[Draft]:
    """Drafts of every feature of the packs in `named`."""
    taken: set[int] = set()
    for hit in sheet.found("feature"):
        if hit.entry.family in named:
            taken.update(range(hit.i, hit.j))
            yield Draft("feature", hit.entry.part, hit.entry.value, hit.i, hit.j, family=hit.entry.family)
    described = [pack for pack in packs if pack.id in named and pack.variants]
    stems = [stem(t) for t in sheet.grid.toks] if described and sheet.grid.n > 1 else []
    places: dict[str, list[int]] = {}
    for i, key in enumerate(stems):
        places.setdefault(key, []).append(i)
    for pack in described:
        yield from _in_other_order(sheet, pack, taken, stems, places)


def _in_other_order(sheet: Sheet, pack: Pack, taken: set[int], stems: Sequence[str], places: Mapping[str, list[int]]) -> Iterator[Draft]:
    grid, by_stem = sheet.grid, forms(pack)
    found: list[tuple[int, int, Form]] = []
    for i in sorted(i for key in by_stem.keys() & places.keys() for i in places[key]):
        for form in by_stem[stems[i]]:
            if form.stems <= places.keys() and (window := _window(sheet, stems, i, form)):
                found.append((*window, form))
    found.sort(key=lambda w: (-len(w[2].stems), w[1] - w[0]))
    said: set[tuple[str, int]] = set()
    for i, j, form in found:
        place = (form.feature, grid.sentence[i])
        if any(k in taken for k in range(i, j)) or place in said:
            continue
        said.add(place)
        taken.update(range(i, j))
        yield Draft("feature", form.part, f"{form.feature}={form.variant}", i, j, family=pack.id)


def _window(sheet: Sheet, stems: Sequence[str], at: int, form: Form) -> tuple[int, int] | None:
    """Tokens [i, j) around token `at` that hold all stems of a form, close together and in one sentence; None for none."""
    grid = sheet.grid
    reach = len(form.stems) + ROOM
    places = [at]
    for wanted in form.stems - {stems[at]}:
        near = [k for k in range(max(0, at - reach), min(grid.n, at + reach + 1)) if stems[k] == wanted and grid.sentence[k] == grid.sentence[at]]
        if not near:
            return None
        places.append(min(near, key=lambda k: abs(k - at)))
    i, j = min(places), max(places) + 1
    words = sum(t.isalnum() for t in grid.toks[i:j])
    return (i, j) if words <= reach and ";" not in grid.toks[i:j] and grid.toks[i:j].count(",") <= 1 else None
