"""The output that others build on, as pydantic models; the manual's JSON Schema is generated from them.

It may grow, not change meaning. `of_audit` makes the record of an `Audit`; `claims_line` the line of `auditor claims`.
"""

from typing import Any

from pydantic import BaseModel, ConfigDict

from auditor.audit import Audit
from auditor.finding import Finding
from auditor.origin.belief import PartBelief
from auditor.render.plain import STANDING_CAUTIONS
from auditor.replies.changes import Change
from claims.claim import Claim

WHOLE = "vehicle"
LEAST_CHANGE = 0.01
"""Change of a probability that is worth saying."""


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
    """What is known of a part, or of the vehicle as a whole (`original` null), at one time; as in `PartRecord`."""

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
        **origin_members(audit, place),
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
    before, after = _believed(audit.before), _believed(audit)
    pairs = [(part, before.get(part), after.get(part)) for part in dict.fromkeys((*before, *after))]
    return [BeliefRecord(part=part, before=old, after=new) for part, old, new in pairs if _differs(old, new)]


def _believed(audit: Audit) -> dict[str, BelievedRecord]:
    """What is known of the first vehicle (`WHOLE`, where its family has priors) and of its parts; a part of which nothing is known is absent."""
    if not audit.beliefs:
        return {}
    known, out = audit.beliefs[0], {}
    if known.has_probabilities and any(p.touched for p in known.parts):
        first, last = known.span
        out[WHOLE] = BelievedRecord(original=None, makers=dict(known.makers), built=BuiltRecord(first=first, last=last))
    return out | {p.part: BelievedRecord(original=p.original, makers=p.makers, built=_built(p)) for p in known.parts if p.touched}


def _differs(old: BelievedRecord | None, new: BelievedRecord | None) -> bool:
    """Whether belief moved by what a reader would see."""
    if old is None or new is None or old.makers.keys() != new.makers.keys():
        return old != new
    if old.original is None or new.original is None:
        moved = [abs((p or 0) - (new.makers[m] or 0)) >= LEAST_CHANGE for m, p in old.makers.items()]
        return old.built != new.built or any(moved)
    return abs(old.original - new.original) >= LEAST_CHANGE or (old.built != new.built and new.original >= LEAST_CHANGE)


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


def origin_members(audit: Audit, place: dict[int, int]) -> dict[str, Any]:
    """`origin`, `parts` and `questions` of an audit: of its first vehicle."""
    belief = audit.beliefs[0] if audit.beliefs else None
    return {
        "origin": OriginRecord(makers=belief.makers if belief else {}, months=belief.months if belief else {}),
        "parts": {p.part: _part(p, place) for p in belief.parts} if belief else {},
        "questions": [
            QuestionRecord(text=q.text, part=q.part, about=q.about, bits=q.bits, effort=q.effort, findings=list(q.findings)) for q in audit.ranked
        ],
    }


def origin_line(audit: Audit) -> dict[str, Any]:
    """The record of one line of `auditor origin`."""
    members = origin_members(audit, {id(c): n for n, c in enumerate(audit.claims)})
    return {
        "id": audit.document.id,
        "origin": members["origin"].model_dump(),
        "parts": {name: part.model_dump() for name, part in members["parts"].items()},
        "questions": [q.model_dump() for q in members["questions"]],
    }


def _part(part: PartBelief, place: dict[int, int]) -> PartRecord:
    evidence = [EvidenceRecord(claims=[place[id(c)] for c in r.claims if id(c) in place], text=r.text, bits=r.bits, words=r.words) for r in part.rows]
    return PartRecord(
        original=part.original, exchanged=part.exchanged, made_later=part.made_later, makers=part.makers, built=_built(part), evidence=evidence
    )


def _built(part: PartBelief) -> BuiltRecord | None:
    return BuiltRecord(first=part.first, last=part.last) if part.first else None
