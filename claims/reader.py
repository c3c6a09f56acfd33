"""Words to claims: `read_claims(document, packs)`.

Each field becomes a grid; the readers of `claims/reading` give drafts of claims, and `Stances` says how each is
said. Numbers are read first, then names, then dates, so that no figure is read twice.
"""

from collections.abc import Sequence
from functools import cache, lru_cache

from claims.claim import ATTRIBUTE, DENIED, REPORTED, SELLER, STATED, Claim
from claims.claim import compact as compact_number
from claims.grid import Grid
from claims.items import divided, speaks_of_several
from claims.languages import Vocabulary, usual_language
from claims.pack import Pack
from claims.phrase_files import ENGLISH, field_names
from claims.reading import dates, features, names, number_bare, number_labels, numbers, originality, papers, particulars
from claims.reading.number_forms import active_forms
from claims.reading.sheet import Draft, Sheet
from claims.reading.told_makers import add_told_makers
from claims.stance import Stances
from claims.stance_of_kind import Talk
from claims.values import is_year
from claims.whole_advert import stance_of_advert
from extractors.document import TITLE, Document, Field

TEXT_KIND = "text"
NO_KIND = "none"
PROSE_WORDS = 4
"""A form's entry of an unknown name is read as text from so many words on."""
DATE_REACH = 5
"""Words between "rebuilt" and its date."""
ENGINE_SIZES = frozenset({"v8", "v6", "v4", "v10", "v12"})
"""Words for an engine that in a headline tell the vehicle's variant."""
LONGEST_FIELD = 2_000_000
LABELS_KEPT, LONGEST_LABEL_KEPT = 4096, 80
"""How many labels of forms are remembered, and their longest: the same few come again in every listing."""


@cache
def vocabulary(packs: tuple[Pack, ...]) -> Vocabulary:
    """The phrases of every language with the names of these packs."""
    return Vocabulary(packs)


def general_cautions(packs: Sequence[Pack]) -> dict[str, str]:
    """The warnings that hold for any family, by the name of their hazard."""
    return vocabulary(tuple(packs)).of(ENGLISH)[1].cautions


def read_claims(document: Document, packs: Sequence[Pack], basis: str = "") -> list[Claim]:
    """Every claim of a document, field by field in reading order; `basis` is whose word it is where not a seller's."""
    known_phrases = vocabulary(tuple(packs))
    usual = usual_language(text for f in document.fields for text in (f.label, f.text))
    sheets = [sheet for f in document.fields if (sheet := _sheet(f, known_phrases, usual))]
    add_told_makers(sheets)
    designations = _yearlike_designations(sheets)
    named = _named_packs(sheets, packs)
    named_ids = frozenset(p.id for p in named)
    known = _known_models(sheets)
    makers = frozenset(h.entry.value for s in sheets for h in s.found("maker"))
    drafts: list[list[Draft]] = []
    model_words: set[str] = set()
    forms = active_forms(tuple(packs), named_ids)
    numbered = [list(numbers.read(sheet, forms, named)) for sheet in sheets]
    named_ids |= {d.family for found in numbered for d in found if d.family}
    described = [p for p in packs if p.id in named_ids and p.variants] if named_ids else []
    for sheet, found in zip(sheets, numbered, strict=True):
        sheet.named = named_ids
        sheet.designations = designations
        found += names.read(sheet, known, model_words, makers)
        if sheet.role not in {"maker", "model"}:
            found += dates.read(sheet)
        found += papers.read(sheet)
        if not sheet.parts:
            found += originality.read(sheet)
            found += features.read(sheet, described, named_ids)
            found += particulars.read(sheet)
        drafts.append(found)
    whole = stance_of_advert(sheets, drafts)
    claims: list[Claim] = []
    for sheet, found in zip(sheets, drafts, strict=True):
        claims += _claims(document, sheet, found, whole, basis)
    return divided(claims) if speaks_of_several(sheets) else claims


def _sheet(field: Field, phrases: Vocabulary, usual: str) -> Sheet | None:
    parts: tuple[str, ...] = ()
    if field.is_attribute:
        label = field.label
        role, parts = (_asked if len(label) <= LONGEST_LABEL_KEPT else _asked.__wrapped__)(label, phrases, usual)
        role = role or (NO_KIND if len(field.text.split()) < PROSE_WORDS else TEXT_KIND)
        if role == NO_KIND:
            return None
    else:
        role = TITLE if field.name == TITLE else TEXT_KIND
    cut = field if len(field.text) <= LONGEST_FIELD else Field(field.name, field.text[:LONGEST_FIELD])
    grid = Grid(cut)
    hits, language = phrases.find(grid, usual)
    if "part" in hits:
        hits["part"] = [h for h in hits["part"] if h.entry.value != NO_KIND and not (role == TITLE and grid.toks[h.i] in ENGINE_SIZES)]
    return Sheet(grid, hits, language, role, parts)


