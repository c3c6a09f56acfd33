"""Which part a statement of originality is about: the one named behind it, before it, or at the head of its line."""

from typing import NamedTuple

from claims.reading.sheet import Sheet

NOUN_REACH = 5
FAR_WORDS = 7
WORDS_BETWEEN = 3
HEADING_WORDS = 14
TOPIC_WORDS = 7
TOPIC_START = 4
"""Words of a sentence within which its subject is named."""
ASIDE_WORDS = 7
ANAPHOR_WORDS = 16
MAJOR = frozenset({"engine", "gearbox", "frame", "axle"})


class Span(NamedTuple):
    """A part and the tokens [i, j) that name it."""

    part: str
    i: int
    j: int


def parts_from(sheet: Sheet, k: int) -> list[Span]:
    """The parts that stand at token k, a list of them included ("frame and engine")."""
    grid = sheet.grid
    out: list[Span] = []
    reach = k + NOUN_REACH
    while k < min(reach, grid.n):
        hit = sheet.starting("part", k)
        if hit is None or (out and not grid.same_line(k - 1, k)):
            break
        if grid.at(hit.j) in {"manual", "book", "bill", "oil", "number", "numbers", "plate"} and hit.entry.value not in {"plate"}:
            break
        out.append(Span(hit.entry.value, hit.i, hit.j))
        k = hit.j
        following = sheet.starting("part", k + 1) or (sheet.starting("part", k + 2) if grid.at(k + 1) in sheet.language.lists["articles"] else None)
        if (
            grid.at(k) in sheet.language.lists["and"]
            and following
            and following.entry.value not in {p.part for p in out}
            and (hit.entry.value in MAJOR or grid.at(k) != ",")
        ):
            reach += following.i - k + 1
            k = following.i
    return out


def parts_past_words(sheet: Sheet, k: int) -> list[Span]:
    """A part behind a word or two that describe it ("original brass tank", "replacement galvanised chassis")."""
    grid = sheet.grid
    for step in range(1, WORDS_BETWEEN):
        at = k + step
        word = grid.at(at - 1)
        if (
            not grid.same_line(k - 1, at)
            or not word.isalnum()
            or word in sheet.language.lists["after_alone"]
            or sheet.starting("unoriginal", at - 1)
            or word in sheet.language.lists["parts_words"]
        ):
            return []
        if parts := parts_from(sheet, at):
            return parts
    return []


def before_copulas(sheet: Sheet, i: int) -> int:
    """The last token before i that is no copula or adverb, on its line; nor a date, in languages that set it there ("Motor 2016 überholt")."""
    lists, k = sheet.language.lists, i - 1
    while k >= 0 and sheet.grid.same_line(k, i) and (sheet.grid.toks[k] in lists["copulas"] or (lists["late_events"] and k in sheet.taken)):
        k -= 1
    return k


def _before_aside(sheet: Sheet, k: int) -> int:
    """The token before a number or an aside set between commas that ends at comma k ("the engine, QE 13080, is …", "the
    motor, I believe, is …"), or k."""
    grid = sheet.grid
    if grid.at(k) != ",":
        return k
    first = next((n for n in range(k - 1, max(k - 1 - ASIDE_WORDS, 0), -1) if grid.toks[n] == ","), 0)
    if first and sheet.ending("part", first) and not any(sheet.starting("part", n) for n in range(first, k)):
        return first - 1
    n = k - 1
    while n >= 0 and grid.same_line(n, k) and (n in sheet.taken or n in sheet.labels or grid.toks[n] in sheet.language.lists["number_links"]):
        n -= 1
    if n == k - 1:
        return k
    return n - (grid.at(n) == ",")


