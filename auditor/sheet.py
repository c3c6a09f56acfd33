"""The numbers sheet: a row a part, a column a witness, each cell as read, dated, by whom; empty cells become questions.

It begins with the first sight of a listing, is completed at the vehicle and signed at the handover. A plain record:
reports draw it, a table of commas can be written from it. `sheet_of(audit)` makes it.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from auditor.audit import Audit
from auditor.render.plain import place
from auditor.ties import findings_on, readings_on
from claims.claim import ATTRIBUTE, NOTES, OTHER_ITEM, PARTS, PHOTO, REPLY, REPORTED, STATED, Claim
from claims.pack import Pack
from claims.reading_of_number import readings_words

ADVERT, FORM, PAPERS, RECORD, OWN = "advert", "form", "papers", "factory record", "own reading"
WITNESSES = (ADVERT, FORM, PHOTO, PAPERS, RECORD, REPLY, OWN)
"""The columns: the seller's prose, the form's entries, photographs, papers, the maker's record, replies, one's own eyes."""
SELLERS = (ADVERT, FORM, REPLY)
"""Columns that one question to the seller fills."""
NUMBER, DATE = "number", "date"
"""What a row is about: a part's number, or when the whole is said to have been built."""
NAMES = {
    "vehicle": "vehicle (identification or serial number)", "registration": "registration mark", "plate": "data plate",
    "component": "component", "unknown": "part not named",
}  # fmt: skip
DATE_NAME = "year or date of building"
_BASIS = {PHOTO: PHOTO, REPLY: REPLY, NOTES: OWN, ATTRIBUTE: FORM}
_BY = {PHOTO: "photograph", REPLY: "seller, in reply", NOTES: "own notes"}
_RECORD_WORDS = re.compile(
    r"\b(?:factory|works|build|despatch|dispatch|production|heritage|dating)\b[^.]{0,20}\b(?:records?|sheet|ledger|letter|certificate|card)\b",
    re.IGNORECASE,
)
_PAPER_WORDS = re.compile(
    r"\b(?:papers?|paperwork|titled?|log ?book|v5c?|registration|registered|documents?|documented|certificate|fahrzeugbrief|carte grise)\b",
    re.IGNORECASE,
)
_SENTENCE_END = re.compile(r"[.;!?]\s|\n")
_LONGEST_SENTENCE = 300
_ASKS = {
    PHOTO: "Could you photograph {what} as marked, square on, with a dated note beside it?",
    PAPERS: "What do the papers give for {what}, and when were they issued?",
    RECORD: "Is there a factory record or dating letter, and what does it give for {what}?",
    REPLY: "What is marked on the vehicle itself for {what}?",
    OWN: "At the vehicle: what do you read yourself for {what}?",
}
_ASK_OF_DATE = "When was it built, and how is that known?"
_NOT_OF_A_DATE = (PHOTO, OWN)
"""Witnesses that show what is marked, not when a thing was built: nothing is asked of them in a row of dates."""


@dataclass(frozen=True, slots=True)
class Entry:
    """What one witness says of one part."""

    text: str
    """As read: the words of the listing, the reply or the notes, untouched (text from outside)."""
    manner: str
    """How it is said where not plainly: hedged, reported, denied; empty for stated."""
    says: str
    """What the number dates to and by which maker, or why it cannot be read; empty where no table reads it."""
    on: str
    """The day on which the witness said so; empty where nobody knows it yet."""
    by: str
    """Whose word it is and where it stands."""
    findings: tuple[int, ...]
    """Numbers of the findings that rest on it, as the report counts them."""
    claim: Claim


