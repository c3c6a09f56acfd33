"""How the thing relates to how it left the factory: matching numbers, original, restored, replaced, replica …

A phrase is said of the whole, of a part that stands beside it, or of either. What stands behind "original" decides
whether it is a claim at all: original owner, miles, colour and manual are none. `subjects` finds the part.
"""

from collections.abc import Iterator

from claims.claim import DENIED, HEDGED, STATED
from claims.lexicon import Hit
from claims.reading import matches, powered, repaints, told_otherwise
from claims.reading.no_originality import asked, is_aside, is_needed, is_of_something_else
from claims.reading.original import CLOSES, said_original
from claims.reading.originality_spans import drafts_of, own_words
from claims.reading.other_parts import noun_before
from claims.reading.sheet import Draft, Sheet
from claims.reading.subjects import (
    MAJOR,
    Span,
    far_subject,
    heading_of,
    opening_part,
    parts_from,
    parts_past_words,
    subject_before,
    topic_of,
)
from claims.reading.told_otherwise import closing_of, denial_before

NEW_WORDS = 3
"""Words behind "new" up to what stands for the part."""
SHORT = 2
"""Words of "not matching", which says nothing before a noun ("not matching paint")."""
LISTED = "listed"
ATTRIBUTIVE = "attributive"
"""What an entry may need besides: a part straight behind it ("wrong carburettor")."""


def read(sheet: Sheet) -> Iterator[Draft]:
    """Drafts of every originality claim of a field."""
    if sheet.role.partition(":")[0] == "papers":
        return
    yield from powered.read(sheet)
    yield from repaints.read(sheet)
    told = [*told_otherwise.read(sheet), *matches.read(sheet)]
    yield from told
    questions = asked(sheet)
    for hit in sheet.found("originality"):
        entry = hit.entry
        if not entry.value or not sheet.is_free(hit.i, hit.i + 1) or hit.i in questions or _names_a_paper(sheet, hit):
            continue
        if any(draft.i <= hit.i < draft.j for draft in told):
            continue
        if entry.more == CLOSES:
            closing = closing_of(sheet, hit.j)
            if not closing or denial_before(sheet, hit.i) >= 0:
                continue
            hit = Hit(hit.i, closing, entry)
        if entry.part == "original":
            yield from said_original(sheet, hit)
        elif entry.part == LISTED:
            yield from _listed(sheet, hit)
        elif entry.part == "whole":
            yield from _whole(sheet, hit)
        elif entry.part not in {"part", "either"}:
            own = DENIED if entry.more == DENIED else STATED
            yield Draft("originality", entry.part, entry.value, hit.i, hit.j, own)
        else:
            yield from _of_part(sheet, hit, entry.part == "either")


def _names_a_paper(sheet: Sheet, hit: Hit) -> bool:
    """Whether the words belong to a document's name ("rebuild diary", "restoration invoices")."""
    paper = sheet.covering("papers", hit.i)
    return paper is not None and bool(paper.entry.value) and hit.j < paper.j


def _whole(sheet: Sheet, hit: Hit) -> Iterator[Draft]:
    value = hit.entry.value
    if value in {"replica", "composite"} and (sheet.starting("unoriginal", hit.j) or is_aside(sheet, hit)):
        return
    parts = [p for p in subject_before(sheet, hit.i) if p.part != "vehicle"] if value in {"unrestored", "replica"} else []
    if value == "replica" and parts and sheet.grid.toks[hit.i] in sheet.language.lists["manner"]:
        return
    if value == "replica" and not parts and sheet.grid.toks[hit.i] not in sheet.language.lists["manner"]:
        parts = [p for p in parts_from(sheet, hit.j) if p.part != "vehicle"]
    if parts:
        yield from drafts_of(sheet, "reproduction" if value == "replica" else value, hit, parts)
    else:
        yield Draft("originality", "vehicle", value, *own_words(sheet, hit))


def _listed(sheet: Sheet, hit: Hit) -> Iterator[Draft]:
    """ "Matching" before a list of parts that ends with their numbers ("matching frame, engine and gearbox numbers")."""
    grid, lists, k = sheet.grid, sheet.language.lists, hit.j
    parts: list[str] = []
    while part := sheet.starting("part", k):
        parts.append(part.entry.value)
        k = part.j
        while grid.at(k) in lists["and"] and sheet.starting("part", k + 1):
            k += 1
            break
    if len(parts) > 1 and grid.at(k) in lists["number_words"] and grid.same_line(hit.i, k):
        for value in dict.fromkeys(parts):
            yield Draft("originality", value, "matching_numbers", hit.i, k + 1)


