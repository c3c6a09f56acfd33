"""What "original" and its like are said of: what stands behind decides whether it is a claim at all, before or behind is its part."""

from collections.abc import Iterator

from claims.lexicon import Hit
from claims.reading.originality_spans import drafts_of, own_stance
from claims.reading.other_parts import noun_before
from claims.reading.sheet import Draft, Sheet
from claims.reading.subjects import Span, before_copulas, far_subject, parts_from, parts_past_words, subject_before
from claims.reading.topics import opening_subject

PAINT_WORDS = 4
OPENED_REACH = 8
CLOSES = "closes"
"""What an entry may need besides: a closing word ("the one it left … with")."""


def said_original(sheet: Sheet, hit: Hit) -> Iterator[Draft]:
    """Drafts of a statement that holds "original": of the paint, a part, the whole, or nothing (its owner, its manual)."""
    grid = sheet.grid
    if grid.toks[hit.j - 1] in sheet.language.lists["noun_first"]:
        yield from _original_behind(sheet, hit)
        return
    k = hit.j + (grid.at(hit.j) == "." and grid.toks[hit.j - 1] in sheet.language.lists["abbreviated"])
    while (
        grid.at(k) in sheet.language.lists["between"]
        and grid.same_line(hit.i, k)
        and not sheet.starting("part", k)
        and not sheet.starting("paint", k)
    ):
        k += 1
    if paint := sheet.starting("paint", k) or _paint_past_words(sheet, k):
        yield Draft("originality", "body", "original", hit.i, paint.j, own_stance(hit))
        return
    if sheet.language.lists["of_it"] & set(grid.toks[hit.i : hit.j]):
        if found := subject_before(sheet, hit.i) or far_subject(sheet, hit.i) or _opened(sheet, hit.i) or noun_before(sheet, hit, plainly=True):
            yield from drafts_of(sheet, "original", hit, found)
            return
        if not _says_of_it(sheet, hit.i) or hit.entry.more == CLOSES:
            return
    parts = parts_from(sheet, k) or parts_past_words(sheet, k)
    unsaid = sheet.starting("unoriginal", k)
    if unsaid and grid.same_line(hit.i, k) and not (parts and parts[0].i == k and parts[0].j >= unsaid.j):
        return
    subject = [p for p in subject_before(sheet, hit.i) if p.part != "vehicle"] if parts and grid.at(hit.i - 1) in sheet.language.lists["be"] else []
    if subject:
        yield from drafts_of(sheet, "original", Hit(hit.i, max(p.j for p in parts), hit.entry), subject)
        return
    if parts:
        yield from drafts_of(sheet, "original", hit, [p for p in parts if p.part != "vehicle"] or [Span("vehicle", hit.i, hit.j)])
        return
    paints = sheet.ending("paint", before_copulas(sheet, hit.i) + 1)
    if not paints and (sheet.starting("vehiclenoun", k) or _is_of_the_whole(sheet, hit)):
        told = grid.toks[hit.i] in sheet.language.lists["as"] or grid.at(k) in sheet.language.lists["stand_ins"]
        found = subject_before(sheet, hit.i) or (far_subject(sheet, hit.i) if told else [])
        end = k + 1 if k == hit.j and grid.at(k) in sheet.language.lists["states"] else hit.j
        yield from drafts_of(sheet, "original", hit, found or [Span("vehicle", hit.i, end)])
        return
    ended = (
        hit.j >= grid.n
        or not grid.same_line(hit.i, hit.j)
        or not grid.toks[hit.j].isalnum()
        or grid.toks[hit.j] in sheet.language.lists["after_alone"]
    )
    found = subject_before(sheet, hit.i)
    unsaid = sheet.ending("unoriginal", before_copulas(sheet, hit.i) + 1)
    if unsaid and (not found or found[-1].i == unsaid.i) and not paints:
        return
    if paints and (ended or grid.at(hit.j).isalpha()):
        yield Draft("originality", "body", "original", paints.i, hit.j, own_stance(hit))
    elif ended:
        told = grid.at(hit.i - 1) in sheet.language.lists["copulas"] or grid.toks[hit.i] in sheet.language.lists["as"]
        if found := found or (far_subject(sheet, hit.i) or _opened(sheet, hit.i) if told else []) or noun_before(sheet, hit, plainly=False):
            yield from drafts_of(sheet, "original", hit, found)
        elif _says_of_it(sheet, hit.i):
            yield from drafts_of(sheet, "original", hit, [Span("vehicle", hit.i, hit.j)])
    elif found and k in sheet.taken:
        yield from drafts_of(sheet, "original", Hit(hit.i, k + 1, hit.entry), found)


def _opened(sheet: Sheet, i: int) -> list[Span]:
    """The part that opens the sentence of "is believed to be the original" ("The engine is stamped … and is believed to be …")."""
    part = opening_subject(sheet, i)
    return [Span(part, i, i)] if part and sheet.language.lists["and"] & set(sheet.grid.toks[max(0, i - OPENED_REACH) : i]) else []


def _paint_past_words(sheet: Sheet, k: int) -> Hit | None:
    """The paint behind a word or two that describe it ("original post office paint")."""
    grid = sheet.grid
    for at in range(k + 1, k + PAINT_WORDS):
        word = grid.at(at - 1)
        if not grid.same_line(k, at) or not word.isalpha() or sheet.starting("part", at - 1):
            return None
        if word in sheet.language.lists["after_alone"] or word in sheet.language.lists["parts_words"]:
            return None
        if paint := sheet.starting("paint", at):
            return None if sheet.starting("unoriginal", paint.j) else paint
    return None


def _original_behind(sheet: Sheet, hit: Hit) -> Iterator[Draft]:
    """ "Original" in a language that sets it behind its noun ("moteur d'origine", "la peinture est d'origine")."""
    end = before_copulas(sheet, hit.i) + 1
    if any(sheet.ending("unoriginal", k) for k in (hit.i, end)):
        return
    if paint := sheet.ending("paint", end):
        yield Draft("originality", "body", "original", paint.i, hit.j, own_stance(hit))
    elif parts := subject_before(sheet, hit.i):
        yield from drafts_of(sheet, "original", hit, parts)
    elif (noun := sheet.ending("vehiclenoun", end)) or _says_of_it(sheet, hit.i) or _is_of_the_whole(sheet, hit):
        yield from drafts_of(sheet, "original", hit, [Span("vehicle", noun.i if noun and end == hit.i else hit.i, hit.j)])


def _is_of_the_whole(sheet: Sheet, hit: Hit) -> bool:
    return any(t in sheet.language.lists["whole_signs"] for t in sheet.grid.toks[hit.i : hit.j])


def _says_of_it(sheet: Sheet, i: int) -> bool:
    """Whether "it is", a list's start or a comma stands before: said of the vehicle."""
    grid = sheet.grid
    return (
        i == 0 or not grid.same_line(i - 1, i) or (grid.at(i - 1) in sheet.language.lists["before_alone"] and not sheet.covering("unoriginal", i - 2))
    )
