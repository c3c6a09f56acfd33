"""Names of makers and models as written, and runs of model designations behind them.

A model is one unbroken run of line, variant and type code. Outside the packs a run is taken only straight behind a
maker's name, and ends at the first common word or at a size.
"""

import re
from collections.abc import Iterator

from claims.lexicon import Hit
from claims.names_known import EVERYDAY, HEADLINE, OF_MAKER, maker_of_model, variants
from claims.reading.sheet import Sheet
from claims.values import is_year

LONGEST_RUN = 5
LONGEST_VARIANT, CODE_LETTERS = 3, 3
"""Tokens of a variant; letters up to which it is a code, read without its capital."""
_SIZED_VARIANT = re.compile(r"\d(?:i|t|s|is|si|ti|sx|xs|gt|xt|e|ie|r)")
SHORT_NAME, LONG_NAME = 4, 7
"""Letters from which a name without its capital is taken for one in a row of names, or in a text without capitals."""
_CODE = re.compile(r"(?=.*\d)(?=.*[a-z])[a-z0-9]{2,12}")
LONGEST_POWER = 3
FEET = frozenset({"'"})
COUNTED = frozenset("speed spd cylinder cylinders cyl cylindres zylinder cilinder cilindri door doors dr lug".split())
MEASURES = frozenset("cc ccm hp bhp horse horsepower ps miles km".split())
MARKS = frozenset({"mk", "mark", "series", "type", "phase", "mki", "mkii", "mkiii", "mkiv"})
ROMAN = frozenset({"i", "ii", "iia", "iii", "iv", "v", "vi", "one", "two", "three", "1", "2", "2a", "3"})
_UNITS = re.compile(r"\d+(?:cc|ccm|hp|bhp|ps|km|mi|k|kg|lbs?|mm|cm|in|ft|v|w|cyl|dr|spd|th|st|nd|rd|s|l|cui|cid|hrs?)")
YEARLIKE_MODELS = frozenset({"1900", "2000", "2002", "2005", "2008", "1885", "1950", "1960"})
"""Designations of cars and tractors that look like years (common knowledge, from memory)."""
USUAL_SIZES = frozenset(
    "50 125 150 175 200 247 250 344 348 349 350 400 450 490 496 499 500 550 600 646 649 650 745 750 800 828 850 900 998 1000 1098 1100 1200 1275 1300".split()
)


def runs(sheet: Sheet) -> Iterator[tuple[int, int, str, str]]:
    """(i, j, value, family) of each run of model designations."""
    grid = sheet.grid
    makers = {h.j: h for h in sheet.found("maker") if is_name(sheet, h)}
    longest = {h.i: h.j for h in makers.values()}
    models = {h.i: h for h in sheet.found("model") if longest.get(h.i, 0) < h.j and is_name(sheet, h) and not _is_measure(sheet, h)}
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


def _is_measure(sheet: Sheet, hit: Hit) -> bool:
    """Whether bare figures that could be a model are a measure ("Witte 5 HP") or an outboard's power ("Johnson 25")."""
    grid, lists = sheet.grid, sheet.language.lists
    if not grid.toks[hit.j - 1].isdigit() or hit.j - hit.i > 1:
        return False
    if grid.at(hit.j) in FEET and grid.glued(hit.j) and not grid.glued(hit.j + 1):
        return True
    outboard = len(grid.toks[hit.i]) <= LONGEST_POWER and grid.at(hit.i - 1) in lists["rated_makers"]
    return outboard or (grid.at(hit.j) in MEASURES | COUNTED and grid.same_line(hit.i, hit.j))


def is_name(sheet: Sheet, hit: Hit) -> bool:
    """Whether a hit is written as a name: with its capital, unless the field has none or nothing but capitals."""
    text = sheet.grid.as_written(hit.i)
    if not sheet.grid.same_line(hit.i, hit.j - 1):
        return False
    if hit.entry.more == "capitals" and not (text.isupper() and not sheet.grid.is_shouting):
        return False
    if hit.entry.category == "model" and hit.entry.more in {EVERYDAY, OF_MAKER} and not _follows_a_name(sheet, hit):
        return False
    if hit.entry.more == "alias" and not (
        (text[:1].isupper() or (sheet.grid.has_no_capitals and len(text) >= LONG_NAME)) and _has_company(sheet, hit)
    ):
        return False
    if hit.entry.more == HEADLINE and not _heads(sheet, hit):
        return False
    if hit.entry.category == "maker" and _is_of_an_institution(sheet, hit.j):
        return False
    if (hit.entry.category == "model" or hit.entry.more == "word") and _names_a_colour(sheet, hit):
        return False
    if hit.entry.category == "model" and sheet.grid.at(hit.j) == "-" and sheet.grid.at(hit.j + 1) in sheet.language.lists["colours"]:
        return False
    plain = hit.entry.more in {"word", EVERYDAY}
    if not plain or text[:1].isupper() or (hit.entry.category == "model" and sheet.grid.has_no_capitals):
        return _is_not_inside_a_name(sheet, hit)
    if _is_in_a_row(sheet, hit) or _is_a_donor(sheet, hit):
        return True
    return hit.entry.category == "maker" and sheet.grid.has_no_capitals and _stands_as_maker(sheet, hit)


