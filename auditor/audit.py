"""The whole flow: a listing's words become claims, numbers are decoded, checks compare, questions follow.

`audit(text_or_document)` is the tool in one call; everything else is how its `Audit` is shown.
"""

import dataclasses
import importlib
import pkgutil
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from typing import Protocol

from auditor import checks
from auditor.case import Case
from auditor.finding import CONTRADICTION, GRADES, Fault, Finding
from auditor.origin.assessment import beliefs
from auditor.origin.belief import Belief
from auditor.questions import IN_A_LETTER, Question, parts_of, questions
from auditor.ranking import ranked
from auditor.replies.changes import Changes, changes, outranked
from auditor.replies.hearing import MOST_CLAIMS, Answer, Heard, hear
from auditor.replies.later_word import Replaced, replaced
from auditor.replies.still_open import StillOpen, divided, not_asked, still_asked
from claims.claim import NOTES, OTHER_ITEM, REPLY, Claim
from claims.decode import decode_numbers, decoded_claims
from claims.pack import Pack, shipped_packs
from claims.packs_named import named_packs
from claims.reader import general_cautions, read_claims
from claims.reading_of_number import Decoding
from extractors.document import Document, make_document
from extractors.formats.plain_text import parts


class Check(Protocol):
    """What a module in `auditor/checks` offers."""

    ASK: str
    ABOUT: str

    def check(self, case: Case) -> Iterator[Finding]: ...


@dataclass(frozen=True)
class Audit:
    """The result for one listing: what it claims, what was found, what to ask, what to beware of."""

    document: Document
    claims: tuple[Claim, ...]
    decodings: tuple[Decoding, ...]
    findings: tuple[Finding, ...]
    questions: tuple[Question, ...]
    """What findings call for asking; `ranked` has the order in which to ask, with everything else that would tell."""
    cautions: tuple[str, ...]
    packs: tuple[Pack, ...]
    """The packs of whose makers or models the listing speaks."""
    faults: tuple[Fault, ...] = ()
    answers: tuple[Answer, ...] = ()
    """What became of the questions that were sent, letter by letter."""
    still_open: tuple[StillOpen, ...] = ()
    """Questions that were asked, have no answer yet and are still called for; `questions` are those not asked before."""
    days: tuple[tuple[str, str], ...] = ()
    """(field, day) of every letter whose day is known (ISO 8601)."""
    changes: Changes | None = None
    """What replies and notes changed; None where there were none."""
    before: "Audit | None" = None
    """The same audit without replies and notes; None where there were none."""
    weigh: Callable[[], tuple[Belief, ...]] | None = field(default=None, compare=False, repr=False)
    """Computes `beliefs` when they are first asked for."""

    @cached_property
    def beliefs(self) -> tuple[Belief, ...]:
        """What each vehicle of the advert and its parts probably are; worked out when first asked for."""
        return self.weigh() if self.weigh else ()

    @cached_property
    def ranked(self) -> tuple[Question, ...]:
        """Every question worth asking and not asked before, in the one order that reports and letters have."""
        first = [b for b in self.beliefs if b.looks][:1]
        return tuple(not_asked(ranked(self.questions, first[0], _asks()), self.answers)) if first else self.questions

    @property
    def letter(self) -> tuple[Question, ...]:
        """The questions of a letter: three, since more get no reply."""
        return self.ranked[:IN_A_LETTER]

    @property
    def has_contradiction(self) -> bool:
        """Whether anything was found that cannot both hold."""
        return any(f.grade == CONTRADICTION for f in self.findings)


@cache
def known_checks() -> dict[str, Check]:
    """Every check by its name, found by walking the folder."""
    names = sorted(m.name for m in pkgutil.iter_modules(checks.__path__))
    return {name: importlib.import_module(f"{checks.__name__}.{name}") for name in names}


def audit(
    listing: str | Document,
    packs: Sequence[Pack] | None = None,
    *,
    replies: Sequence[str | Document] = (),
    notes: Sequence[str | Document] = (),
    strict: bool = False,
) -> Audit:
    """Audit one listing, given as text or as a document, with the seller's replies and one's own notes where there are any.

    Each reply answers the questions that the audit before it gave; what all of them changed is `Audit.changes`.
    `strict` lets a failing check raise instead of being named.
    """
    document = _document(listing)
    known = tuple(packs) if packs is not None else shipped_packs()
    before = _judged(_Record(document, tuple(read_claims(document, known))), known, strict)
    record, after = before.record, before
    for basis, name, letter in _letters(replies, notes):
        sent = after.audit.letter if basis == REPLY else ()
        record = record.with_letter(hear(document, letter, name, basis, sent, known, record.sent), letter, sent)
        after = _judged(record, known, strict)
    if record is before.record:
        return after.audit
    told = [c for c in record.claims if c.basis in {REPLY, NOTES}]
    return dataclasses.replace(after.audit, changes=changes(before.rows, after.rows, told, after.replaced), before=before.audit)


@dataclass(frozen=True)
class _Record:
    """What has been said so far: the listing with its letters, their claims, the answers, the questions sent."""

    document: Document
    claims: tuple[Claim, ...]
    answers: tuple[Answer, ...] = ()
    sent: tuple[Question, ...] = ()
    days: tuple[tuple[str, str], ...] = ()
    faults: tuple[Fault, ...] = ()

    def with_letter(self, heard: Heard, letter: Document, sent: Sequence[Question]) -> "_Record":
        document = dataclasses.replace(
            self.document, fields=(*self.document.fields, heard.field), photos=tuple(dict.fromkeys((*self.document.photos, *letter.photos)))
        )
        days = (*self.days, (heard.field.name, letter.seen)) if letter.seen else self.days
        unread = f"{heard.left_unread} statements beyond the first {MOST_CLAIMS} were left unread"
        faults = (*self.faults, Fault(heard.field.name, unread)) if heard.left_unread else self.faults
        return _Record(document, (*self.claims, *heard.claims), (*self.answers, *heard.answers), (*sent, *self.sent), days, faults)


