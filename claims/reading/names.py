"""Makers and models: the names that packs and the list of makers know, and the run of designations behind a maker.

A model is one unbroken run of line, variant and type code. Outside the packs a run is taken only straight behind a
maker's name, and ends at the first common word; a form's own entry gives its model whole, and that model is then
known in the other fields too.
"""

import re
from collections.abc import Iterator

from claims.claim import OTHER_ITEM, STATED
from claims.lexicon import Entry, Hit
from claims.names_known import EVERYDAY, OF_MAKER, maker_of_model
from claims.reading import names_beside
from claims.reading.sheet import Draft, Sheet
from claims.values import is_year

LONGEST_RUN = 5
SHORT_NAME, LONG_NAME = 4, 7
"""Letters from which a name without its capital is taken for one in a row of names, or in a text without capitals."""
NAMED_PARTS = ("frame", "engine", "gearbox", "axle", "component")
_CODE = re.compile(r"(?=.*\d)(?=.*[a-z])[a-z0-9]{2,12}")
_MARKS = frozenset({"mk", "mark", "series", "type", "phase", "mki", "mkii", "mkiii", "mkiv"})
_ROMAN = frozenset({"i", "ii", "iia", "iii", "iv", "v", "vi", "one", "two", "three", "1", "2", "2a", "3"})
_UNITS = re.compile(r"\d+(?:cc|ccm|hp|bhp|ps|km|mi|k|kg|lbs?|mm|cm|in|ft|v|w|cyl|dr|spd|th|st|nd|rd|s|l|cui|cid|hrs?)")
YEARLIKE_MODELS = frozenset({"1900", "2000", "2002", "2005", "2008", "1885", "1950", "1960"})
"""Designations of cars and tractors that look like years (common knowledge, from memory)."""
_BARE_SIZES = frozenset(
    {
        "50",
        "125",
        "150",
        "175",
        "200",
        "250",
        "350",
        "400",
        "450",
        "490",
        "496",
        "500",
        "550",
        "600",
        "650",
        "750",
        "800",
        "850",
        "900",
        "1000",
        "1100",
        "1200",
        "1300",
    }
)


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
    for draft in names_beside.cells(sheet):
        sheet.take(draft.i, draft.j)
        yield draft
    runs = list(_runs(sheet))
    sheet.hits["modelrun"] = [Hit(i, j, Entry("modelrun", "")) for i, j, _, _ in runs]
    covered = {k for i, j, _, _ in runs for k in range(i, j)}
    for hit in sheet.found("maker"):
        if hit.i not in covered and _is_name(sheet, hit):
            sheet.take(hit.i, hit.j)
            yield Draft(
                "maker",
                hit.entry.part if hit.entry.part not in {"", "vehicle"} else _part_of_name(sheet, hit.i, hit.j),
                hit.entry.value,
                hit.i,
                hit.j,
                family=hit.entry.family,
            )
    for i, j, value, family in runs:
        sheet.take(i, j)
        if sheet.role == "title":
            words.update(t for t in sheet.grid.toks[i:j] if t.isalnum() and t not in _MARKS and t not in _ROMAN)
        yield Draft("model", _part_of_name(sheet, i, j), value, i, j, family=family)
    for draft in (*names_beside.part_types(sheet), *names_beside.builders(sheet)):
        sheet.take(draft.i, draft.j)
        yield draft
    for i, j in (*_repeats(sheet, known), *_mentions(sheet, words)):
        if sheet.is_free(i, j):
            sheet.take(i, j)
            yield Draft("model", "vehicle", sheet.grid.text(i, j), i, j)
    for i, j in _siblings(sheet, makers):
        if sheet.is_free(i, j):
            sheet.take(i, j)
            named = not words or words & set(sheet.grid.toks[i:j])
            yield Draft("model", "vehicle", sheet.grid.text(i, j), i, j, STATED if named else OTHER_ITEM)


def _entry(sheet: Sheet, kind: str) -> Iterator[Draft]:
    """A form's maker or model: the name that a pack knows, else the whole entry without its maker and year."""
    grid = sheet.grid
    if not grid.n or not any(c.isalnum() for c in grid.shadow):
        return
    makers = [h for h in sheet.found("maker") if _is_name(sheet, h)]
    if kind == "maker":
        if makers:
            h = makers[0]
            yield Draft("maker", "vehicle", h.entry.value, h.i, h.j, family=h.entry.family)
        elif grid.toks[0] not in sheet.language.lists["fillers"] and not sheet.starting("none", 0):
            yield Draft("maker", "vehicle", grid.text(0, grid.n), 0, grid.n)
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