def _names_a_colour(sheet: Sheet, hit: Hit) -> bool:
    """Whether a colour's word with its capital stands behind a model's name, and no maker or year before it ("Montero Red")."""
    grid = sheet.grid
    if grid.at(hit.j) not in sheet.language.lists["colours"] or not grid.as_written(hit.j)[:1].isupper() or grid.is_shouting:
        return False
    return sheet.role == "text" and not sheet.ending("maker", hit.i) and not is_year(grid.at(hit.i - 1)) and grid.same_line(hit.i, hit.j)


def _heads(sheet: Sheet, hit: Hit) -> bool:
    """Whether a name that is a common word too stands in a form's entry, or in a headline at its head or behind a year, with its capital."""
    if sheet.role == "maker":
        return True
    first = hit.i == 0 or is_year(sheet.grid.at(hit.i - 1))
    return (
        sheet.role == "title" and first and hit.j < sheet.grid.n and not is_year(sheet.grid.at(hit.j)) and sheet.grid.as_written(hit.i)[:1].isupper()
    )


def _is_of_an_institution(sheet: Sheet, j: int) -> bool:
    """Whether a maker's name ends before a word of its archive, club, dealer or documents, which are not the thing for sale."""
    return sheet.grid.at(j) in sheet.language.lists["institutions"] and sheet.grid.same_line(j - 1, j)


def _is_in_a_row(sheet: Sheet, hit: Hit) -> bool:
    """Whether a plain word stands among other names of makers and models: a tail of keywords without capitals. An
    everyday word needs two of them."""
    before, behind = _name_ending(sheet, hit.i), _name_starting(sheet, hit.j)
    if len(hit.entry.value) < SHORT_NAME:
        return False
    if hit.entry.more == EVERYDAY:
        further = (before and _name_ending(sheet, before.i)) or (behind and _name_starting(sheet, behind.j))
        return bool((before and behind) or further)
    return any(h and h.entry.more not in {EVERYDAY, OF_MAKER} for h in (before, behind))


def _is_a_donor(sheet: Sheet, hit: Hit) -> bool:
    """Whether "off a", "out of a" stands before a long name without its capital ("engine off a sportster")."""
    grid, lists = sheet.grid, sheet.language.lists
    if hit.entry.category != "model" or hit.entry.more == EVERYDAY or len(grid.toks[hit.i]) < LONG_NAME:
        return False
    k = hit.i - 1 - is_year(grid.at(hit.i - 1))
    before = (grid.at(k - 1), f"{grid.at(k - 2)} {grid.at(k - 1)}")
    return grid.at(k) in lists["indefinite"] and grid.same_line(k, hit.i) and not lists["donor_before"].isdisjoint(before)


def _name_ending(sheet: Sheet, i: int) -> Hit | None:
    return sheet.ending("maker", i) or sheet.ending("model", i)


def _name_starting(sheet: Sheet, j: int) -> Hit | None:
    return sheet.starting("maker", j) or sheet.starting("model", j)


def _follows_a_name(sheet: Sheet, hit: Hit) -> bool:
    """Whether a maker, another model or a year stands straight before a name that is an everyday word or a bare figure."""
    grid, i = sheet.grid, hit.i
    if not grid.same_line(i - 1, i):
        return False
    while grid.at(i - 1) in USUAL_SIZES | {"cc"} and grid.same_line(i - 1, hit.i):
        i -= 1
    if sheet.ending("maker", i):
        return True
    if hit.entry.more == OF_MAKER:
        return False
    before = sheet.ending("model", i)
    in_a_row = before is not None and bool(sheet.starting("model", hit.j) or sheet.starting("maker", hit.j))
    year = is_year(grid.at(i - 1)) or (sheet.role == "title" and i == 1 and len(grid.at(0)) == 2 and grid.at(0).isdigit())
    return (
        in_a_row
        or (before is not None and before.entry.more != EVERYDAY and not _is_an_article(sheet, before))
        or year
        or (sheet.role == "title" and i == 0)
    )


def _is_an_article(sheet: Sheet, hit: Hit) -> bool:
    """Whether what could be a one-letter model is a small letter alone ("off a sportster")."""
    return hit.j - hit.i == 1 and len(sheet.grid.toks[hit.i]) == 1 and sheet.grid.as_written(hit.i).islower()


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


