"""Makers that no list knows, told by their place: a form's own entry, or the word between a year and a model.

Habit: nine of ten private headlines read "year maker model"; a maker so told is known again wherever the listing names it.
"""

from collections.abc import Iterator, Sequence

from claims.lexicon import Entry, Hit
from claims.names_known import EVERYDAY, HEADLINE, OF_MAKER, without_maker
from claims.reading.name_runs import is_name
from claims.reading.sheet import Sheet
from claims.values import is_year

LONGEST_MAKER = 3
"""Words of a form's entry that is still a maker's name."""
SHORTEST_MAKER = 3
HEAD = 2
"""Tokens of a headline before its maker: a year, perhaps with its apostrophe."""
FIRM_WORDS = 3
"""Words behind a maker's name up to that for its firm."""
TOLD = "told"


def add_told_makers(sheets: Sequence[Sheet]) -> None:
    """Put the makers that a listing tells among the known names of each of its fields."""
    told = {name for sheet in sheets for name in (_entered(sheet) if sheet.role == "maker" else _placed(sheet))}
    if not told:
        return
    for sheet in sheets:
        if sheet.role in {"title", "text", "model"}:
            _add(sheet, told)


def _entered(sheet: Sheet) -> Iterator[tuple[str, ...]]:
    """The maker of a form's own entry, as far as no model begins in it."""
    grid, lists = sheet.grid, sheet.language.lists
    if sheet.found("maker") or not grid.n or grid.toks[0] in lists.any_of("fillers", "no_makers") or grid.shadow.strip().lower() in lists["no_names"]:
        return
    end = next((h.i for h in sheet.found("model") if h.i > 0), grid.n)
    name = tuple(grid.toks[:end])
    if len(name) <= LONGEST_MAKER and all(tok.isalpha() or tok in {"-", "&"} for tok in name) and len(name[0]) >= SHORTEST_MAKER:
        yield name


def _placed(sheet: Sheet) -> Iterator[tuple[str, ...]]:
    """Makers between a year and a model: any model at the head of a headline, a known one elsewhere."""
    grid = sheet.grid
    if sheet.role == "title" and sheet.found("maker"):
        yield from (tuple(grid.toks[h.i : h.j]) for h in sheet.found("maker") if h.entry.more == HEADLINE and is_name(sheet, h))
        return
    if sheet.role not in {"title", "text"}:
        return
    yield from _before_a_line(sheet)
    for k in (i + 1 for i in grid.figured):
        tok = grid.at(k)
        if not (tok.isalpha() and len(tok) >= SHORTEST_MAKER and _is_behind_a_year(sheet, k) and grid.same_line(k - 1, k + 1)):
            continue
        heads = sheet.role == "title" and k <= HEAD and (_is_model(sheet, k + 1) or _is_code(grid.at(k + 1)))
        if _can_be_a_maker(sheet, k, heads) and (_is_model(sheet, k + 1) or (sheet.role == "title" and _can_be_a_model(sheet, k + 1))):
            yield (tok,)


def _before_a_line(sheet: Sheet) -> Iterator[tuple[str, ...]]:
    """Makers straight before a model whose maker the listing names itself: heading a headline, or with a capital inside a sentence."""
    grid = sheet.grid
    for hit in sheet.found("model"):
        k = hit.i - 1
        if k < 0 or hit.entry.value.lower() not in without_maker() or not grid.same_line(k, hit.i):
            continue
        if grid.toks[hit.i] in sheet.language.lists["firms"]:
            continue
        tok = grid.toks[k]
        heads = sheet.role == "title" and k <= HEAD
        inside = k > 0 and grid.sentence[k - 1] == grid.sentence[k] and grid.as_written(k)[:1].isupper()
        if tok.isalpha() and len(tok) >= SHORTEST_MAKER and (heads or inside) and _can_be_a_maker(sheet, k, heads):
            yield (tok,)


def _is_behind_a_year(sheet: Sheet, k: int) -> bool:
    """Whether a year stands before token k; in a headline's head one of two figures will do."""
    tok = sheet.grid.toks[k - 1]
    if sheet.grid.at(k - 2) in sheet.language.lists["before_figure"]:
        return False
    return is_year(tok) or (sheet.role == "title" and k <= HEAD and len(tok) == 2 and tok.isdigit())


def _is_code(tok: str) -> bool:
    return any(c.isdigit() for c in tok) and any(c.isalpha() for c in tok)


def _can_be_a_maker(sheet: Sheet, k: int, heads: bool = False) -> bool:
    """Whether token k is written as a name (or heads a headline) and is no word that reading knows otherwise."""
    grid, lists = sheet.grid, sheet.language.lists
    written = grid.as_written(k)
    if not (heads or written[:1].isupper() or grid.has_no_capitals) or grid.toks[k] in lists.any_of("no_makers", "not_a_model", "colours"):
        return False
    return not any(sheet.covering(category, k) for category in sheet.hits)


def _is_model(sheet: Sheet, k: int) -> bool:
    hit = sheet.starting("model", k)
    return hit is not None and hit.entry.more not in {EVERYDAY, OF_MAKER}


def _can_be_a_model(sheet: Sheet, k: int) -> bool:
    """Whether token k is a designation in a headline: a known model, a code, or a word that can be a name as well."""
    grid = sheet.grid
    tok = grid.toks[k]
    if sheet.starting("model", k) or (tok.isalnum() and not tok.isalpha() and not is_year(tok)):
        return True
    return tok.isalpha() and grid.as_written(k)[:1].isupper() and _can_be_a_maker(sheet, k)


def _add(sheet: Sheet, told: set[tuple[str, ...]]) -> None:
    """Add a hit for each place where a told maker is written as a name."""
    grid = sheet.grid
    first = {name[0] for name in told}
    if first.isdisjoint(grid.toks):
        return
    hits = [h for h in sheet.found("maker") if h.entry.more != HEADLINE or tuple(grid.toks[h.i : h.j]) not in told]
    for i, tok in enumerate(grid.toks):
        if tok not in first or not _is_written_as_a_name(sheet, i):
            continue
        for name in sorted(told, key=len, reverse=True):
            j = i + len(name)
            if tuple(grid.toks[i:j]) == name and not any(h.i < j and i < h.j for h in hits):
                j = _with_its_kind(sheet, j)
                hits.append(Hit(i, j, Entry("maker", grid.text(i, j), "vehicle", "", TOLD)))
                break
    sheet.put("maker", sorted(hits, key=lambda h: h.i))


def _with_its_kind(sheet: Sheet, j: int) -> int:
    """The end of a maker's name with the words of its firm ("Witte Engine Works")."""
    grid, firms = sheet.grid, sheet.language.lists["firms"]
    end = next((k + 1 for k in range(j, j + FIRM_WORDS) if grid.at(k) in firms and grid.same_line(j - 1, k)), j)
    return end if all(grid.as_written(k)[:1].isupper() for k in range(j, end)) else j


def _is_written_as_a_name(sheet: Sheet, i: int) -> bool:
    """Whether a told maker's word has its capital, or without one stands behind a determiner or a year, or before a model."""
    grid = sheet.grid
    if grid.as_written(i)[:1].isupper() or grid.has_no_capitals:
        return True
    return grid.same_line(i - 1, i) and (
        grid.toks[i - 1] in sheet.language.lists["determiners"] or is_year(grid.toks[i - 1]) or sheet.starting("model", i + 1) is not None
    )


__all__ = ["add_told_makers"]