def _is_name(sheet: Sheet, hit: Hit) -> bool:
    """Whether a hit is written as a name: with its capital, unless the field has none or nothing but capitals."""
    text = sheet.grid.as_written(hit.i)
    if hit.entry.more == "capitals" and not (text.isupper() and not sheet.grid.shadow.isupper()):
        return False
    if hit.entry.category == "model" and hit.entry.more in {EVERYDAY, OF_MAKER} and not _follows_a_name(sheet, hit):
        return False
    if hit.entry.more == "alias" and not (
        (text[:1].isupper() or (sheet.grid.has_no_capitals and len(text) >= LONG_NAME)) and _has_company(sheet, hit)
    ):
        return False
    if hit.entry.category == "maker" and _is_of_an_institution(sheet, hit.j):
        return False
    if hit.entry.category == "model" and sheet.grid.at(hit.j) == "-" and sheet.grid.at(hit.j + 1) in sheet.language.lists["colours"]:
        return False
    plain = hit.entry.more in {"word", EVERYDAY}
    if not plain or text[:1].isupper() or (hit.entry.category == "model" and sheet.grid.has_no_capitals):
        return _is_not_inside_a_name(sheet, hit)
    if _is_in_a_row(sheet, hit):
        return True
    return hit.entry.category == "maker" and sheet.grid.has_no_capitals and _stands_as_maker(sheet, hit)


def _is_of_an_institution(sheet: Sheet, j: int) -> bool:
    """Whether a maker's name ends before a word of its archive, club, dealer or documents, which are not the thing for sale."""
    return sheet.grid.at(j) in sheet.language.lists["institutions"] and sheet.grid.same_line(j - 1, j)


def _is_in_a_row(sheet: Sheet, hit: Hit) -> bool:
    """Whether a plain word stands among other names of makers and models: a tail of keywords without capitals."""
    beside = [sheet.ending(c, hit.i) for c in ("maker", "model")] + [sheet.starting(c, hit.j) for c in ("maker", "model")]
    return len(hit.entry.value) >= SHORT_NAME and any(h and h.entry.more not in {EVERYDAY, OF_MAKER} for h in beside)


def _follows_a_name(sheet: Sheet, hit: Hit) -> bool:
    """Whether a maker, another model or a year stands straight before a name that is an everyday word or a bare figure."""
    grid, i = sheet.grid, hit.i
    if not grid.same_line(i - 1, i):
        return False
    if sheet.ending("maker", i):
        return True
    if hit.entry.more == OF_MAKER:
        return False
    before = sheet.ending("model", i)
    in_a_row = before is not None and bool(sheet.starting("model", hit.j) or sheet.starting("maker", hit.j))
    year = is_year(grid.at(i - 1)) or (sheet.role == "title" and i == 1 and len(grid.at(0)) == 2 and grid.at(0).isdigit())
    return in_a_row or (before is not None and before.entry.more != EVERYDAY) or year or (sheet.role == "title" and i == 0)


def _stands_as_maker(sheet: Sheet, hit: Hit) -> bool:
    """Whether a maker's everyday word, in a text without capitals, has a year before or a model behind it."""
    grid = sheet.grid
    return is_year(grid.at(hit.i - 1)) or sheet.starting("model", hit.j) is not None or bool(_CODE.fullmatch(grid.at(hit.j)))


def _has_company(sheet: Sheet, hit: Hit) -> bool:
    """Whether a pack's short name stands in a listing that names the pack otherwise too."""
    return hit.entry.family in sheet.named


def _is_not_inside_a_name(sheet: Sheet, hit: Hit) -> bool:
    grid = sheet.grid
    return (
        not (grid.glued(hit.i) and grid.at(hit.i - 1) in {"@", ".", "/", "_"})
        and not (grid.at(hit.j) in {"@", "_"} and grid.glued(hit.j))
        and not (
            grid.at(hit.j) == "."
            and grid.glued(hit.j)
            and grid.glued(hit.j + 1)
            and grid.at(hit.j + 1) in {"com", "co", "org", "net", "de", "uk", "fr", "nl"}
        )
    )


def _runs(sheet: Sheet) -> Iterator[tuple[int, int, str, str]]:
    """(i, j, value, family) of each run of model designations."""
    grid = sheet.grid
    models = {h.i: h for h in sheet.found("model") if _is_name(sheet, h)}
    makers = {h.j: h for h in sheet.found("maker") if _is_name(sheet, h)}
    starts = {h.i for h in makers.values()}
    end = 0
    for i in sorted({*models, *makers}):
        if i < end or i >= grid.n:
            continue
        behind_maker = i in makers and grid.same_line(i - 1, i)
        if i in sheet.taken or not (i in models or behind_maker):
            continue
        j = _run_end(sheet, i, models, starts, behind_maker)
        if j == i:
            continue
        found = [models[k] for k in range(i, j) if k in models]
        exact = found[0] if found and found[0].i == i and found[0].j == j else None
        value = exact.entry.value if exact else grid.text(i, j)
        yield i, j, value, (found[0].entry.family if found else "")
        end = j