@lru_cache(maxsize=LABELS_KEPT)
def _asked(label: str, phrases: Vocabulary, usual: str) -> tuple[str, tuple[str, ...]]:
    """What a form asks for under a label: (role, parts whose number it is); no role where the label is unknown."""
    plain = label.strip().lower().strip(".:#* ")
    if role := field_names().get(plain, ""):
        return ("number", (role,)) if role in number_bare.LABELLED else (role, ())
    grid = Grid(Field(label, label))
    parts = number_labels.announced_parts(Sheet(grid, *phrases.find(grid, usual), TEXT_KIND))
    return "number" if parts else NO_KIND if plain in field_names() else "", parts


def _named_packs(sheets: Sequence[Sheet], packs: Sequence[Pack]) -> list[Pack]:
    """The packs of whose makers or models any field speaks."""
    knowing = _packs_by_name(tuple(packs))
    said = {h.entry.value for s in sheets for category in ("maker", "model") for h in s.found(category) if h.entry.more != "alias"}
    return [packs[k] for k in sorted({k for name in said for k in knowing.get(name, ())})]


@cache
def _packs_by_name(packs: tuple[Pack, ...]) -> dict[str, list[int]]:
    """The places of the packs that know a name."""
    out: dict[str, list[int]] = {}
    for place, pack in enumerate(packs):
        for name in pack.known_names:
            out.setdefault(name, []).append(place)
    return out


def _known_models(sheets: Sequence[Sheet]) -> frozenset[str]:
    """Models that a form's entry names, to be known again in running text: designations with a figure or two words."""
    out = set()
    for sheet in sheets:
        if sheet.role == "model" and 0 < sheet.grid.n <= 4:
            text = sheet.grid.shadow.strip().lower()
            if (any(c.isdigit() for c in text) and not text.isdigit()) or (
                len(text) > 4 and text.isalpha() and text not in sheet.language.lists["not_a_model"]
            ):
                out.add(text)
    return frozenset(out)


def _yearlike_designations(sheets: Sequence[Sheet]) -> frozenset[str]:
    """Figures that look like years in a form's model: behind its first word ("Rekord C Caravan 1900 S"), or where the form's year is another."""
    years = {tok for sheet in sheets if sheet.role == "year" for tok in sheet.grid.toks if is_year(tok)}
    entries = [sheet.grid.toks for sheet in sheets if sheet.role == "model"]
    return frozenset(tok for toks in entries for k, tok in enumerate(toks) if is_year(tok) and tok not in years and (k or years))


def _claims(document: Document, sheet: Sheet, drafts: Sequence[Draft], whole: str, basis: str) -> list[Claim]:
    if not drafts:
        return []
    language = sheet.language
    stances = Stances(
        sheet.grid,
        sheet.hits,
        language.cues,
        language.lists["ends"],
        language.lists["questions"],
        language.lists["noes"],
        language.lists["carriers"],
        whole,
        sheet.labels,
        language.lists["denial_ends"],
        language.lists["own_verbs"],
        language.lists["denial_carriers"],
    )
    field = sheet.grid.field
    said_by = basis or (ATTRIBUTE if field.is_attribute else SELLER)
    out: list[Claim] = []
    seen: set[tuple[str, str, str | None, int, int]] = set()
    talk = Talk(sheet, drafts, stances)
    for draft in sorted(_without_dated(sheet, drafts), key=lambda d: (d.i, d.j)):
        start, end = sheet.grid.span(draft.i, draft.j)
        key = (draft.kind, draft.part, draft.value, start, end)
        if key in seen:
            continue
        seen.add(key)
        stance = talk.stance(draft)
        if draft.kind == "papers" and stance == DENIED and draft.own == REPORTED:
            continue
        if draft.kind in {"papers", "originality"} and stance == DENIED and draft.own == STATED:
            start, end = sheet.grid.span(*stances.with_denial(draft.i, draft.j))
        quote = document.quote(field.name, start, end)
        value = compact_number(draft.value) if draft.kind == "number" and draft.value else draft.value
        out.append(Claim(draft.kind, draft.part, value, stance, quote, said_by, 1, draft.note, draft.family, draft.loose))
    return out


def _without_dated(sheet: Sheet, drafts: Sequence[Draft]) -> list[Draft]:
    """The drafts without "rebuilt" of the vehicle where a date beside it says it of a part ("… was rebuilt in 1987")."""
    dated = [d for d in drafts if d.kind == "restored" and d.part != "vehicle"]
    if not dated:
        return list(drafts)
    return [
        d for d in drafts
        if not (d.kind == "originality" and d.part == "vehicle" and d.value in {"restored", "rebuilt"} and any(_beside(sheet, d, o) for o in dated))
    ]  # fmt: skip


def _beside(sheet: Sheet, draft: Draft, other: Draft) -> bool:
    return sheet.grid.clause[draft.i] == sheet.grid.clause[other.i] and -DATE_REACH <= other.i - draft.j <= DATE_REACH


__all__ = ["general_cautions", "read_claims", "vocabulary"]
