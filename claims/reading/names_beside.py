"""Names that their place gives away: a label's cell in running text, the type of an engine or gearbox, the builder of a replica."""

import re
from collections.abc import Iterator

from claims.phrase_files import field_names
from claims.reading.number_bare import names_a_model
from claims.reading.sheet import Draft, Sheet
from claims.values import is_year

LONGEST_CELL = 6
LONGEST_LABEL = 3
LONGEST_BUILDER = 5
SHORTEST_CODE = 3
OF_TYPES = ("engine", "gearbox")
_TYPE = re.compile(r"[a-z]{1,3}\d{1,3}[a-z]?|\d{3}[a-z]?")
_ENGINE_TYPE = re.compile(r"[a-z]\d{2,3}[a-z]?")
_SIZE = re.compile(r"v\d{1,2}|[ilrwf]\d|\d{3,4}cc|[a-z]?\d{1,2}v")


def cells(sheet: Sheet) -> Iterator[Draft]:
    """Makers and models behind their label at the start of a line or of a table's cell ("Model: TD", "| Typ | TD |")."""
    grid = sheet.grid
    if sheet.role != "text" or (":" not in grid.words and "|" not in grid.words):
        return
    for i in _cell_starts(sheet):
        for j in range(i + 1, min(i + LONGEST_LABEL, grid.n - 1) + 1):
            role = field_names().get(grid.text(i, j).lower(), "")
            if grid.at(j) in {":", "|"} and role in {"maker", "model"}:
                yield from _cell(sheet, j + 1, role)
                break


def _cell_starts(sheet: Sheet) -> Iterator[int]:
    """The tokens shortly before a colon or bar at which a line, a cell or a label begins."""
    grid = sheet.grid
    ends = [k for k, tok in enumerate(grid.toks) if tok in {":", "|"}]
    for i in sorted({i for k in ends for i in range(max(0, k - LONGEST_LABEL), k)}):
        first = i == 0 or not grid.same_line(i - 1, i) or grid.toks[i - 1] in {"|", "•", "*", "-", ";"} or (grid.glued(i) and grid.at(i + 1) == ":")
        first = first or (grid.as_written(i).isupper() and len(grid.toks[i]) > 3 and grid.at(i + 1) == ":")
        if first and grid.toks[i].isalpha():
            yield i


def _is_next_label(sheet: Sheet, k: int, j: int) -> bool:
    """Whether the next label begins at token j behind a value that begins at token k ("MODEL: Unimog BUILT: 05/63")."""
    grid = sheet.grid
    return (
        j > k
        and grid.at(j + 1) == ":"
        and grid.toks[j].isalpha()
        and (grid.glued(j) or grid.as_written(j).isupper() or grid.toks[j] in field_names())
    )


def _cell(sheet: Sheet, k: int, role: str) -> Iterator[Draft]:
    grid = sheet.grid
    j = k
    while j < grid.n and grid.same_line(k - 1, j) and grid.toks[j] not in {"|", ";", ","} and not _is_next_label(sheet, k, j):
        j += 1
    if not 0 < j - k <= LONGEST_CELL or j == k or grid.toks[k] in sheet.language.lists["fillers"] or sheet.starting("none", k):
        return
    if grid.text(k, j).lower() in field_names() or set("{}<>[]") & set(grid.text(k, j)):
        return
    makers = [h for h in sheet.beside("maker", k) if k <= h.i < j]
    if role == "maker" and not makers and sheet.is_free(k, j):
        yield Draft("maker", "vehicle", grid.text(k, j), k, j)
    if role == "model":
        while k < j and (is_year(grid.toks[k]) or any(h.i <= k < h.j for h in makers)):
            k += 1
        exact = next((h for h in sheet.beside("model", k) if h.i == k and h.j == j), None)
        if k < j and sheet.is_free(k, j):
            yield Draft("model", "vehicle", exact.entry.value if exact else grid.text(k, j), k, j, family=exact.entry.family if exact else "")


def part_types(sheet: Sheet) -> Iterator[Draft]:
    """Designations of an engine or gearbox straight beside its word ("M10 engine", "727 trans", "motor OM 636")."""
    grid = sheet.grid
    for hit in sheet.found("part"):
        if hit.entry.value not in OF_TYPES or hit.j - hit.i > 1:
            continue
        i = hit.i - 1
        if i >= 0 and grid.same_line(i, hit.i) and sheet.is_free(i, hit.i) and _is_type(sheet, i, i + 1) and not _is_part_of_more(sheet, i):
            yield Draft("model", hit.entry.value, grid.text(i, i + 1), i, i + 1)
            continue
        if grid.toks[hit.i] not in sheet.language.lists["engine_words"]:
            continue
        k = hit.j + (grid.at(hit.j) in {":", "is", "type"})
        k += grid.at(k) in sheet.language.lists["place_the"] and grid.at(k - 1) in {"is", "type"}
        for j in (k + 2, k + 1):
            if j <= grid.n and grid.same_line(hit.i, j - 1) and sheet.is_free(k, j) and _is_type(sheet, k, j) and not _goes_on(sheet, j):
                yield Draft("model", hit.entry.value, grid.text(k, j), k, j)
                break