def _matches_a_paper(sheet: Sheet, hit: Hit) -> bool:
    """Whether the numbers are compared with a document's ("the engine number doesn't match the log book")."""
    grid, k = sheet.grid, hit.j
    while k - hit.j < SHORT and grid.at(k) in sheet.language.lists["matches_paper"]:
        k += 1
    paper = sheet.starting("papers", k) or sheet.starting("papers", k + 1)
    return k > hit.j and paper is not None and bool(paper.entry.value) and grid.sentence[k] == grid.sentence[hit.i]


def _its_engine(sheet: Sheet, hit: Hit) -> list[Span]:
    """The part that "numbers matching" is said of, where its clause opens with one ("motor is a 427 but not numbers matching")."""
    grid, i = sheet.grid, hit.i
    if grid.toks[hit.j - 1] in sheet.language.lists["of_two"]:
        found = [p for p in subject_before(sheet, i) if p.part in MAJOR]
        return found if len(found) > 1 else []
    if grid.at(i - 1) not in sheet.language.lists.any_of("be", "but"):
        return []
    return [Span(p.part, i, i) for p in subject_before(sheet, i) or far_subject(sheet, i) if p.part in MAJOR]


def _is_to_a_size(sheet: Sheet, hit: Hit) -> bool:
    """Whether an engine's size or type stands behind "converted to" ("converted to a 2.0 out of a Jetta")."""
    grid, lists = sheet.grid, sheet.language.lists
    k = hit.j + (grid.at(hit.j) in lists["indefinite"])
    decimal = grid.at(k).isdigit() and grid.at(k + 1) == "." and grid.glued(k + 1) and grid.at(k + 2)[:1].isdigit()
    return grid.toks[hit.j - 1] in lists["takes_one_more"] and grid.same_line(hit.i, k) and (decimal or told_otherwise.is_a_type(sheet, k))


def _is_opened_by_a_noun(sheet: Sheet, i: int) -> bool:
    """Whether one word opens the sentence or line before token i ("Petcock rebuilt last winter")."""
    grid, k = sheet.grid, i - 1
    return k >= 0 and grid.same_line(k, i) and (k == 0 or grid.sentence[k - 1] != grid.sentence[k] or not grid.same_line(k - 1, k))


def _names_an_unlisted_part(sheet: Sheet, k: int) -> bool:
    """Whether a noun that is no vehicle's stands at token k ("a rebuilt Hydra-Matic")."""
    grid = sheet.grid
    return (
        grid.at(k).isalpha()
        and grid.same_line(k - 1, k)
        and grid.at(k) not in sheet.language.lists.any_of("after_alone", "after_new")
        and not (sheet.starting("vehiclenoun", k) or sheet.starting("maker", k) or sheet.starting("model", k))
    )


def _new_one(sheet: Sheet, hit: Hit, only: list[str]) -> list[Draft]:
    """ "The chassis is a new galvanised one": a part said to be new by a noun that stands for it."""
    grid, lists = sheet.grid, sheet.language.lists
    end = next((k for k in range(hit.j, hit.j + NEW_WORDS) if grid.at(k) in lists["stand_ins"] and grid.same_line(hit.i, k)), 0)
    k = hit.i - 1 - (grid.at(hit.i - 1) in lists["indefinite"])
    whose = [p for p in subject_before(sheet, k + 1) if p.part in only] if end and grid.at(k) in lists["be"] else []
    return list(drafts_of(sheet, hit.entry.value, Hit(hit.i, end + 1, hit.entry), whose)) if whose else []


