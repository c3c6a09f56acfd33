"""The output that others build on, as pydantic models; the manual's JSON Schema is generated from them.

It may grow, not change meaning. `of_audit` makes the record of an `Audit`; `claims_line` the line of `auditor claims`.
"""

import dataclasses
from collections.abc import Iterable
from typing import Any

from pydantic import BaseModel, ConfigDict

from auditor.audit import Audit
from auditor.finding import Finding
from auditor.render.plain import STANDING_CAUTIONS, readings_words
from auditor.replies.changes import Change
from claims.claim import Claim
from claims.reading_of_number import Decoding


class _Record(BaseModel):
    model_config = ConfigDict(extra="forbid")


class ClaimRecord(_Record):
    """One claim: offsets count Unicode code points of the field as received."""

    kind: str
    part: str
    value: str | None
    stance: str
    basis: str
    field: str
    start: int
    end: int
    text: str
    item: int = 1
    note: str = ""


class SourceRecord(_Record):
    """Where a rule comes from, and how far it may be trusted."""

    title: str
    publisher: str
    year: str
    standing: str


class FindingRecord(_Record):
    """One finding; `claims` are indexes into the record's claims."""

    name: str
    grade: str
    message: str
    part: str
    claims: list[int]
    rule: str
    sources: list[SourceRecord]
    innocent: list[str]
    settle: str


class EvidenceRecord(_Record):
    """One piece of evidence on a part, with its claims and what it says."""

    claims: list[int]
    text: str
    bits: float | None
    words: str


class BuiltRecord(_Record):
    """The span of months that the readings of a part allow."""

    first: str
    last: str


class PartRecord(_Record):
    """What is known of a part; probabilities are null in families without sourced priors."""

    original: float | None
    exchanged: float | None
    made_later: float | None
    makers: dict[str, float | None]
    built: BuiltRecord | None
    evidence: list[EvidenceRecord]


class OriginRecord(_Record):
    """What is believed of the vehicle's origin; empty in families without sourced priors."""

    makers: dict[str, float]
    months: dict[str, float]


class QuestionRecord(_Record):
    """A question to the seller; `bits` is null where no belief is computed."""

    text: str
    part: str
    about: str
    bits: float | None
    effort: int
    findings: list[str]


class FaultRecord(_Record):
    """A check or pack that failed and was left out."""

    where: str
    message: str


class ChangeRecord(_Record):
    """A finding that replies and notes cleared, brought up or left standing; `was` is its grade before, where that changed."""

    name: str
    part: str
    message: str
    grade: str
    was: str
    witness: str
    item: int = 1


class ReplacedRecord(_Record):
    """A claim in whose place another stands; `earlier` and `later` are indexes into the record's claims."""

    earlier: int
    later: int
    why: str


class BelievedRecord(_Record):
    """What is known of a part (or of the `origin` of the whole) at one time; as in `PartRecord`."""

    original: float | None
    makers: dict[str, float | None]
    built: BuiltRecord | None


class BeliefRecord(_Record):
    """What is known of a part before replies and notes and with them; null where nothing is."""

    part: str
    before: BelievedRecord | None
    after: BelievedRecord | None


class ChangesRecord(_Record):
    """What replies and notes changed against the same run without them."""

    cleared: list[ChangeRecord]
    new: list[ChangeRecord]
    standing: list[ChangeRecord]
    replaced: list[ReplacedRecord]
    belief: list[BeliefRecord]
    """Parts of which something else is known than before."""


class AnswerRecord(_Record):
    """What became of a question that was put; `field` is the letter, `outcome` what the words are."""

    question: str
    parts: list[str]
    words: str
    outcome: str
    field: str


class StillOpenRecord(_Record):
    """A question that was asked before and has no answer; `text` says how else it could be settled."""

    question: str
    text: str
    part: str
    about: str


class AuditRecord(_Record):
    """One audited listing, as `auditor check --format json` prints it."""

    id: str | int
    title: str
    claims: list[ClaimRecord]
    findings: list[FindingRecord]
    origin: OriginRecord
    parts: dict[str, PartRecord]
    questions: list[QuestionRecord]
    cautions: list[str]
    faults: list[FaultRecord]
    changes: ChangesRecord | None = None
    """Only with replies or notes, as are the two below."""
    answers: list[AnswerRecord] | None = None
    still_open: list[StillOpenRecord] | None = None


def of_audit(audit: Audit) -> AuditRecord:
    """The record of an audit."""
    place = {id(c): n for n, c in enumerate(audit.claims)}
    return AuditRecord(
        id=audit.document.id,
        title=audit.document.title,
        claims=[ClaimRecord(**claim_dict(c), item=c.item, note=c.note) for c in audit.claims],
        findings=[_finding(f, place) for f in audit.findings],
        origin=OriginRecord(makers={}, months={}),
        parts=_parts(_standing(audit), place),
        questions=[
            QuestionRecord(text=q.text, part=q.part, about=q.about, bits=None, effort=q.effort, findings=list(q.findings)) for q in audit.questions
        ],
        cautions=[*audit.cautions, *STANDING_CAUTIONS],
        faults=[FaultRecord(where=f.where, message=f.message) for f in audit.faults],
        **_of_letters(audit, place),
    )


