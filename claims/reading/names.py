"""Makers and models: the names that packs and the list of makers know, and the run of designations behind a maker.

A model is one unbroken run of line, variant and type code. Outside the packs a run is taken only straight behind a
maker's name, and ends at the first common word; a form's own entry gives its model whole, and that model is then
known in the other fields too.
"""

from collections.abc import Iterator

from claims.claim import OTHER_ITEM, STATED
from claims.lexicon import Entry, Hit
from claims.names_known import HEADLINE, OF_MAKER, maker_of_model
from claims.reading import names_beside
from claims.reading.name_parts import part_of_name
from claims.reading.name_runs import MARKS, ROMAN, SHORT_NAME, is_name, runs
from claims.reading.sheet import Draft, Sheet
from claims.values import is_year

_MODEL_RUN = Entry("modelrun", "")


def read(sheet: Sheet, known: frozenset[str], words: set[str], makers: frozenset[str] = frozenset()) -> Iterator[Draft]:
    """Drafts of the makers and models of a field; `known` are models that a form's entry has named.

    `makers` are those of
    which the listing speaks; `words` collects the words of the models read so far (the headline comes first), which then are known in the text.
    """
    if sheet.role == "maker":
        yield from _entry(sheet, "maker")
        return
    if sheet.role == "model":
        yield from _entry(sheet, "model")
        return
    if any(h.entry.more == HEADLINE for h in sheet.found("maker")):
        sheet.put("maker", [h for h in sheet.found("maker") if h.entry.more != HEADLINE or is_name(sheet, h)])
    for draft in names_beside.cells(sheet):
        sheet.take(draft.i, draft.j)
        yield draft
    found = list(runs(sheet))
    if found:
        sheet.put("modelrun", [Hit(i, j, _MODEL_RUN) for i, j, _, _ in found])
    covered = {k for i, j, _, _ in found for k in range(i, j)}
    done = -1
    for hit in sheet.found("maker"):
        if hit.i == done:
            continue
        if hit.i not in covered and is_name(sheet, hit):
            done = hit.i
            sheet.take(hit.i, hit.j)
            yield Draft(
                "maker",
                hit.entry.part if hit.entry.part not in {"", "vehicle"} else part_of_name(sheet, hit.i, hit.j),
                hit.entry.value,
                hit.i,
                hit.j,
                family=hit.entry.family,
            )
    for i, j, value, family in found:
        sheet.take(i, j)
        if sheet.role == "title":
            words.update(t for t in sheet.grid.toks[i:j] if t.isalnum() and t not in MARKS and t not in ROMAN)
        yield Draft("model", part_of_name(sheet, i, j), value, i, j, family=family)
    for draft in (*names_beside.part_types(sheet), *names_beside.engines_by_type(sheet), *names_beside.codes(sheet), *names_beside.builders(sheet)):
        sheet.take(draft.i, draft.j)
        yield draft
    for i, j in names_beside.named_models(sheet):
        if sheet.is_free(i, j):
            sheet.take(i, j)
            yield Draft("model", part_of_name(sheet, i, j), sheet.grid.text(i, j), i, j)
    again = []
    for i, j in (*_repeats(sheet, known), *_mentions(sheet, words)):
        if sheet.is_free(i, j):
            sheet.take(i, j)
            again.append(Hit(i, j, _MODEL_RUN))
            yield Draft("model", "vehicle", sheet.grid.text(i, j), i, j)
    if again:
        sheet.put("modelrun", sorted((*sheet.found("modelrun"), *again), key=lambda h: h.i))
    for i, j in _siblings(sheet, makers):
        if sheet.is_free(i, j):
            sheet.take(i, j)
            named = not words or words & set(sheet.grid.toks[i:j])
            yield Draft("model", "vehicle", sheet.grid.text(i, j), i, j, STATED if named else OTHER_ITEM)


