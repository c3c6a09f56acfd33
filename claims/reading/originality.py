"""How the thing relates to how it left the factory: matching numbers, original, restored, replaced, replica …

A phrase is said of the whole, of a part that stands beside it, or of either. What stands behind "original" decides
whether it is a claim at all: original owner, miles, colour and manual are none. The span covers the telling word and
the part that it is said of, where they stand together.
"""

from collections.abc import Iterator
from typing import NamedTuple

from claims.claim import DENIED, HEDGED, STATED
from claims.lexicon import Hit
from claims.reading.sheet import Draft, Sheet

NOUN_REACH = 5
FAR_WORDS = 7
WORDS_BETWEEN = 3
_BEHIND_A_HYPHEN = frozenset({"powered", "engined", "style"})
_MAJOR = frozenset({"engine", "gearbox", "frame", "axle"})


class Span(NamedTuple):
    """A part and the tokens [i, j) that name it."""

    part: str
    i: int
    j: int


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of every originality claim of a field."""
    yield from _powered(sheet)
    for hit in sheet.found("originality"):
        entry = hit.entry
        if not entry.value or not sheet.is_free(hit.i, hit.i + 1):
            continue
        if entry.part == "original":
            yield from _original(sheet, hit)
        elif entry.part == "whole":
            yield from _whole(sheet, hit)
        elif entry.part not in {"part", "either"}:
            yield Draft("originality", entry.part, entry.value, hit.i, hit.j)
        else:
            yield from _of_part(sheet, hit, entry.part == "either")


def _powered(sheet: Sheet) -> Iterator[Draft]:
    """A headline's idiom: "350-powered", "Quillfeather-powered" is another engine; "Fowler-style" is a replica."""
    grid = sheet.grid
    if _BEHIND_A_HYPHEN.isdisjoint(grid.toks):
        return
    for i, tok in enumerate(grid.toks):
        if tok not in _BEHIND_A_HYPHEN or i < 2 or not (grid.glued(i) and grid.toks[i - 1] == "-" and grid.glued(i - 1)):
            continue
        if tok in {"powered", "engined"}:
            yield Draft("originality", "engine", "replaced", i - 2, i + 1)
        elif tok == "style" and (sheet.ending("maker", i - 1) or sheet.ending("model", i - 1)):
            yield Draft("originality", "vehicle", "replica", i - 2, i + 1)


def _drafts(value: str, hit: Hit, parts: list[Span]) -> Iterator[Draft]:
    """A claim for each part, all with the span of the phrase and its parts."""
    i, j = min([hit.i, *(p.i for p in parts)]), max([hit.j, *(p.j for p in parts)])
    own = DENIED if hit.entry.more == DENIED else HEDGED if hit.entry.more == HEDGED else STATED
    for part in dict.fromkeys(p.part for p in parts):
        yield Draft("originality", part, value, i, j, own)


def _whole(sheet: Sheet, hit: Hit) -> Iterator[Draft]:
    if hit.entry.value in {"replica", "composite"} and sheet.starting("unoriginal", hit.j):
        return
    parts = [p for p in _subject(sheet, hit.i) if p.part != "vehicle"] if hit.entry.value in {"unrestored", "replica"} else []
    if hit.entry.value == "replica" and not parts and sheet.grid.toks[hit.i] != "in":
        parts = [p for p in _parts_from(sheet, hit.j) if p.part != "vehicle"]
        if parts:
            yield from _drafts("reproduction", hit, parts)
            return
    if parts:
        yield from _drafts("reproduction" if hit.entry.value == "replica" else hit.entry.value, hit, parts)
    else:
        yield Draft("originality", "vehicle", hit.entry.value, hit.i, hit.j)


