"""A report that may be shown to others: an audit with personal data and the ends of numbers hidden.

Hidden are telephone numbers (also spelled out), mail and web addresses, names after "contact" and its like, places
after "located in" and its like, registration marks, whole entries of a form that name a person or place, and the last
figures of every number. Each hidden character becomes `•`, so that places in the text stay where they were.
"""

import dataclasses
import re
from collections.abc import Iterator

from auditor.audit import Audit
from auditor.finding import Fault, Finding
from auditor.origin.belief import Belief, Weight
from auditor.questions import Question
from auditor.render.marked import letter_name
from auditor.replies.changes import Changes
from auditor.replies.hearing import Answer
from auditor.replies.still_open import StillOpen
from claims.claim import Claim
from claims.pack_extension import has_private
from claims.reading_of_number import Decoding, Reading
from extractors.document import ATTRIBUTE, Document, Field, Quote
from extractors.letter import own_words

HIDDEN = "•"
LAST_FIGURES = 3
OWN_PACK = "pack of your own"
"""How the place of a fault of a user's pack begins; its words may tell paths and rows."""
_FIGURE_WORDS = "zero|oh|one|two|three|four|five|six|seven|eight|nine|double|triple|null"
_PHONE = re.compile(r"(?<![\w.])\+?\(?\d[\d ().\-/\u2011\u2013]{5,22}\d(?!\w)")
_SPELLED = re.compile(rf"(?:\b(?:{_FIGURE_WORDS})\b[\s,.\-]*){{6,}}", re.IGNORECASE)
_MAIL = re.compile(r"[\w.+\-]+\s?(?:@|\(at\)|\[at\])\s?[\w\-]+(?:\.|\s?\(dot\)\s?)[\w.\-]+", re.IGNORECASE)
_ADDRESS = re.compile(r"(?:https?://|www\.)\S+", re.IGNORECASE)
_NAME = r"(?:[A-ZÀ-Þ][\w'’\-]+\.?)(?:[ \t]+(?:[A-ZÀ-Þ][\w'’\-]*\.?|van|von|de|der|la|le|du|ten|ter|zu))*"
_PERSON = re.compile(
    r"\b(?i:contact|ask for|call|ring|phone|text|email|e-mail|speak to|message|regards|thanks|cheers|write to|my name is|name is|enquiries|mr|mrs|ms|dr)\b"
    rf"[ \t]*(?:(?:on|to|for|at)\b)?[ \t,.:\-]*\n?({_NAME})"
)
_PLACE = re.compile(
    r"\b(?i:located in|located at|located near|located|location|viewing in|viewing at|view in|view at|collection from|collect from|collect in|pick up in|pickup in|"
    rf"based in|lives in|near|stored in|garaged in|kept in|from my home in|I am in|I'm in|bike is in|car is in)\b[ \t:]*(?:the[ \t]+)?({_NAME})"
)
_POSTCODE = re.compile(r"\b[A-Z]{1,2}\d[A-Z\d]?[ ]\d[A-Z]{2}\b|\b[A-Z]{2}[ ]\d{5}(?:-\d{4})?\b")
PERSONAL_ENTRIES = frozenset(
    "contact name seller phone telephone tel mobile email e-mail mail location place city town address postcode zip county owner dealer vendor consignor".split()
)
_DATE_LIKE = re.compile(r"(?:\d{1,2}[./\- ]){2}\d{2,4}|\d{4}[-/]\d{2,4}|\d{1,3}(?:[ ,]\d{3})+")