@dataclass(frozen=True)
class _Judged:
    """An audit with what a comparison needs: its findings by part, the words that no longer stand, the record behind it."""

    audit: Audit
    rows: tuple[tuple[Finding, str, int], ...]
    replaced: tuple[Replaced, ...]
    record: _Record


def _judged(record: _Record, known: Sequence[Pack], strict: bool) -> _Judged:
    """Decode, let the later word stand, check, ask."""
    decodings = decode_numbers(record.claims, known)
    words = replaced(record.document, record.claims, decodings, record.answers)
    known_claims = {id(c) for c in record.claims}
    said = [r.later for r in words if id(r.later) not in known_claims]
    claims = (*record.claims, *said, *decoded_claims(decodings))
    set_aside = {id(r.earlier) for r in words}
    fallen = {d.claim.quote for d in decodings if id(d.claim) in set_aside}
    standing = [c for c in claims if id(c) not in set_aside and not (c.is_decoded and c.quote in fallen)]
    faults: list[Fault] = list(record.faults)
    rows: list[tuple[Finding, str, int]] = []
    findings: list[Finding] = []
    asked: list[Question] = []
    asks = _asks()
    for case in cases(record.document, standing, [d for d in decodings if id(d.claim) not in set_aside], known, tuple(outranked(words))):
        found = list(_checked(case, faults, strict))
        findings += found
        rows += [(f, part, case.item) for f in found for part in parts_of(case, f)]
        asked += questions(case, found, asks)
    findings.sort(key=lambda f: GRADES.index(f.grade))
    rows.sort(key=lambda r: GRADES.index(r[0].grade))
    named = _named(standing, decodings, known)
    fresh, still_open = divided([*asked, *still_asked(record.sent, asked, record.answers)], record.answers, standing)
    made = Audit(
        record.document, claims, decodings, tuple(findings), tuple(fresh), tuple(cautions(claims, named, known)), tuple(named), tuple(faults),
        record.answers, tuple(still_open), record.days, weigh=lambda: beliefs(standing, [d for d in decodings if id(d.claim) not in set_aside], named),
    )  # fmt: skip
    return _Judged(made, tuple(rows), tuple(words), record)


def _asks() -> dict[str, tuple[str, str]]:
    """(ASK, ABOUT) by check."""
    return {name: (module.ASK, module.ABOUT) for name, module in known_checks().items()}


def _letters(replies: Sequence[str | Document], notes: Sequence[str | Document]) -> Iterator[tuple[str, str, Document]]:
    """(basis, name of its field, letter) of every reply, then of all notes."""
    for basis, given in ((REPLY, replies), (NOTES, notes)):
        for n, letter in enumerate(given, 1):
            yield basis, basis if n == 1 else f"{basis} {n}", letter if isinstance(letter, Document) else make_document(letter)


def cases(
    document: Document, claims: Sequence[Claim], decodings: Sequence[Decoding], packs: Sequence[Pack], outranked: Sequence[Claim] = ()
) -> Iterator[Case]:
    """One case for each vehicle or unit that the advert offers; claims of other things stay out."""
    for item in sorted({c.item for c in claims if c.stance != OTHER_ITEM and c.item}):
        own = [c for c in claims if c.item == item]
        read = [d for d in decodings if d.claim.item == item]
        numbers = list(_first_of_each(d for d in read if d.claim.kind == "number"))
        castings = [d for d in read if d.claim.kind != "number"]
        yield Case(document, own, numbers, _named(own, read, packs), item, castings, [c for c in outranked if c.item == item])


def _first_of_each(decodings: Iterable[Decoding]) -> Iterator[Decoding]:
    """The readings of each number where it is first given: what is said twice counts once."""
    first: dict[tuple[str, str, str], Claim] = {}
    for decoding in decodings:
        claim = decoding.claim
        if first.setdefault((claim.part, decoding.number, claim.stance), claim) is claim:
            yield decoding


def _checked(case: Case, faults: list[Fault], strict: bool) -> Iterator[Finding]:
    for name, module in known_checks().items():
        try:
            yield from [f.resting_on((*case.decodings, *case.castings)) for f in module.check(case)]
        except Exception as error:
            if strict:
                raise
            faults.append(Fault(name, f"{type(error).__name__}: {error}"))


def _named(claims: Sequence[Claim], decodings: Iterable[Decoding], packs: Sequence[Pack]) -> list[Pack]:
    """The packs that the listing speaks of, by a maker, a model or a number that stands alone."""
    read = {d.pack.id for d in decodings if d.pack}
    named = {p.id for p in named_packs(claims, packs)}
    return [p for p in packs if p.id in read or p.id in named]


def cautions(claims: Sequence[Claim], named: Sequence[Pack], packs: Sequence[Pack]) -> Iterator[str]:
    """The warnings that the words call for: a named pack's own, else the general one, each hazard once."""
    own = {c.caution: c.text for p in named for c in p.cautions}
    general = general_cautions(packs)
    said = dict.fromkeys(c.value or "" for c in claims if c.kind == "hazard" and (not c.family or c.family in {p.id for p in named}))
    if any(c.kind == "number" and c.value is None for c in claims):
        said["number_law"] = None
    for name in said:
        if text := own.get(name) or general.get(name):
            yield text


def _document(listing: str | Document) -> Document:
    if isinstance(listing, Document):
        return listing
    title, entries, body = parts(listing)
    return make_document(body, title=title, attributes=entries, id="listing")