def _entry(sheet: Sheet, kind: str) -> Iterator[Draft]:
    """A form's maker or model: the name that a pack knows, else the whole entry without its maker and year."""
    grid = sheet.grid
    if (
        not grid.n
        or not any(c.isalnum() for c in grid.shadow)
        or grid.shadow.strip().lower() in sheet.language.lists["no_names"]
        or set("{}<>") & set(grid.shadow)
    ):
        return
    makers = [h for h in sheet.found("maker") if is_name(sheet, h)]
    if kind == "maker":
        if makers:
            h = makers[0]
            yield Draft("maker", "vehicle", h.entry.value, h.i, h.j, family=h.entry.family)
        elif grid.toks[0] not in sheet.language.lists["fillers"] and not sheet.starting("none", 0):
            yield Draft("maker", "vehicle", grid.text(0, grid.n), 0, grid.n)
        return
    kinds = [h for c in ("vehiclenoun", "part") for h in sheet.found(c) if h.entry.value in {"", "vehicle", "body"}]
    if kinds and all(any(h.i <= k < h.j for h in kinds) or not grid.toks[k].isalnum() for k in range(grid.n)):
        return
    whole = next((h for h in sheet.found("model") if h.i == 0 and h.j == grid.n), None)
    if whole:
        yield Draft("model", "vehicle", whole.entry.value, 0, grid.n, family=whole.entry.family)
        return
    i = 0
    while i < grid.n and (is_year(grid.toks[i]) or any(h.i <= i < h.j for h in makers)) and grid.n - i > 1:
        i += 1
    if i and makers:
        h = makers[0]
        yield Draft("maker", "vehicle", h.entry.value, h.i, h.j, family=h.entry.family)
    exact = next((h for h in sheet.found("model") if h.i == i and h.j == grid.n), None)
    if grid.toks[i] in sheet.language.lists["fillers"] - {"123", "1234", "12345", "000", "111"} or sheet.starting("none", i):
        return
    yield Draft("model", "vehicle", exact.entry.value if exact else grid.text(i, grid.n), i, grid.n, family=exact.entry.family if exact else "")


def _siblings(sheet: Sheet, makers: frozenset[str]) -> Iterator[tuple[int, int]]:
    """Short or bare-figure models of a maker that the listing names, behind a determiner ("has also owned a 356", "not the 3008")."""
    grid, lists = sheet.grid, sheet.language.lists
    for hit in sheet.found("model"):
        if hit.entry.more != OF_MAKER or grid.at(hit.i - 1) not in lists["determiners"] or not grid.same_line(hit.i - 1, hit.i):
            continue
        behind = grid.at(hit.j)
        alone = not behind or not grid.same_line(hit.i, hit.j) or not behind[0].isalnum() or behind in lists["after_sibling"]
        if alone and not (grid.glued(hit.j) and behind in {"-", "/", "'", "%", "+"}) and maker_of_model().get(hit.entry.value.lower()) in makers:
            yield hit.i, hit.j


def _repeats(sheet: Sheet, known: frozenset[str]) -> Iterator[tuple[int, int]]:
    """Further mentions of models that a form's entry or the headline has named, as they are written there."""
    grid = sheet.grid
    for name in sorted(known):
        tokens = name.split()
        for i in range(grid.n - len(tokens) + 1):
            if grid.toks[i] == tokens[0] and grid.toks[i : i + len(tokens)] == tokens:
                yield i, i + len(tokens)


def _mentions(sheet: Sheet, words: set[str]) -> Iterator[tuple[int, int]]:
    """Further mentions of a word of the headline's model: with its capital, or behind a determiner where it is short or a figure."""
    grid = sheet.grid
    if sheet.role == "title" or words.isdisjoint(grid.toks):
        return
    for i, tok in enumerate(grid.toks):
        if (
            tok not in words
            or grid.glued(i)
            or is_year(tok)
            or (grid.glued(i + 1) and grid.at(i + 1) not in {",", ".", ")", "'", "!", "?", ";", ":"})
        ):
            continue
        behind = grid.at(i + 1)
        if behind in sheet.language.lists["behind_figure"] or tok in sheet.language.lists["not_a_model"]:
            continue
        begins = grid.at(i + 1) in words and len(grid.at(i + 1)) >= SHORT_NAME and grid.as_written(i)[:1].isupper() and tok.isalpha()
        long = (len(tok) >= SHORT_NAME and not tok.isdigit()) or begins
        capital = (
            grid.as_written(i)[:1].isupper()
            or (len(tok) >= SHORT_NAME and sheet.starting("model", i) is not None)
            or any(c.isdigit() for c in tok)
            or grid.has_no_capitals
        )
        short = tok.isalpha() and len(tok) > 1 and grid.as_written(i).isupper() and not grid.is_shouting
        if (
            (long and capital)
            or (short and sheet.starting("vehiclenoun", i + 1))
            or (
                grid.at(i - 1) in sheet.language.lists["determiners"] and grid.same_line(i - 1, i) and (grid.as_written(i).isupper() or tok.isdigit())
            )
        ):
            j = i + 1
            while grid.at(j) in words and grid.at(j).isalpha() and grid.same_line(i, j) and grid.as_written(j)[:1].isupper():
                j += 1
            yield i, j