class _Mask:
    """What is to be hidden in one listing: exact strings and their hidden forms, the longest first."""

    def __init__(self, audit: Audit) -> None:
        self.hidden: dict[str, str] = {}
        for claim in audit.claims:
            if claim.kind == "number" and claim.value:
                end = len(claim.value) if claim.part == "registration" else LAST_FIGURES
                self.hidden[claim.quote.text] = _without_last(claim.quote.text, end)
                self.hidden[claim.value] = _without_last(claim.value, end)
        for decoding in audit.decodings:
            self.hidden[decoding.number] = _without_last(decoding.number, LAST_FIGURES)
            for text in decoding.groups.values():
                if text.isdigit() and len(text) > LAST_FIGURES:
                    self.hidden[text] = _without_last(text, LAST_FIGURES)
                    self.hidden[str(int(text))] = _without_last(str(int(text)), LAST_FIGURES)
        self.numbers = [(c.quote.field, c.quote.start, c.quote.end) for c in audit.claims if c.kind == "number" and c.value]
        for field in audit.document.fields:
            for start, end in self.personal(field):
                words = field.text[start:end]
                if len(words.strip()) > 1:
                    self.hidden[words] = _blotted(words)
        self.keys = sorted((k for k in self.hidden if len(k) > 1), key=len, reverse=True)

    def personal(self, field: Field) -> Iterator[tuple[int, int]]:
        """Places of personal data in a field, apart from the numbers that were read as such."""
        numbers = [(start, end) for name, start, end in self.numbers if name == field.name]
        for start, end in _personal(field):
            if not any(a < end and start < b for a, b in numbers):
                yield start, end

    def text(self, text: str) -> str:
        """A text with everything hidden that is to be."""
        for key in self.keys:
            if key in text:
                text = re.sub(rf"(?<!\w){re.escape(key)}(?!\w)", self.hidden[key].replace("\\", r"\\"), text)
        return text


def shared(audit: Audit) -> Audit:
    """The audit with personal data and the ends of numbers hidden; every renderer then shows only that.

    Raises `ValueError` for an audit that rests on rows which a keeper marked private: audit with `public(packs)` instead.
    """
    refuse_private(audit)
    mask = _Mask(audit)
    fields = tuple(Field(f.name, _field(f, mask), f.locator) for f in audit.document.fields)
    document = dataclasses.replace(audit.document, fields=fields, id="shared", source="", photos=())
    claims = {id(c): _claim(c, document, mask) for c in audit.claims}
    decodings = tuple(_decoding(d, claims, mask) for d in audit.decodings)
    findings = tuple(_finding(f, claims, mask) for f in audit.findings)
    questions = tuple(dataclasses.replace(q, text=mask.text(q.text)) for q in audit.questions)
    asked: tuple[Question, ...] = questions
    return dataclasses.replace(
        audit, document=document, claims=tuple(claims[id(c)] for c in audit.claims), decodings=decodings, findings=findings, questions=asked,
        answers=tuple(_answer(a, mask) for a in audit.answers), still_open=tuple(_still_open(s, mask) for s in audit.still_open),
        changes=_changes(audit.changes, claims, mask), before=shared(audit.before) if audit.before else None,
        weigh=lambda: tuple(_belief(b, claims, mask) for b in audit.beliefs),
        faults=tuple(Fault(OWN_PACK, "left out") if f.where.startswith(OWN_PACK) else f for f in audit.faults),
    )  # fmt: skip


def refuse_private(audit: Audit) -> None:
    """Raise `ValueError` where rows of a pack in use are private."""
    if named := [p.id for p in audit.packs if has_private(p)]:
        raise ValueError(f"private rows in {', '.join(named)}: audit with claims.pack_extension.public(packs) what others will read")


def _answer(answer: Answer, mask: _Mask) -> Answer:
    return dataclasses.replace(answer, words=mask.text(answer.words), topic=dataclasses.replace(answer.topic, text=mask.text(answer.topic.text)))


def _still_open(still: StillOpen, mask: _Mask) -> StillOpen:
    question = dataclasses.replace(still.question, text=mask.text(still.question.text))
    return StillOpen(question, _answer(still.answer, mask), mask.text(still.text))