def far_subject(sheet: Sheet, i: int, *, anaphor: bool = False, verb: bool = False) -> list[Span]:
    """The part last named in the clause before "is a replacement" and its like, with some words between.

    A comma may stand between where the words point back to the part (`anaphor`: "moteur bloqué, ce n'est plus celui
    d'origine") or a verb straight behind it goes on with the same subject ("engine is seized, was replaced"); so does a participle straight behind it
    (`verb`: "motor is a 1.8 from a wreck, swapped in 2016").
    """
    grid, lists = sheet.grid, sheet.language.lists
    reach = ANAPHOR_WORDS if anaphor or lists["late_events"] or (verb and grid.at(i - 1) == ",") else FAR_WORDS
    near = [
        h for h in sheet.beside("part", i)
        if h.j <= i and i - h.j <= reach and grid.clause[h.i] == grid.clause[i] and h.entry.value != "vehicle"
    ]  # fmt: skip
    if not near:
        return []
    between = grid.toks[near[-1].j : i]
    if set(between).isdisjoint(lists["far_copulas"]):
        return []
    said = {*grid.toks[before_copulas(sheet, i) + 1 : i], grid.at(i)}
    goes_on = verb and between[-1:] == [","] and between.count(",") == 1 and between[0] in lists["auxiliaries"]
    if (
        not goes_on
        and grid.at(i).endswith("ed")
        and lists["agents"]
        and said.isdisjoint(lists["auxiliaries"])
        and grid.at(i - 1) not in lists["agents"]
    ):
        return []
    commas = [n for n, t in enumerate(between) if t == ","]
    if commas and not anaphor and not goes_on and not all(n + 1 < len(between) and between[n + 1] in lists["auxiliaries"] for n in commas):
        return []
    return [Span(p.part, i, i) for p in _list_ending(sheet, near[-1].j - 1)]


def subject_before(sheet: Sheet, i: int) -> list[Span]:
    """The parts that are the subject of a statement ending at token i ("frame and engine are original"); a number of theirs
    or "which" may stand between ("the engine, QE 13080, is …", "the engine, which was …")."""
    grid, lists = sheet.grid, sheet.language.lists
    k = before_copulas(sheet, i)
    skipped = set(grid.toks[k + 1 : i])
    if grid.at(k) in lists["relatives"]:
        k -= 1 + (grid.at(k - 1) == ",")
    elif skipped & lists["auxiliaries"] or skipped & lists["both"]:
        k = _before_aside(sheet, k)
    if k < 0 or grid.clause[k] != grid.clause[i - 1 if i else 0] or not grid.same_line(k, i):
        return []
    return _list_ending(sheet, k, asides=bool(skipped & lists["both"]))


def _list_ending(sheet: Sheet, k: int, *, asides: bool = False) -> list[Span]:
    """The parts of a list whose last one ends with token k, in order; with `asides` a number may stand behind each."""
    grid, lists = sheet.grid, sheet.language.lists
    clause, line = grid.clause[k], grid.line[k]
    joined = False
    out: list[Span] = []
    while k >= 0 and grid.clause[k] == clause and grid.line[k] == line:
        hit = sheet.ending("part", k + 1)
        if hit is None:
            break
        if hit.entry.value != "vehicle":
            out.append(Span(hit.entry.value, hit.i, hit.j))
        k = hit.i - 1
        side = k
        while grid.at(side) in lists["side_words"]:
            side -= 1
        joint = grid.at(side)
        if joint in lists["and"] and (joint not in lists["enumerations"] or joined) and sheet.ending("part", side):
            joined = True
            k = side - 1
        elif asides and sheet.ending("part", _before_aside(sheet, k) + 1):
            k = _before_aside(sheet, k)
        else:
            break
    return list(reversed(out))


def heading_of(sheet: Sheet, i: int) -> list[Span]:
    """The part at the head of the line or sentence of token i, where it is the only one before it: "Data plate: aluminium,
    a reproduction", "* MAGNETO - brass cap, overhauled", "Magneto no. 77124, rebuilt"."""
    grid, told = sheet.grid, before_copulas(sheet, i)
    if told >= 0 and grid.toks[told].isalpha():
        return []
    for same in (grid.line, grid.sentence):
        first = i
        while first > 0 and same[first - 1] == same[i] and i - first < HEADING_WORDS:
            first -= 1
        while first < i and not grid.toks[first].isalnum():
            first += 1
        first += grid.at(first) in sheet.language.lists["articles"]
        hit = sheet.starting("part", first) or sheet.starting("part", first + 1)
        if hit is None or hit.entry.value == "vehicle" or hit.j >= i or grid.clause[hit.i] > grid.clause[i]:
            continue
        numbered = hit.j in sheet.taken or grid.at(hit.j) in sheet.language.lists["number_links"]
        heads = {":", "|", "-"} if same is grid.line else {":", "|", "-", ","}
        if not (grid.at(hit.j) in heads or (numbered and same is grid.sentence)) or not set(grid.toks[hit.j : i]).isdisjoint(
            sheet.language.lists["far_copulas"]
        ):
            continue
        others = [h for n in {hit.i, i} for h in sheet.beside("part", n) if hit.j <= h.i < i and h.entry.value not in {hit.entry.value, "vehicle"}]
        if not others:
            return [Span(hit.entry.value, i, i)]
    return []