def _run_end(sheet: Sheet, i: int, models: dict[int, Hit], makers: set[int], behind_maker: bool) -> int:
    grid, stop = sheet.grid, sheet.language.lists["not_a_model"]
    capitals = not sheet.grid.shadow.islower()
    k, end = i, i
    before: Hit | None = None
    while k < grid.n and k - i < LONGEST_RUN * 2 and (k == i or grid.same_line(k - 1, k)) and (k == i or k not in makers):
        if k in sheet.taken:
            break
        if k in models:
            if before is not None and _is_of_another_maker(before, models[k]):
                break
            before = models[k]
            k = end = before.j
            continue
        if k > i and (behind := _variant_end(sheet, k)) > k:
            k = end = behind
            continue
        tok, written = grid.toks[k], grid.as_written(k)
        if tok in {"-", "/"} and k > i and grid.glued(k) and grid.glued(k + 1):
            k += 1
            continue
        if not tok.isalnum() or tok in stop or _UNITS.fullmatch(tok) or grid.at(k + 1) in MEASURES or (tok.isdigit() and grid.at(k + 1) in COUNTED):
            break
        if is_year(tok) and tok not in sheet.designations and not (tok in YEARLIKE_MODELS and behind_maker and k == i):
            break
        if tok.isdigit() and grid.at(k + 1) in FEET and grid.glued(k + 1) and not grid.glued(k + 2):
            break
        code = bool(_CODE.fullmatch(tok))
        figures = tok.isdigit() and len(tok) <= 4
        if figures and k == i and (tok in USUAL_SIZES or (len(tok) <= 3 and grid.at(i - 1) in sheet.language.lists["outboard_makers"])):
            break
        if figures and grid.at(k + 1) == "-" and grid.glued(k + 1) and grid.at(k + 2) in sheet.language.lists["counted"]:
            break
        if figures and (_is_decimal(sheet, k) or (k > i and not grid.glued(k) and _is_size_behind(sheet, k))):
            break
        named = capitals and written[:1].isupper() and tok.isalpha() and len(tok) > 1 and behind_maker and not written.isupper()
        mark = tok in MARKS and grid.at(k + 1)[:1] and (grid.at(k + 1)[0].isdigit() or grid.at(k + 1) in ROMAN)
        after_mark = k > i and grid.toks[k - 1] in MARKS and (tok.isdigit() or tok in ROMAN)
        short = written.isupper() and tok.isalpha() and len(tok) <= 4 and (k > i or behind_maker) and not grid.is_shouting
        if not (code or figures or named or mark or after_mark or short):
            break
        if tok.isdigit() and len(tok) > 4:
            break
        k += 1
        end = k
    return end


def _variant_end(sheet: Sheet, k: int) -> int:
    """The end of a variant's words at token k ("EX-L", "Touring", "2.5i", "2.5 S"); k where none stands there."""
    grid = sheet.grid
    if grid.toks[k].isdigit() and len(grid.toks[k]) == 1 and grid.at(k + 1) == "." and grid.glued(k + 1) and grid.glued(k + 2):
        if _SIZED_VARIANT.fullmatch(grid.toks[k + 2]):
            return k + 3
        end = _variant_end(sheet, k + 3) if k + 3 < grid.n and grid.toks[k + 2].isdigit() and grid.same_line(k, k + 3) else k
        return end if end == k + 4 and len(grid.toks[k + 3]) <= 2 else k
    for j in range(min(k + LONGEST_VARIANT, grid.n), k, -1):
        if tuple(grid.toks[k:j]) in variants() and grid.same_line(k, j - 1):
            code = len(grid.toks[k]) <= CODE_LETTERS or not grid.toks[k].isalpha()
            alone = j == grid.n or not grid.same_line(k, j) or not grid.toks[j].isalpha()
            named = grid.as_written(k)[:1].isupper() and not grid.is_shouting
            if grid.is_shouting and sheet.role == "text" and not alone:
                continue
            if (
                (code and (grid.has_no_capitals or grid.as_written(k)[:1].isupper() or grid.as_written(j - 1).isupper()))
                or named
                or (not code and alone)
            ):
                return j
    return k


def _is_of_another_maker(one: Hit, other: Hit) -> bool:
    """Whether two models in a row are of different makers: words of a search tail, no run."""
    makers = [maker_of_model().get(h.entry.value.lower(), "") for h in (one, other)]
    return all(makers) and makers[0] != makers[1]


def _is_decimal(sheet: Sheet, k: int) -> bool:
    """Whether figures go on behind a point: a size ("Corsa 1.2"); or before a fraction's bar ("WC 3/4 ton")."""
    grid = sheet.grid
    return grid.at(k + 1) in {".", ",", "/"} and grid.glued(k + 1) and grid.glued(k + 2) and grid.at(k + 2)[:1].isdigit() and len(grid.at(k)) == 1


def _is_size_behind(sheet: Sheet, k: int) -> bool:
    """Whether bare figures behind a designation are a size (a displacement, a wheelbase, cylinders): they end the run."""
    grid = sheet.grid
    tok, behind = grid.toks[k], grid.at(k + 1)
    if grid.toks[k - 1] in MARKS or (
        behind and grid.same_line(k, k + 1) and not grid.glued(k + 1) and len(behind) <= 2 and behind.isalpha() and grid.as_written(k + 1).isupper()
    ):
        return False
    return (tok in USUAL_SIZES and len(tok) < 4) or (len(tok) == 1 and behind in {"cylinder", "cyl", "speed", "door", "seater"})