def _of_part(sheet: Sheet, hit: Hit, whole_too: bool) -> Iterator[Draft]:
    grid, entry = sheet.grid, hit.entry
    inside = [Span(h.entry.value, h.i, h.j) for h in sheet.beside("part", hit.i) if hit.i <= h.i and h.j <= hit.j and h.entry.value in MAJOR]
    if entry.value in {"restored", "rebuilt"} and (grid.at(hit.j) in sheet.language.lists["unreal"] or is_needed(sheet, hit)):
        return
    if entry.value == "matching_numbers":
        if hit.j - hit.i == SHORT and grid.toks[hit.i] in sheet.language.lists["denied_inside"] and grid.at(hit.j).isalpha():
            return
        behind = [p for p in parts_from(sheet, hit.j) or parts_past_words(sheet, hit.j) if p.part in MAJOR]
        pair = inside if len({p.part for p in inside}) > 1 else []
        if pair and entry.more == DENIED and not sheet.language.lists["and"] & set(grid.toks[pair[0].j : pair[1].i]):
            pair = pair[:1]
        if grid.at(hit.j) in {"on", "of", "for"}:
            behind = []
        if not behind and grid.at(hit.j) in sheet.language.lists["engine_sizes"] and grid.same_line(hit.i, hit.j):
            behind = [Span("engine", hit.j, hit.j + 1)]
        if _matches_a_paper(sheet, hit):
            return
        if (
            not (behind or inside)
            and grid.toks[hit.i] in sheet.language.lists["both"]
            and len({*grid.toks[hit.i : hit.j]} & sheet.language.lists["number_words"])
        ):
            pair = [Span(part, hit.i, hit.j) for part in ("frame", "engine")]
        inside = [] if "numbers" in grid.toks[hit.i : hit.j] else inside
        yield from drafts_of(sheet, entry.value, hit, behind or pair or inside or _its_engine(sheet, hit) or [Span("vehicle", hit.i, hit.j)])
        return
    if inside and entry.more != ATTRIBUTIVE:
        yield from drafts_of(sheet, entry.value, hit, inside[:1])
        return
    k = hit.j
    fillers = sheet.language.lists.any_of("between", "between_too")
    while grid.at(k) in fillers and grid.same_line(hit.i, k) and not sheet.starting("part", k) and k - hit.j < 4:
        k += 1
    stopped = not grid.same_line(hit.i, hit.j) or grid.at(hit.j) in {".", ",", ";", ":", "-"} or grid.at(hit.j) in sheet.language.lists["stops_part"]
    stopped = stopped or bool(sheet.language.lists["noun_first"] and subject_before(sheet, hit.i))
    named = [] if stopped else [p for p in parts_from(sheet, k) or parts_past_words(sheet, k) if p.part != "vehicle"]
    if entry.more == ATTRIBUTIVE:
        following = grid.at(named[-1].j) if named else ""
        small = sheet.language.lists.any_of("after_new", "after_part", "copulas")
        if named and (not following.isalpha() or following in small or not grid.same_line(hit.i, named[-1].j)):
            yield from drafts_of(sheet, entry.value, hit, named)
        elif grid.toks[hit.i] in sheet.language.lists["changed"] and grid.at(hit.i - 2) in sheet.language.lists["be"]:
            yield from drafts_of(sheet, entry.value, hit, [p for p in subject_before(sheet, hit.i) if p.part != "vehicle"])
        return
    only = entry.more.split() if entry.more not in {DENIED, HEDGED} else []
    if only:
        if not named and (drafts := _new_one(sheet, hit, only)):
            yield from drafts
            return
        named = [p for p in named if p.part in only]
        if named and (not grid.at(named[0].j).isalpha() or grid.at(named[0].j) in sheet.language.lists["after_new"]):
            yield from drafts_of(sheet, entry.value, hit, named)
        return
    be = grid.at(hit.i - 1) in sheet.language.lists["be"]
    if named and be and (whose := [p for p in subject_before(sheet, hit.i) if p.part != "vehicle"]):
        yield from drafts_of(sheet, entry.value, Hit(hit.i, max(p.j for p in named), entry), whose)
        return
    found = [] if named else [p for p in subject_before(sheet, hit.i) if p.part != "vehicle"]
    anaphor = any(t in sheet.language.lists["anaphors"] for t in grid.toks[hit.i : hit.j])
    bracketed = subject_before(sheet, hit.i - 1) if grid.at(hit.i - 1) == "(" and entry.value == "reproduction" else []
    converted = [Span("engine", hit.i, hit.j)] if not (named or found) and _is_to_a_size(sheet, hit) else []
    parts = named or found or converted or bracketed or far_subject(sheet, hit.i, anaphor=anaphor, verb=entry.value in {"replaced", "rebuilt"})
    parts = parts or heading_of(sheet, hit.i) or ([] if whole_too else topic_of(sheet, hit.i))
    parts = parts or (opening_part(sheet, hit.i) if entry.value == "rebuilt" else [])
    item = entry.value == "rebuilt" and (not grid.at(hit.j).isalnum() or _is_opened_by_a_noun(sheet, hit.i))
    parts = parts or noun_before(sheet, hit, plainly=whole_too and not item)
    if parts:
        yield from drafts_of(sheet, entry.value, hit, parts)
    elif (
        whole_too and entry.value == "rebuilt" and grid.at(hit.i - 1) in sheet.language.lists["indefinite"] and _names_an_unlisted_part(sheet, hit.j)
    ):
        return
    elif whole_too and not is_of_something_else(sheet, hit):
        yield Draft("originality", "vehicle", entry.value, *own_words(sheet, hit))
