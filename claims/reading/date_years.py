"""Whether a bare year is the thing's: beside a name or noun, heading a title, said by papers or people, an entry by itself."""

from bisect import bisect_left

from claims.claim import REPORTED
from claims.names_known import EVERYDAY, OF_MAKER
from claims.reading.date_figures import Date
from claims.reading.date_subjects import DATED_PARTS
from claims.reading.name_parts import is_outboard
from claims.reading.paper_speech import is_said_by_a_paper
from claims.reading.sheet import Sheet
from claims.reading.topics import is_straight_behind, opening_subject, part_in_hand
from claims.values import is_year

NOUN_REACH = 4
CELL_REACH = 4
"""Tokens between a document's colon and a year that it gives."""
HEADED = 2
"""Tokens behind a headline's first year in which a second one may stand for the thing too."""
PARTS_OF_NAMES = frozenset({"engine", "gearbox", "frame", "axle", "component"})
"""Parts that a name may be given to; "hardtop", "cab" behind a name tell the body's style."""
RELATIVE_REACH = 3
"""Tokens before a date in which "which" ties it to the noun before."""
LOOSE_REACH = 9
"""Tokens before a date in which a part's word makes it doubtful whose date it is."""
OPENING_TOKENS = 30
"""Tokens of a line in which a year may stand as an entry of its own."""
_MARKS = frozenset({".", ",", ";", "(", ")", ":", "/", "-", "+"})


def part_of_year(sheet: Sheet, date: Date) -> str:
    """The part or vehicle that a year straight behind it is given to ("Motor von 1968", "2CV de 1957 restaurée"), in
    languages that say so; else an empty string."""
    end = date.i - 1
    if not date.bare or sheet.grid.at(end) not in sheet.language.lists["part_of_year"]:
        return ""
    if sheet.ending("modelrun", end) or sheet.ending("maker", end):
        return "vehicle"
    hit = sheet.ending("part", end)
    return hit.entry.value if hit and hit.entry.value in {*DATED_PARTS, "vehicle"} else ""


def is_before_its_name(sheet: Sheet, date: Date) -> bool:
    """Whether a determiner, the year and the name stand in a row ("…, this 1957 Corvette"), or a season or model year is meant."""
    grid, lists = sheet.grid, sheet.language.lists
    if grid.at(date.j) in lists["seasons"] or (grid.at(date.j) in lists["models_year"] and grid.at(date.j + 1) in lists["year_labels"]):
        return grid.same_line(date.i, date.j)
    named = sheet.starting("modelrun", date.j) or sheet.starting("maker", date.j)
    return named is not None and grid.at(date.i - 1) in lists["pointing"] and grid.same_line(date.i - 1, date.j)


def is_what_papers_say(sheet: Sheet, date: Date) -> bool:
    """Whether "on the V5", "on the title" stands straight behind a year."""
    grid, lists = sheet.grid, sheet.language.lists
    if date.bare and (is_said_by_a_paper(sheet, date.i) or _is_in_a_paper_s_cell(sheet, date)):
        return True
    titled = grid.at(date.i - 1) == "a" and grid.at(date.i - 2) == "as"
    if date.bare and titled and any(h.entry.value == "registered" and h.j <= date.i for h in sheet.beside("event", date.i)):
        return True
    k = date.j
    if grid.at(k) not in lists["on_paper"] or not grid.same_line(date.i, k):
        return False
    k += 1
    while grid.at(k) in lists["place_the"]:
        k += 1
    return sheet.starting("papers", k) is not None


def _is_in_a_paper_s_cell(sheet: Sheet, date: Date) -> bool:
    """Whether a document and a colon open the line of a year ("title: Massachusetts, 1948")."""
    grid = sheet.grid
    first = date.i
    while first > 0 and grid.same_line(first - 1, date.i):
        first -= 1
    hit = sheet.starting("papers", first)
    return hit is not None and grid.at(hit.j) == ":" and date.i - hit.j <= CELL_REACH and sheet.starting("event", date.j) is None