def _run_end(sheet: Sheet, i: int, models: dict[int, Hit], makers: set[int], behind_maker: bool) -> int:
    grid, stop = sheet.grid, sheet.language.lists["not_a_model"]
    capitals = not sheet.grid.shadow.islower()
    k, end = i, i
    while k < grid.n and k - i < LONGEST_RUN * 2 and (k == i or grid.same_line(k - 1, k)) and (k == i or k not in makers):
        if k in sheet.taken:
            break
        if k in models:
            k = end = models[k].j
            continue
        tok, written = grid.toks[k], grid.as_written(k)
        if tok in {"-", "/"} and k > i and grid.glued(k) and grid.glued(k + 1):
            k += 1
            continue
        if not tok.isalnum() or tok in stop or _UNITS.fullmatch(tok) or grid.at(k + 1) in {"cc", "ccm", "hp", "bhp", "miles", "km"}:
            break
        if is_year(tok) and not (tok in YEARLIKE_MODELS and behind_maker and k == i):
            break
        code = bool(_CODE.fullmatch(tok))
        figures = tok.isdigit() and len(tok) <= 4
        if figures and k == i and tok in _BARE_SIZES:
            break
        if figures and (_is_decimal(sheet, k) or (k > i and not grid.glued(k) and _is_size_behind(sheet, k))):
            break
        named = capitals and written[:1].isupper() and tok.isalpha() and len(tok) > 1 and behind_maker and not written.isupper()
        mark = tok in _MARKS and grid.at(k + 1)[:1] and (grid.at(k + 1)[0].isdigit() or grid.at(k + 1) in _ROMAN)
        after_mark = k > i and grid.toks[k - 1] in _MARKS and (tok.isdigit() or tok in _ROMAN)
        short = written.isupper() and tok.isalpha() and len(tok) <= 4 and (k > i or behind_maker) and not _is_shouting(sheet)
        if not (code or figures or named or mark or after_mark or short):
            break
        if tok.isdigit() and len(tok) > 4:
            break
        k += 1
        end = k
    return end


def _is_decimal(sheet: Sheet, k: int) -> bool:
    """Whether figures go on behind a point: a size ("Corsa 1.2"); or before a fraction's bar ("WC 3/4 ton")."""
    grid = sheet.grid
    return grid.at(k + 1) in {".", ",", "/"} and grid.glued(k + 1) and grid.glued(k + 2) and grid.at(k + 2)[:1].isdigit() and len(grid.at(k)) == 1


def _is_size_behind(sheet: Sheet, k: int) -> bool:
    """Whether bare figures behind a designation are a size (a displacement, a wheelbase, cylinders): they end the run."""
    grid = sheet.grid
    tok, behind = grid.toks[k], grid.at(k + 1)
    if grid.toks[k - 1] in _MARKS or (
        behind and grid.same_line(k, k + 1) and not grid.glued(k + 1) and len(behind) <= 2 and behind.isalpha() and grid.as_written(k + 1).isupper()
    ):
        return False
    return (tok in _BARE_SIZES and len(tok) < 4) or (len(tok) == 1 and behind in {"cylinder", "cyl", "speed", "door", "seater"})


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


def _is_shouting(sheet: Sheet) -> bool:
    return sheet.grid.shadow.isupper()


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
        long = len(tok) >= 4 and not tok.isdigit()
        capital = (
            grid.as_written(i)[:1].isupper()
            or (len(tok) >= SHORT_NAME and sheet.starting("model", i) is not None)
            or any(c.isdigit() for c in tok)
            or grid.has_no_capitals
        )
        if (long and capital) or (
            grid.at(i - 1) in sheet.language.lists["determiners"] and grid.same_line(i - 1, i) and (grid.as_written(i).isupper() or tok.isdigit())
        ):
            yield i, i + 1


def _part_of_name(sheet: Sheet, i: int, j: int) -> str:
    """The part that a name is given to ("Quillfeather engine"), else the vehicle."""
    grid = sheet.grid
    if sheet.role in NAMED_PARTS:
        return sheet.role
    if grid.at(j) in {"-", "powered", "engined"} and grid.at(j + (grid.at(j) == "-")) in sheet.language.lists["powered"]:
        return "engine"
    for k in range(j, min(j + 2, grid.n)):
        if k and not grid.same_line(j - 1, k):
            break
        hit = sheet.starting("part", k)
        if hit and not (k == j and grid.toks[k] in {"unit", "one"}):
            behind = grid.at(hit.j)
            numbered = (
                behind in {"no", "number", "numbers", "#", "nr", ":"}
                or behind in sheet.language.lists["bare_number"]
                or any(c.isdigit() for c in behind)
            )
            return "vehicle" if hit.entry.value not in NAMED_PARTS or numbered else hit.entry.value
        if not grid.toks[k].isalnum():
            break
        if k == j and grid.toks[k] in {"one", "unit", "item", "lump"}:
            named = [h for h in sheet.beside("part", i) if h.j <= i and h.entry.value in NAMED_PARTS]
            return named[-1].entry.value if named else "unknown" if grid.toks[k] != "unit" else "vehicle"
        if k == j and grid.toks[k] in {"parts", "spares", "bits"} and grid.at(k + 1) not in {"bike", "car", "truck", "tractor"}:
            return "unknown"
    k = i - 1
    while grid.at(k) in sheet.language.lists["name_links"] and grid.same_line(k, i):
        k -= 1
    subject = sheet.ending("part", k + 1) if k < i - 1 and grid.at(i - 1) != "from" else None
    if subject is None and sheet.language.lists["noun_first"]:
        subject = next((h for h in (sheet.ending("part", i),) if h and h.entry.value in NAMED_PARTS), None)
    return subject.entry.value if subject else "vehicle"