@dataclass(frozen=True, slots=True)
class Cell:
    """The entries of one witness on one part; where there is none, `ask` is the label of the question that would fill it."""

    witness: str
    entries: tuple[Entry, ...] = ()
    ask: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One part of one machine: its name and a cell for every witness, in the order of `WITNESSES`."""

    item: int
    part: str
    what: str
    name: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Ask:
    """A question that empty cells of one column call for; the label is what those cells show."""

    label: str
    item: int
    witness: str
    text: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """Rows by machine and part, the questions of the empty cells, and how many machines the advert offers."""

    rows: tuple[Row, ...]
    asks: tuple[Ask, ...]
    items: tuple[int, ...]


def sheet_of(audit: Audit, seen: Mapping[str, str] | None = None) -> Sheet:
    """The sheet of an audit; `seen` gives the day (any text) on which a witness was heard, by the name of its column.

    Where it does not, the day is that of the letter or of the listing by their own account.
    """
    rows: list[Row] = []
    asks: list[Ask] = []
    items = tuple(sorted({c.item for c in audit.claims if c.stance != OTHER_ITEM and c.item})) or (1,)
    teller = _Teller(audit, seen or {})
    for item in items:
        made = list(_rows(teller, item))
        labels: dict[str, str] = {}
        for witness in _ASKS:
            open_rows = [r for r in made if any(_column(r, c) == witness for c in r.cells)]
            if open_rows:
                labels[witness] = f"{item if item > 1 else ''}{'abcde'[len(labels)]}"
                asks.append(Ask(labels[witness], item, witness, _question(witness, open_rows)))
        rows += [Row(r.item, r.part, r.what, r.name, tuple(Cell(c.witness, c.entries, labels.get(_column(r, c), "")) for c in r.cells)) for r in made]
    return Sheet(tuple(rows), tuple(asks), items)


def packs_of(audit: Audit, item: int) -> list[Pack]:
    """The packs that the claims of one machine speak of; those of the whole advert where it names none itself."""
    own = {c.family for c in audit.claims if c.item == item} | {d.pack.id for d in audit.decodings if d.pack and d.claim.item == item}
    return [p for p in audit.packs if p.id in own] or list(audit.packs)


class _Teller:
    """Turns claims into cells, with what hangs on their words looked up once."""

    def __init__(self, audit: Audit, seen: Mapping[str, str]) -> None:
        self.audit, self.seen = audit, seen
        self.findings, self.readings = findings_on(audit), readings_on(audit)
        self.days = dict(audit.days)
        words = audit.changes.replaced if audit.changes else ()
        self.replaced = {r.earlier.quote: r.why for r in words if r.earlier.quote != r.later.quote}
        self.retold = {id(r.earlier) for r in words if r.earlier.quote == r.later.quote}
        """Claims in whose place the same words stand in another manner: those are shown."""

    def cells(self, claims: Iterable[Claim]) -> tuple[Cell, ...]:
        """A cell for every witness: one entry for each thing said, the same value in the same manner being one."""
        told: dict[str, dict[tuple[str | None, str], list[Claim]]] = {w: {} for w in WITNESSES}
        for claim in claims:
            if id(claim) in self.retold:
                continue
            told[witness_of(self.audit, claim)].setdefault((claim.value, claim.stance), []).append(claim)
        return tuple(Cell(w, tuple(self._entry(same, w) for same in told[w].values())) for w in WITNESSES)

    def _entry(self, same: Sequence[Claim], witness: str) -> Entry:
        first = same[0]
        says = "; or ".join(dict.fromkeys(readings_words(d) for d in self.readings.get(first.quote, ())))
        by = _BY.get(first.basis, f"seller, {', '.join(dict.fromkeys(place(c) for c in same))}")
        findings = sorted({n for c in same for n in self.findings.get(c.quote, ())})
        why = self.replaced.get(first.quote, "")
        manner = "; ".join(filter(None, ("" if first.stance == STATED else first.stance, f"replaced: {why}" if why else "")))
        return Entry(first.quote.text, manner, says, self._day(first, witness), by, tuple(findings), first)

    def _day(self, claim: Claim, witness: str) -> str:
        by_letter = self.days.get(claim.quote.field, "")
        return self.seen.get(witness, "") or by_letter or ("" if claim.basis in {REPLY, NOTES} else self.audit.document.seen)


def _rows(teller: _Teller, item: int) -> Iterator[Row]:
    said = [c for c in teller.audit.claims if c.item == item and c.stance != OTHER_ITEM and not c.is_decoded]
    packs = packs_of(teller.audit, item)
    numbers = [c for c in said if c.kind == "number"]
    wanted = {c.part for c in numbers} | {p.part for pack in packs for p in pack.parts.values() if p.numbered == "yes"} or {"vehicle"}
    for part in sorted(wanted, key=PARTS.index):
        yield Row(item, part, NUMBER, _name(part, packs), teller.cells(c for c in numbers if c.part == part))
    yield Row(item, "vehicle", DATE, DATE_NAME, teller.cells(c for c in said if c.kind in {"year", "built"} and c.part == "vehicle"))


def _name(part: str, packs: Sequence[Pack]) -> str:
    return next((p.parts[part].name for p in packs if part in p.parts), NAMES.get(part, part))


def witness_of(audit: Audit, claim: Claim) -> str:
    """The column of a claim: by whose word it is; what the seller repeats from papers or the maker's record goes to those."""
    if claim.stance == REPORTED and claim.basis not in {PHOTO, NOTES}:
        words = _sentence(audit, claim)
        if _RECORD_WORDS.search(words):
            return RECORD
        if _PAPER_WORDS.search(words):
            return PAPERS
    return _BASIS.get(claim.basis, ADVERT)


def _sentence(audit: Audit, claim: Claim) -> str:
    """The sentence in which a claim stands, bounded, with the label of a form's entry before it."""
    field, quote = audit.document.field(claim.quote.field), claim.quote
    if field is None:
        return ""
    before = _SENTENCE_END.split(field.text[max(0, quote.start - _LONGEST_SENTENCE) : quote.start])[-1]
    after = _SENTENCE_END.split(field.text[quote.start : quote.end + _LONGEST_SENTENCE])[0]
    return f"{field.label if field.is_attribute else ''} {before}{after}"


def _column(row: Row, cell: Cell) -> str:
    """The column whose question would fill an empty cell; empty for a full one, and where the seller has answered elsewhere."""
    if cell.entries or (row.what == DATE and cell.witness in _NOT_OF_A_DATE):
        return ""
    if cell.witness not in SELLERS:
        return cell.witness
    return "" if any(c.entries for c in row.cells if c.witness in SELLERS) else REPLY


def _question(witness: str, rows: Sequence[Row]) -> str:
    numbers = [_called(r) for r in rows if r.what == NUMBER]
    dated = any(r.what == DATE for r in rows)
    if witness == REPLY:
        return " ".join([*([_ASKS[REPLY].format(what=_listed(numbers))] if numbers else []), *([_ASK_OF_DATE] if dated else [])])
    return _ASKS[witness].format(what=_listed([*numbers, *(["the date of building"] if dated else [])]))


def _called(row: Row) -> str:
    """What a question calls the number of a row."""
    names = {"registration": f"the {row.name}", "vehicle": "the vehicle's identification number", "unknown": "the number of the part not named"}
    return names.get(row.part, f"the {row.name} number")


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
