"""The listing's own words with a mark at every claim: each word once, in its place, with what is read there beside it.

Claims may overlap or lie in each other: the words are cut at every beginning and end, so that each piece knows the
marks that cover it and those that end with it. The words are left as received; who draws them makes them harmless.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from auditor.audit import Audit
from auditor.render.dates_in_words import date_words
from auditor.render.plain import one_line
from auditor.ties import findings_on, readings_on
from claims.claim import DENIED, HEDGED, NOTES, OTHER_ITEM, PHOTO, REPLY, REPORTED, STANCES, STATED, Claim
from claims.pack import Pack
from claims.reading_of_number import readings_words
from extractors.document import TITLE, Field, Quote

MANNER_WORDS = {STATED: "", HEDGED: "unsure", REPORTED: "as told by others", DENIED: "denied", OTHER_ITEM: "of another thing"}
KIND_WORDS = {
    "delivered": "sold or delivered", "casting": "casting code", "originality": "said to be", "papers": "papers:", "feature": "",
    "hazard": "caution:",
}  # fmt: skip
PART_WORDS = {"plate": "data plate", "registration": "registration mark", "unknown": "unnamed part"}
BASIS_WORDS = {PHOTO: "from a photograph", REPLY: "from the reply", NOTES: "from own notes"}
LONGEST_BLOCK = 12
"""Lines after which a paragraph is cut for its margin."""
_DATES = frozenset({"year", "built", "registered", "delivered", "restored", "used"})


@dataclass(frozen=True, slots=True)
class Mark:
    """One place of the listing at which something is claimed; `notes` say what was read there."""

    number: int
    quote: Quote
    stance: str
    notes: tuple[str, ...]
    findings: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Piece:
    """Words that lie under the same marks; `ends` are the marks whose words end here."""

    text: str
    marks: tuple[Mark, ...]
    ends: tuple[Mark, ...]

    @property
    def stance(self) -> str:
        """The stance of the innermost mark; empty outside any."""
        return min(self.marks, key=lambda m: m.quote.end - m.quote.start).stance if self.marks else ""

    @property
    def in_finding(self) -> bool:
        """Whether a finding rests on these words."""
        return any(m.findings for m in self.marks)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a field, in pieces, and the marks whose words end on it."""

    pieces: tuple[Piece, ...]

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The marks that end on this line, in order."""
        return tuple(m for p in self.pieces for m in p.ends)

    @property
    def is_blank(self) -> bool:
        """Whether nothing stands on it."""
        return not any(p.text.strip() or p.ends for p in self.pieces)


@dataclass(frozen=True, slots=True)
class MarkedField:
    """A field of the listing: the name that a form shows, whether it is the headline or a form's entry, its lines."""

    label: str
    is_title: bool
    is_attribute: bool
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Block:
    """What is set together, with its margin: a headline, the form's entries, or a paragraph of the text."""

    kind: str
    """`title`, `form` or `text`."""
    lines: tuple[tuple[str, Line], ...]
    """Lines with the name of their entry (empty outside a form)."""
    goes_on: bool = False
    """Whether it is the same paragraph as the block before, cut so that the margin stays beside its words."""
    said_in: str = ""
    """What the letter is called that this block opens; empty in the listing and further down a letter."""

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The marks of its lines, in order."""
        return tuple(m for _, line in self.lines for m in line.marks)


@dataclass(frozen=True, slots=True)
class Marked:
    """The listing with its marks; `elsewhere` are marks whose words stand in none of its fields (a reply, a photograph)."""

    fields: tuple[MarkedField, ...]
    elsewhere: tuple[Mark, ...]

    @property
    def by_quote(self) -> Mapping[Quote, Mark]:
        """Every mark by its place."""
        marks = [*(m for f in self.fields for line in f.lines for m in line.marks), *self.elsewhere]
        return {m.quote: m for m in marks}

    @property
    def blocks(self) -> tuple[Block, ...]:
        """The listing as it is set: headline, form, paragraphs."""
        return tuple(_blocks(self.fields))


def marked(audit: Audit) -> Marked:
    """The fields of an audited listing in reading order, with marks numbered in the order in which their words end."""
    by_quote: dict[Quote, list[Claim]] = {}
    for claim in audit.claims:
        by_quote.setdefault(claim.quote, []).append(claim)
    reader = _NoteReader(audit)
    fields: list[MarkedField] = []
    number = 1
    for field in audit.document.fields:
        quotes = sorted((q for q in by_quote if _stands_in(q, field, by_quote[q])), key=lambda q: (q.end, -q.start))
        marks = [reader.mark(n, q, by_quote[q]) for n, q in enumerate(quotes, number)]
        number += len(marks)
        fields.append(MarkedField(field.label, field.name == TITLE, field.is_attribute, tuple(_lines(field.text, marks))))
    placed = {m.quote for f in fields for line in f.lines for m in line.marks}
    rest = [reader.mark(n, q, own) for n, (q, own) in enumerate(((q, own) for q, own in by_quote.items() if q not in placed), number)]
    return Marked(tuple(fields), tuple(rest))


def _blocks(fields: Iterable[MarkedField]) -> Iterator[Block]:
    form: list[tuple[str, Line]] = []
    for field in fields:
        if field.is_attribute:
            form += [(field.label if n == 0 else "", line) for n, line in enumerate(field.lines)]
            continue
        if form:
            yield Block("form", tuple(form))
            form = []
        yield from _paragraphs(field)
    if form:
        yield Block("form", tuple(form))


def _paragraphs(field: MarkedField) -> Iterator[Block]:
    kind = "title" if field.is_title else "text"
    lines: list[tuple[str, Line]] = []
    goes_on, said_in = False, letter_name(field.label)
    for line in field.lines:
        if lines and (line.is_blank or len(lines) == LONGEST_BLOCK):
            yield Block(kind, tuple(lines), goes_on, said_in)
            lines, goes_on, said_in = [], not line.is_blank, ""
        if line.is_blank:
            goes_on = False
        else:
            lines.append(("", line))
    if lines:
        yield Block(kind, tuple(lines), goes_on, said_in)


def letter_name(field: str) -> str:
    """What a report calls the letter whose field has this name; empty for a field of the listing.

    >>> letter_name("reply"), letter_name("notes 2"), letter_name("text")
    ("The seller's reply", 'Own notes, 2', '')
    """
    name, _, number = field.partition(" ")
    called = {REPLY: "The seller's reply", NOTES: "Own notes"}.get(name, "")
    return f"{called}, {number}" if called and number else called


def _stands_in(quote: Quote, field: Field, claims: Sequence[Claim]) -> bool:
    """Whether a quote is of this field: words of a reply or of notes that have the field's name are not."""
    if quote.field != field.name or field.text[quote.start : quote.end] != quote.text:
        return False
    return not any(c.basis in BASIS_WORDS for c in claims) or (not field.is_attribute and field.name not in {TITLE, "text"})