def codes(sheet: Sheet) -> Iterator[Draft]:
    """Designations that are of an engine or a gearbox wherever they stand ("TH350", "LS1", "Powerglide")."""
    grid, lists = sheet.grid, sheet.language.lists
    codes_of = {"gearbox": lists["gearbox_codes"], "engine": lists["engine_codes"]}
    listed = {part: known for part, known in codes_of.items() if not known.isdisjoint(grid.words)}
    for i, tok in enumerate(grid.toks) if listed else ():
        for part, known in listed.items():
            if (
                tok in known
                and sheet.is_free(i, i + 1)
                and not (grid.glued(i) and grid.toks[i - 1] != "(")
                and not (grid.glued(i + 1) and grid.at(i + 1) in {"-", "/"})
            ):
                yield Draft("model", part, grid.text(i, i + 1), i, i + 1)


def named_models(sheet: Sheet) -> Iterator[tuple[int, int]]:
    """Codes straight behind "model" or "model no." ("model J25ECO", "Model # 15R78"), as tokens [i, j)."""
    grid = sheet.grid
    if sheet.language.lists["model_words"].isdisjoint(grid.words):
        return
    for i in grid.figured:
        if i in sheet.taken or is_year(grid.toks[i]) or len(grid.toks[i]) < SHORTEST_CODE or not names_a_model(sheet, i):
            continue
        j = i + 1
        while grid.glued(j) and (grid.at(j).isalnum() or (grid.at(j) in {"-", "/"} and grid.glued(j + 1) and grid.at(j + 1).isalnum())):
            j += 1
        if grid.at(j) not in sheet.language.lists["behind_figure"]:
            yield i, j


def engines_by_type(sheet: Sheet) -> Iterator[Draft]:
    """Engines called by their type alone in a sentence about an engine ("a B20 from a 142 replaces the B18")."""
    grid, lists = sheet.grid, sheet.language.lists
    for i in grid.figured:
        if i in sheet.taken or not _ENGINE_TYPE.fullmatch(grid.toks[i]) or grid.at(i - 1) not in lists.any_of("place_the", "indefinite"):
            continue
        if sheet.starting("model", i) or not _is_type(sheet, i, i + 1) or (grid.glued(i + 1) and grid.at(i + 1) not in {",", ".", ";", ")"}):
            continue
        about = any(h.entry.value == "engine" for h in sheet.beside("part", i)) or grid.at(i + 1) in {"from", "out", "replaces", "engine"}
        if about and (grid.at(i + 1) in lists["after_type"] or not grid.at(i + 1).isalnum()):
            yield Draft("model", "engine", grid.text(i, i + 1), i, i + 1)


def _is_type(sheet: Sheet, i: int, j: int) -> bool:
    """Whether tokens [i, j) are written like a type: letters in capitals with few figures, no size."""
    grid = sheet.grid
    toks, written = grid.toks[i:j], grid.text(i, j)
    if len(toks) == 2 and toks[0] in {"a", "i"}:
        return False
    if len(toks) == 2 and not (toks[0].isalpha() and len(toks[0]) <= 3 and toks[1].isdigit() and len(toks[1]) <= 3):
        return False
    name = "".join(toks)
    if not _TYPE.fullmatch(name) or _SIZE.fullmatch(name) or (not name.isdigit() and not written.isupper() and not grid.has_no_capitals):
        return False
    if name.isdigit():
        return len(toks) == 1 and name in sheet.language.lists["gearbox_types"]
    return toks[0] not in sheet.language.lists["not_a_model"] or len(toks[0]) == 1


def _is_part_of_more(sheet: Sheet, i: int) -> bool:
    """Whether figures or a joint stand before token i, so that it ends a number or a run."""
    grid = sheet.grid
    return i > 0 and grid.same_line(i - 1, i) and (grid.glued(i) or any(c.isdigit() for c in grid.toks[i - 1]))


def _goes_on(sheet: Sheet, j: int) -> bool:
    grid = sheet.grid
    return (
        j < grid.n
        and grid.same_line(j - 1, j)
        and (any(c.isdigit() for c in grid.toks[j]) or (grid.glued(j) and grid.toks[j] not in {",", ".", ";", ")"}))
    )


def builders(sheet: Sheet) -> Iterator[Draft]:
    """Who built a replica, or a whole machine: capitalised names behind "recreation by", "built in 1974 by"."""
    grid = sheet.grid
    for hit in sheet.found("builtby"):
        k = hit.j
        while grid.at(k) in sheet.language.lists["of_date"] | {"in", "and"} or is_year(grid.at(k)) or grid.at(k) in sheet.language.lists["made_too"]:
            k += 1
        if grid.at(k) not in sheet.language.lists["made_by"] or any(h.j <= hit.i for h in sheet.beside("part", hit.i) if h.entry.value != "vehicle"):
            continue
        k += 1
        while grid.at(k) in sheet.language.lists["courtesies"]:
            k += 1 + (grid.at(k + 1) == ".")
        end = j = k
        while j < grid.n and j - k < LONGEST_BUILDER and grid.same_line(k, j):
            if grid.as_written(j)[:1].isupper() and (grid.toks[j].isalpha()) and grid.toks[j] not in sheet.language.lists["not_builders"]:
                end = j = j + 1
            elif (
                grid.toks[j] in {"&", "and", "."}
                and j > k
                and grid.as_written(j + 1 if j + 1 < grid.n else j)[:1].isupper()
                and (grid.toks[j] != "." or len(grid.toks[j - 1]) == 1)
            ):
                j += 1
            else:
                break
        if end > k and sheet.is_free(k, end):
            yield Draft("maker", "vehicle", grid.text(k, end), k, end)