def _original(sheet: Sheet, hit: Hit) -> Iterator[Draft]:
    grid = sheet.grid
    if grid.toks[hit.j - 1] in sheet.language.lists["noun_first"]:
        yield from _original_behind(sheet, hit)
        return
    k = hit.j
    while (
        grid.at(k) in sheet.language.lists["between"]
        and grid.same_line(hit.i, k)
        and not sheet.starting("part", k)
        and not sheet.starting("paint", k)
    ):
        k += 1
    if paint := sheet.starting("paint", k):
        yield Draft("originality", "body", "original", hit.i, paint.j)
        return
    parts = _parts_from(sheet, k) or _parts_past_words(sheet, k)
    unsaid = sheet.starting("unoriginal", k)
    if unsaid and grid.same_line(hit.i, k) and not (parts and parts[0].i == k and parts[0].j >= unsaid.j):
        return
    if parts:
        yield from _drafts("original", hit, [p for p in parts if p.part != "vehicle"] or [Span("vehicle", hit.i, hit.j)])
        return
    if any(p in grid.toks[hit.i : hit.j] for p in ("to",)) and (far := _far_subject(sheet, hit.i)):
        yield from _drafts("original", hit, far)
        return
    if sheet.starting("vehiclenoun", k) or _is_of_the_whole(sheet, hit):
        yield from _drafts("original", hit, _subject(sheet, hit.i) or [Span("vehicle", hit.i, hit.j)])
        return
    ended = (
        hit.j >= grid.n
        or not grid.same_line(hit.i, hit.j)
        or not grid.toks[hit.j].isalnum()
        or grid.toks[hit.j] in sheet.language.lists["after_alone"]
    )
    if ended:
        paints = sheet.ending("paint", _before_copulas(sheet, hit.i) + 1)
        subject = _subject(sheet, hit.i)
        if paints:
            yield Draft("originality", "body", "original", paints.i, hit.j)
        elif subject or (subject := _far_subject(sheet, hit.i) if sheet.grid.at(hit.i - 1) in sheet.language.lists["copulas"] else []):
            yield from _drafts("original", hit, subject)
        elif _says_of_it(sheet, hit.i):
            yield from _drafts("original", hit, [Span("vehicle", hit.i, hit.j)])


def _original_behind(sheet: Sheet, hit: Hit) -> Iterator[Draft]:
    """ "Original" in a language that sets it behind its noun ("moteur d'origine", "la peinture est d'origine")."""
    end = _before_copulas(sheet, hit.i) + 1
    if any(sheet.ending("unoriginal", k) for k in (hit.i, end)):
        return
    if paint := sheet.ending("paint", end):
        yield Draft("originality", "body", "original", paint.i, hit.j)
    elif parts := _subject(sheet, hit.i):
        yield from _drafts("original", hit, parts)
    elif (noun := sheet.ending("vehiclenoun", end)) or _says_of_it(sheet, hit.i) or _is_of_the_whole(sheet, hit):
        yield from _drafts("original", hit, [Span("vehicle", noun.i if noun and end == hit.i else hit.i, hit.j)])


def _is_of_the_whole(sheet: Sheet, hit: Hit) -> bool:
    return any(t in sheet.language.lists["whole_signs"] for t in sheet.grid.toks[hit.i : hit.j])


def _says_of_it(sheet: Sheet, i: int) -> bool:
    """Whether "it is", a list's start or a comma stands before: said of the vehicle."""
    grid = sheet.grid
    return (
        i == 0 or not grid.same_line(i - 1, i) or (grid.at(i - 1) in sheet.language.lists["before_alone"] and not sheet.covering("unoriginal", i - 2))
    )