def _lines(text: str, marks: Sequence[Mark]) -> Iterator[Line]:
    """The lines of a field, cut into pieces; a mark over several lines is noted on the one where it ends."""
    cuts = sorted({0, len(text), *(m.quote.start for m in marks), *(m.quote.end for m in marks)})
    starting: dict[int, list[Mark]] = {}
    ending: dict[int, list[Mark]] = {}
    for mark in marks:
        starting.setdefault(mark.quote.start, []).append(mark)
        ending.setdefault(mark.quote.end, []).append(mark)
    over: dict[int, Mark] = {}
    line: list[Piece] = []
    if 0 in ending:
        line.append(Piece("", (), tuple(ending[0])))
    for start, end in pairwise(cuts):
        over |= {m.number: m for m in starting.get(start, ()) if m.quote.end > start}
        covering = tuple(over[n] for n in sorted(over))
        *whole, last = text[start:end].split("\n")
        for part in whole:
            yield Line((*line, Piece(part, covering, ())))
            line = []
        line.append(Piece(last, covering, tuple(ending.get(end, ()))))
        for mark in ending.get(end, ()):
            over.pop(mark.number, None)
    yield Line(tuple(line))


class _NoteReader:
    """Says in words what was read at a place."""

    def __init__(self, audit: Audit) -> None:
        self.packs = audit.packs
        self.findings, self.readings = findings_on(audit), readings_on(audit)

    def mark(self, number: int, quote: Quote, claims: Sequence[Claim]) -> Mark:
        said = [c for c in claims if not c.is_decoded]
        stance = max((c.stance for c in said), key=STANCES.index, default=STATED)
        notes = [claim_words(c, self.packs) for c in said]
        notes += [f"reads {words}" if d.readings else words for d in self.readings.get(quote, ()) if (words := readings_words(d))]
        return Mark(number, quote, stance, tuple(dict.fromkeys(notes)), self.findings.get(quote, ()))


def claim_words(claim: Claim, packs: Iterable[Pack]) -> str:
    """What a claim says, for a margin: kind, part, value where it is not the words themselves, manner, repair."""
    manner = [f"machine {claim.item}" if claim.item > 1 else "", BASIS_WORDS.get(claim.basis, ""), MANNER_WORDS[claim.stance], claim.note]
    return "; ".join(filter(None, (f"{_about(claim, packs)} {_value(claim, packs)}".strip(), *(one_line(m) for m in manner))))


def _about(claim: Claim, packs: Iterable[Pack]) -> str:
    kind = KIND_WORDS.get(claim.kind, claim.kind.replace("_", " "))
    if claim.part == "vehicle":
        return kind
    part = _part_name(claim.part, packs)
    if claim.kind == "number":
        return part if claim.part == "registration" else f"{part} number"
    if claim.kind in {"maker", "model"}:
        return f"{kind} of the {part}"
    return f"{part}:" if claim.kind == "feature" else f"{part} {kind}"


def _value(claim: Claim, packs: Iterable[Pack]) -> str:
    if claim.value is None:
        return "none given"
    if claim.kind == "feature":
        name, _, variant = claim.value.partition("=")
        feature = next((p.features[name].name for p in packs if p.id == claim.family and name in p.features), name)
        return one_line(f"{feature}{f': {variant}' if variant else ''}".replace("_", " "))
    if claim.kind in {"originality", "papers", "hazard"}:
        return one_line(claim.value.replace("_", " "))
    value = date_words(claim.value) if claim.kind in _DATES else claim.value
    return "" if claim.kind == "number" or value.casefold() == claim.quote.text.casefold() else one_line(value)


def _part_name(part: str, packs: Iterable[Pack]) -> str:
    return next((p.parts[part].name for p in packs if part in p.parts), PART_WORDS.get(part, part))