def is_an_item(sheet: Sheet, date: Date) -> bool:
    """Whether a year is an entry by itself among the first words of an advert (", 2016, 38k miles"), or "circa 1930." a sentence."""
    grid = sheet.grid
    before, behind = grid.at(date.i - 1), grid.at(date.j)
    opens = date.i == 0 or not grid.same_line(date.i - 1, date.i) or grid.sentence[date.i - 1] != grid.sentence[date.i] or before == ","
    closes = date.j >= grid.n or not grid.same_line(date.i, date.j) or behind in {",", ".", ";"} or sheet.starting("cue-before", date.j) is not None
    if grid.at(date.i - 1) in sheet.language.lists["about_words"] and closes and (date.i < 2 or grid.sentence[date.i - 2] != grid.sentence[date.i]):
        return True
    named = any(h.j <= date.i for c in ("modelrun", "maker") for h in sheet.beside(c, date.i))
    if opens and before != "," and date.bare and "~" in date.value:
        return True
    if before == "," and closes and date.bare and named and "X" in date.value:
        return True
    return (
        opens
        and closes
        and (
            "~" in date.value
            or (
                date.bare
                and sheet.role in {"text", "title"}
                and date.i - bisect_left(grid.line, grid.line[date.i]) < OPENING_TOKENS
                and before == ","
            )
        )
    )


def named_beside(sheet: Sheet, date: Date) -> str:
    """The part or vehicle that a year stands beside ("1948 tractor", "1952 cylinder head", "QF-5 of 1929"), or an empty string."""
    grid = sheet.grid
    k = date.i
    if grid.at(k - 1) == "(" and grid.at(date.j) == ")":
        k -= 1
    while (grid.at(k - 1) == "," or grid.at(k - 1) in sheet.language.lists["of_year"]) and grid.same_line(k - 1, date.i):
        k -= 1
    ends = sheet.role == "title" or not grid.at(date.j).isalnum()
    noun = sheet.ending("part", k) if k < date.i and grid.at(k) == "," and ends else None
    if (sheet.ending("modelrun", k) or sheet.ending("maker", k) or (noun and noun.entry.value == "vehicle")) and (
        not grid.at(date.j).isalnum() or k == date.i or grid.at(date.j) in _MARKS or grid.at(date.j) in sheet.language.lists["after_year"]
    ):
        return "vehicle"
    if sheet.role == "title" and (hit := sheet.ending("part", date.i)):
        return hit.entry.value
    if grid.at(date.i - 1) in {"is", "was", "a", "an"} and (named := subject(sheet, date.i)) in DATED_PARTS:
        return named
    opens = is_straight_behind(sheet, date.i)
    for k in range(date.j, min(date.j + NOUN_REACH, grid.n)):
        if not grid.same_line(date.i, k) or grid.toks[k] in _MARKS or grid.toks[k] in sheet.language.lists["after_year"]:
            break
        if hit := sheet.starting("part", k):
            return hit.entry.value
        known = sheet.starting("model", k)
        if sheet.starting("modelrun", k) or sheet.starting("maker", k) or (known and known.entry.more not in {EVERYDAY, OF_MAKER}):
            return part_behind_names(sheet, k) or (
                "engine" if is_outboard(sheet, k) else part_in_hand(sheet, date.i) if opens else opening_subject(sheet, date.i) or "vehicle"
            )
    return ""


def part_behind_names(sheet: Sheet, k: int) -> str:
    """The part whose word stands behind the names from token k on ("a 1988 S10 frame", "a 1969 Volkswagen pan"); empty for none."""
    grid = sheet.grid
    first = k
    while hit := sheet.starting("modelrun", k) or sheet.starting("maker", k) or sheet.starting("model", k):
        k = hit.j
    part = sheet.starting("part", k) if grid.same_line(first, k) else None
    if part is None or part.entry.value not in PARTS_OF_NAMES or grid.at(part.j) in {"no", "number", "numbers", "#"}:
        return ""
    if grid.toks[part.i] in sheet.language.lists["layouts"] or grid.toks[part.j - 1] in sheet.language.lists["speeds"]:
        return ""
    return part.entry.value