def opening_part(sheet: Sheet, i: int) -> list[Span]:
    """The part that opens the sentence before a comma and a participle at token i ("Magneto with a brass cap, reconditioned")."""
    grid = sheet.grid
    k = before_copulas(sheet, i)
    if grid.at(k) != "," or not grid.same_line(k, i):
        return []
    first = k
    while first > 0 and grid.sentence[first - 1] == grid.sentence[i] and grid.same_line(first - 1, i):
        first -= 1
    while first < k and not grid.toks[first].isalnum():
        first += 1
    first += grid.toks[first] in sheet.language.lists["articles"]
    hit = sheet.starting("part", first) or sheet.ending("part", k)
    return [Span(hit.entry.value, i, i)] if hit and hit.entry.value != "vehicle" else []


def topic_of(sheet: Sheet, i: int) -> list[Span]:
    """The part that "it" stands for in "It is a reproduction": the first one named in the sentence before, on the same
    line, unless that sentence is about the vehicle."""
    grid, lists = sheet.grid, sheet.language.lists
    k = before_copulas(sheet, i)
    while k >= 0 and grid.same_line(k, i) and i - k < TOPIC_WORDS and grid.toks[k] not in lists["pronouns"] and grid.sentence[k] == grid.sentence[i]:
        k -= 1
    pronoun = next((n for n in range(max(k, 0), i) if grid.toks[n] in lists["pronouns"] and grid.sentence[n] == grid.sentence[i]), -1)
    if pronoun > 0 and (same := _of_the_sentence(sheet, pronoun)):
        return same
    before = pronoun - 1
    while before >= 0 and (not grid.toks[before].isalnum() or grid.toks[before] in lists["answers"]):
        before -= 1
    if pronoun < 0 or before < 0 or not grid.same_line(before, i) or grid.sentence[before] == grid.sentence[i]:
        return []
    first = before
    while first > 0 and grid.sentence[first - 1] == grid.sentence[before]:
        first -= 1
    named = [h for h in sheet.beside("part", before) if h.i - first <= TOPIC_START]
    return [Span(named[0].entry.value, i, i)] if named and named[0].entry.value != "vehicle" else []


def _of_the_sentence(sheet: Sheet, pronoun: int) -> list[Span]:
    """The part that a pronoun stands for where its sentence opens with one and a comma stands between: "The engine is from a
    later one, the family told me it was changed"."""
    grid = sheet.grid
    first = pronoun
    while first > 0 and grid.sentence[first - 1] == grid.sentence[pronoun] and grid.same_line(first - 1, pronoun):
        first -= 1
    named = [h for h in sheet.beside("part", pronoun) if h.i < pronoun and grid.same_line(h.i, pronoun)]
    if not named or named[0].i - first > 1 or "," not in grid.toks[named[0].j : pronoun] or len({h.entry.value for h in named} - {"vehicle"}) != 1:
        return []
    return [Span(named[0].entry.value, pronoun, pronoun)] if named[0].entry.value != "vehicle" else []


def also_named(sheet: Sheet, j: int) -> list[str]:
    """The part behind a statement that ends at token j of which it holds too ("…, the gearbox likewise", "… and the axle too")."""
    grid, lists = sheet.grid, sheet.language.lists
    k = j + (grid.at(j) == ",")
    k += grid.at(k) in lists["and"]
    k += grid.at(k) in lists["articles"]
    hit = sheet.starting("part", k)
    return [hit.entry.value] if hit and k > j and grid.same_line(j - 1, k) and grid.at(hit.j) in lists["also"] else []