def _of_letters(audit: Audit, place: dict[int, int]) -> dict[str, Any]:
    """The members that only an audit with replies or notes has."""
    if audit.changes is None:
        return {}
    c = audit.changes
    return {
        "changes": ChangesRecord(
            cleared=[_change(x) for x in c.cleared], new=[_change(x) for x in c.new], standing=[_change(x) for x in c.standing],
            replaced=[ReplacedRecord(earlier=place[id(r.earlier)], later=place[id(r.later)], why=r.why) for r in c.replaced],
            belief=belief(audit),
        ),
        "answers": [AnswerRecord(question=a.topic.text, parts=list(a.topic.parts), words=a.words, outcome=a.outcome, field=a.field) for a in audit.answers],
        "still_open": [
            StillOpenRecord(question=s.question.text, text=s.text, part=s.question.part, about=s.question.about) for s in audit.still_open
        ],
    }  # fmt: skip


def belief(audit: Audit) -> list[BeliefRecord]:
    """What replies and notes changed of what is known of each part; empty for an audit without them."""
    if audit.before is None:
        return []
    before, after = of_audit(audit.before).parts, of_audit(dataclasses.replace(audit, changes=None, before=None, decodings=_standing(audit))).parts
    pairs = [(part, _believed(before.get(part)), _believed(after.get(part))) for part in dict.fromkeys((*before, *after))]
    return [BeliefRecord(part=part, before=old, after=new) for part, old, new in pairs if old != new]


def _standing(audit: Audit) -> tuple[Decoding, ...]:
    """The readings of numbers in whose place no other stands."""
    gone = {id(r.earlier) for r in audit.changes.replaced} if audit.changes else set()
    return tuple(d for d in audit.decodings if id(d.claim) not in gone)


def _believed(record: PartRecord | None) -> BelievedRecord | None:
    return BelievedRecord(original=record.original, makers=record.makers, built=record.built) if record else None


def _change(change: Change) -> ChangeRecord:
    return ChangeRecord(
        name=change.name, part=change.part, message=change.message, grade=change.grade, was=change.was, witness=change.witness, item=change.item
    )


def claim_dict(claim: Claim) -> dict[str, Any]:
    """A claim's contract keys."""
    q = claim.quote
    return {
        "kind": claim.kind, "part": claim.part, "value": claim.value, "stance": claim.stance, "basis": claim.basis,
        "field": q.field, "start": q.start, "end": q.end, "text": q.text,
    }  # fmt: skip


def claims_line(audit: Audit) -> dict[str, Any]:
    """The record of one line of `auditor claims`."""
    place = {id(c): n for n, c in enumerate(audit.claims)}
    return {
        "id": audit.document.id,
        "claims": [claim_dict(c) | ({"item": c.item} if c.item != 1 else {}) for c in audit.claims],
        "findings": [{"name": f.name, "grade": f.grade, "message": f.message, "claims": [place[id(c)] for c in f.claims]} for f in audit.findings],
        "questions": [{"text": q.text, "part": q.part, "about": q.about} for q in audit.questions],
    }


def _finding(finding: Finding, place: dict[int, int]) -> FindingRecord:
    return FindingRecord(
        name=finding.name, grade=finding.grade, message=finding.message, part=finding.part,
        claims=[place[id(c)] for c in finding.claims], rule=finding.rule,
        sources=[SourceRecord(title=s.title, publisher=s.publisher, year=s.year, standing=s.standing) for s in finding.sources],
        innocent=list(finding.innocent), settle=finding.settle,
    )  # fmt: skip


def _parts(decodings: Iterable[Decoding], place: dict[int, int]) -> dict[str, PartRecord]:
    out: dict[str, PartRecord] = {}
    for decoding in decodings:
        if not decoding.readings:
            continue
        spans = decoding.spans
        built = BuiltRecord(first=str(min(spans, key=lambda s: s.first))[:7], last=str(max(spans, key=lambda s: s.last))[-7:]) if spans else None
        evidence = EvidenceRecord(claims=[place[id(decoding.claim)]], text=readings_words(decoding), bits=None, words="dated reading")
        if decoding.part in out:
            out[decoding.part].evidence.append(evidence)
        else:
            makers: dict[str, float | None] = dict.fromkeys(sorted(decoding.makers))
            out[decoding.part] = PartRecord(original=None, exchanged=None, made_later=None, makers=makers, built=built, evidence=[evidence])
    return out