def is_what_somebody_says(sheet: Sheet, date: Date) -> bool:
    """Whether words of hearsay stand straight before a year: "papers say 1969", "titled as a 1969", "the book says 1948"."""
    grid = sheet.grid
    for k in range(date.i, max(date.i - 4, 0), -1):
        hit = sheet.ending("cue-after", k)
        if (hit and sheet.language.cues[hit.entry.value].stance == REPORTED) or grid.toks[k - 1] in sheet.language.lists["saying"]:
            return grid.same_line(k - 1, date.i) or grid.sentence[k - 1] == grid.sentence[date.i]
        if grid.toks[k - 1] not in sheet.language.lists["said_fillers"]:
            return False
    return False


def subject(sheet: Sheet, i: int) -> str:
    """The part of which "… is (a) 1971" is said, else the vehicle."""
    k = i - 1
    while sheet.grid.at(k) in sheet.language.lists["is_a"]:
        k -= 1
    hit = sheet.ending("part", k + 1)
    return hit.entry.value if hit else "vehicle"


def heads(sheet: Sheet, date: Date) -> bool:
    """Whether a year in a title stands free: at its head, its end, or between punctuation; no year of a test or a look."""
    grid = sheet.grid
    if sheet.ending("papers", date.i) or grid.at(date.j) in sheet.language.lists["looks"]:
        return False
    before, behind = grid.at(date.i - 1), grid.at(date.j)
    if date.i > HEADED and is_year(grid.toks[0]) and grid.toks[0] != date.value:
        return False
    if (
        before.isalnum()
        and any(is_year(t) and not sheet.covering("modelrun", k) for k, t in enumerate(grid.toks[: date.i]))
        and not sheet.ending("modelrun", date.i)
        and not sheet.ending("maker", date.i)
    ):
        return False
    only = sum(is_year(t) for t in grid.toks) == 1 and bool(sheet.found("modelrun") or sheet.found("maker"))
    return date.i == 0 or not before.isalnum() or not behind.isalnum() or (only and before not in sheet.language.lists["not_before_year"])


def is_said_to_be(sheet: Sheet, date: Date) -> bool:
    """Whether "it is a", "year:" or a line of its own says the year of the thing."""
    grid = sheet.grid
    i = date.i
    lists = sheet.language.lists
    if {grid.at(i - 1), grid.at(i)} & lists["two_years_behind"] and "/" in date.value and grid.at(date.j - 2) in lists["span_or"]:
        return True
    alone = not grid.same_line(i - 1, i) and (not grid.same_line(i, date.j) or grid.at(date.j) in {".", ",", "|", "-"})
    if alone:
        return (
            i == 0
            or (grid.at(date.j) in {".", ","} and grid.sentence[i - 1] != grid.sentence[i])
            or grid.at(i - 1) in sheet.language.lists["year_labels"]
            or (grid.at(i - 1) == ":" and grid.at(i - 2) in sheet.language.lists["year_labels"])
        )
    before = [grid.at(k) for k in range(max(0, i - 3), i) if grid.same_line(k, i)]
    if not before:
        return False
    if before[-1] in {":", "=", "|"} and len(before) > 1 and before[-2] in {"year", "date", "y"}:
        return True
    if before[-1] in {"a", "an"} and len(before) > 1 and before[-2] in {"is", "s", "be", "its", "was", "as", "believe", "not"}:
        behind = grid.at(date.j)
        named = behind.isalpha() and grid.as_written(date.j)[:1].isupper() and not grid.is_shouting
        return not behind.isalnum() or named or behind in {"with", "and", "but", "model", "so", "i", "not", "as", "one"}
    if before[-1] == "s" and (len(before) < 3 or before[-2] != "'" or before[-3] not in lists["year_subjects"]):
        return False
    if before[-1] in {"a", "an"} and len(before) > 2 and before[-2] in lists.any_of("anaphor_it", "pronouns") and before[-3] in lists["makes"]:
        return True
    if before[-1] in {"from", "to"} and len(before) > 1 and before[-2] in lists["dating_verbs"]:
        return True
    if before[-1] == "the" and len(before) > 2 and before[-3] in lists["dating_verbs"]:
        return True
    if before[-1] in sheet.language.lists["year_is"] and (before[-1] not in lists["so"] or is_year(grid.toks[i])):
        behind = grid.at(date.j)
        remark = sheet.starting("cue-before", date.j) is not None or behind in sheet.language.lists["after_said_year"]
        return not grid.same_line(i, date.j) or not behind.isalnum() or remark
    return before[-1] == "year" and (len(before) < 2 or before[-2] in {"model", "the", ","})