def _belief(belief: Belief, claims: dict[int, Claim], mask: _Mask) -> Belief:
    def rows(own: tuple[Weight, ...]) -> tuple[Weight, ...]:
        return tuple(dataclasses.replace(r, text=mask.text(r.text), claims=tuple(claims[id(c)] for c in r.claims if id(c) in claims)) for r in own)

    parts = tuple(dataclasses.replace(p, rows=rows(p.rows), story=mask.text(p.story)) for p in belief.parts)
    return dataclasses.replace(belief, rows=rows(belief.rows), parts=parts)


def _changes(changes: Changes | None, claims: dict[int, Claim], mask: _Mask) -> Changes | None:
    if changes is None:
        return None
    groups = ([dataclasses.replace(c, message=mask.text(c.message), witness=mask.text(c.witness)) for c in found] for found in
              (changes.cleared, changes.new, changes.standing))  # fmt: skip
    words = tuple(dataclasses.replace(r, earlier=claims[id(r.earlier)], later=claims[id(r.later)]) for r in changes.replaced)
    cleared, new, standing = map(tuple, groups)
    return Changes(cleared, new, standing, words)


def _personal(field: Field) -> Iterator[tuple[int, int]]:
    """Places of personal data in a field."""
    text = field.text
    if field.name.startswith(ATTRIBUTE) and PERSONAL_ENTRIES & set(re.findall(r"[a-z\-]+", field.label.lower())):
        yield 0, len(text)
        return
    if letter_name(field.name):
        own = own_words(text)
        yield from ((m.start(), m.end()) for m in re.finditer(r"[^\n]+", text) if not own[m.start() : m.end()].strip())
    for pattern in (_MAIL, _ADDRESS, _SPELLED, _POSTCODE):
        for found in pattern.finditer(text):
            yield found.span()
    for pattern in (_PERSON, _PLACE):
        for found in pattern.finditer(text):
            yield found.span(1)
    for found in _PHONE.finditer(text):
        if sum(c.isdigit() for c in found[0]) >= 7 and not _DATE_LIKE.fullmatch(found[0].strip()):
            yield found.span()


def _field(field: Field, mask: _Mask) -> str:
    text = field.text
    for start, end in mask.personal(field):
        text = text[:start] + _blotted(text[start:end]) + text[end:]
    return mask.text(text)


def _blotted(text: str) -> str:
    return "".join(HIDDEN if c.isalnum() else c for c in text)


def _without_last(text: str, count: int) -> str:
    """The text with its last `count` letters or figures hidden; spaces and joints stay.

    >>> _without_last("33Q 07311 G", 3), _without_last("P 3107", 3)
    ('33Q 073•• •', 'P 3•••')
    """
    out = list(text)
    for i in range(len(out) - 1, -1, -1):
        if count and out[i].isalnum():
            out[i] = HIDDEN
            count -= 1
    return "".join(out)


def _claim(claim: Claim, document: Document, mask: _Mask) -> Claim:
    q = claim.quote
    quote: Quote = document.quote(q.field, q.start, q.end)
    value = mask.text(claim.value) if claim.value else claim.value
    return dataclasses.replace(claim, quote=quote, value=value, note=mask.text(claim.note))


def _decoding(decoding: Decoding, claims: dict[int, Claim], mask: _Mask) -> Decoding:
    readings: tuple[Reading, ...] = tuple(dataclasses.replace(r, reason=mask.text(r.reason)) for r in decoding.readings)
    return dataclasses.replace(
        decoding,
        claim=claims[id(decoding.claim)],
        number=mask.text(decoding.number),
        readings=readings,
        groups={name: mask.text(text) for name, text in decoding.groups.items()},
        detail=mask.text(decoding.detail),
        repaired=mask.text(decoding.repaired),
    )


def _finding(finding: Finding, claims: dict[int, Claim], mask: _Mask) -> Finding:
    return dataclasses.replace(finding, message=mask.text(finding.message), claims=tuple(claims[id(c)] for c in finding.claims))