def _of_part(sheet: Sheet, hit: Hit, whole_too: bool) -> Iterator[Draft]:
    grid, entry = sheet.grid, hit.entry
    inside = [Span(h.entry.value, h.i, h.j) for h in sheet.beside("part", hit.i) if hit.i <= h.i and h.j <= hit.j and h.entry.value in _MAJOR]
    if entry.value in {"restored", "rebuilt"} and grid.at(hit.j) in sheet.language.lists["unreal"]:
        return
    if entry.value == "matching_numbers":
        behind = [p for p in _parts_from(sheet, hit.j) if p.part in _MAJOR]
        pair = inside if len({p.part for p in inside}) > 1 else []
        if grid.at(hit.j) in {"on", "of", "for"}:
            behind = []
        yield from _drafts(
            entry.value, hit, behind or pair or (inside if "numbers" not in grid.toks[hit.i : hit.j] else []) or [Span("vehicle", hit.i, hit.j)]
        )
        return
    if inside:
        yield from _drafts(entry.value, hit, inside[:1])
        return
    k = hit.j
    fillers = sheet.language.lists["between"] | sheet.language.lists["between_too"]
    while grid.at(k) in fillers and grid.same_line(hit.i, k) and not sheet.starting("part", k) and k - hit.j < 4:
        k += 1
    stopped = not grid.same_line(hit.i, hit.j) or grid.at(hit.j) in {".", ",", ";", ":", "-"} or grid.at(hit.j) in sheet.language.lists["stops_part"]
    stopped = stopped or bool(sheet.language.lists["noun_first"] and _subject(sheet, hit.i))
    named = [] if stopped else [p for p in _parts_from(sheet, k) or _parts_past_words(sheet, k) if p.part != "vehicle"]
    only = entry.more.split() if entry.more not in {DENIED, HEDGED} else []
    if only:
        named = [p for p in named if p.part in only]
        if named and (not grid.at(named[0].j).isalpha() or grid.at(named[0].j) in sheet.language.lists["after_new"]):
            yield from _drafts(entry.value, hit, named)
        return
    subject = [] if named else [p for p in _subject(sheet, hit.i) if p.part != "vehicle"]
    anaphor = any(t in sheet.language.lists["anaphors"] for t in grid.toks[hit.i : hit.j])
    parts = named or subject or _far_subject(sheet, hit.i, anaphor=anaphor)
    if parts:
        yield from _drafts(entry.value, hit, parts)
    elif whole_too:
        yield Draft("originality", "vehicle", entry.value, hit.i, hit.j)


def _parts_from(sheet: Sheet, k: int) -> list[Span]:
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
        following = sheet.starting("part", k + 1)
        if (
            grid.at(k) in sheet.language.lists["and"]
            and following
            and following.entry.value not in {p.part for p in out}
            and (hit.entry.value in _MAJOR or grid.at(k) != ",")
        ):
            k += 1
            reach += 2
    return out


def _parts_past_words(sheet: Sheet, k: int) -> list[Span]:
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
        if parts := _parts_from(sheet, at):
            return parts
    return []


def _before_copulas(sheet: Sheet, i: int) -> int:
    """The last token before i that is no copula or adverb, on its line; nor a date, in languages that set it there ("Motor 2016 überholt")."""
    lists, k = sheet.language.lists, i - 1
    while k >= 0 and sheet.grid.same_line(k, i) and (sheet.grid.toks[k] in lists["copulas"] or (lists["late_events"] and k in sheet.taken)):
        k -= 1
    return k


def _far_subject(sheet: Sheet, i: int, *, anaphor: bool = False) -> list[Span]:
    """The part last named in the clause before "is a replacement" and its like, with some words between, and a comma
    too where the words point back to it (`anaphor`: "moteur bloqué, ce n'est plus celui d'origine")."""
    grid = sheet.grid
    near = [
        h for h in sheet.beside("part", i) if h.j <= i and i - h.j <= FAR_WORDS and grid.clause[h.i] == grid.clause[i] and h.entry.value != "vehicle"
    ]
    if not near or not set(grid.toks[near[-1].j : i]) & sheet.language.lists["far_copulas"] or (not anaphor and "," in grid.toks[near[-1].j : i]):
        return []
    return [Span(near[-1].entry.value, i, i)]


def _subject(sheet: Sheet, i: int) -> list[Span]:
    """The parts that are the subject of a statement ending at token i ("frame and engine are original")."""
    grid = sheet.grid
    k = _before_copulas(sheet, i)
    out: list[Span] = []
    while k >= 0 and grid.clause[k] == grid.clause[i - 1 if i else 0] and grid.same_line(k, i):
        hit = sheet.ending("part", k + 1)
        if hit is None:
            break
        if hit.entry.value != "vehicle":
            out.append(Span(hit.entry.value, hit.i, hit.j))
        k = hit.i - 1
        if grid.at(k) in sheet.language.lists["and"] and sheet.ending("part", k):
            k -= 1
        else:
            break
    return list(reversed(out))