def is_loose(sheet: Sheet, date: Date) -> bool:
    """Whether a date in running text may be another thing's: a part stands before it, it comes "from a", or brackets hold it beside another noun."""
    grid, lists = sheet.grid, sheet.language.lists
    if sheet.role != "text":
        return False
    i = date.i - (grid.at(date.i - 1) in lists["of_year"])
    while hit := sheet.ending("maker", i) or sheet.ending("modelrun", i) or sheet.ending("model", i):
        i = hit.i
    before = i - 1
    if grid.at(before) in lists["indefinite"] and grid.at(before - 1) in lists["from_a"] and grid.same_line(before - 1, date.i):
        return True
    between = range(i - 1, max(i - 1 - LOOSE_REACH, -1), -1)
    same = [k for k in between if grid.sentence[k] == grid.sentence[date.i] and grid.same_line(k, date.i)]
    bracket = next((k for k in same if grid.toks[k] in {"(", ")"}), -1)
    if bracket >= 0 and grid.toks[bracket] == "(":
        return _brackets_another(sheet, bracket)
    if _is_said_of_another(sheet, i):
        return True
    if lists["relatives"] & set(grid.toks[max(0, i - RELATIVE_REACH) : i]):
        return True
    for k in same:
        if grid.toks[k] in {",", ")"}:
            return False
        hit = sheet.ending("part", k + 1)
        if hit and hit.entry.value != "vehicle":
            return True
    return False


def _is_said_of_another(sheet: Sheet, i: int) -> bool:
    """Whether "is (a)" before a year at token i has a subject that is no pronoun, vehicle or name ("the top box is a 1998", "… and is 1954")."""
    grid, lists = sheet.grid, sheet.language.lists
    k = i - 1
    while grid.at(k) in lists["indefinite"] and grid.same_line(k, i):
        k -= 1
    if grid.at(k) not in lists["number_is"] or not grid.same_line(k, i):
        return False
    k -= 1
    if k < 0 or grid.sentence[k] != grid.sentence[i] or grid.toks[k] in lists.any_of("year_subjects", "pronouns", "year_labels"):
        return False
    hit = sheet.ending("part", k + 1)
    named = sheet.ending("modelrun", k + 1) or sheet.ending("maker", k + 1)
    return not (named or sheet.ending("vehiclenoun", k + 1) or (hit and hit.entry.value == "vehicle"))


def _brackets_another(sheet: Sheet, k: int) -> bool:
    """Whether the word before the bracket at token k is a noun that no one knows ("the snow blower (1981)")."""
    grid = sheet.grid
    word = grid.at(k - 1)
    known = any(sheet.ending(c, k) for c in ("maker", "modelrun", "model", "vehiclenoun")) or (
        (hit := sheet.ending("part", k)) is not None and hit.entry.value == "vehicle"
    )
    return word.isalpha() and not known and grid.sentence[k - 1] == grid.sentence[k] and grid.same_line(k - 1, k)
