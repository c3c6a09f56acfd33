"""What to ask the seller: open questions, each with the findings it serves, what it is about and where to look.

A question never gives away the expected answer or the reason. What would clear a contradiction comes first, then
doubts, then gaps; among equals the one that costs the seller least. A first letter has three.
"""

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass

from auditor.case import Case
from auditor.finding import CONTRADICTION, DOUBT, GRADES, NOTE, Finding
from auditor.origin.belief import Belief, Look
from claims.pack import Pack
from claims.pack_rows import Feature

IN_A_LETTER = 3
SERIOUS = (CONTRADICTION, DOUBT)
SHOW_IT = "number_missing"
"""The check whose question asks to be shown a number; it also settles what rests on a number that is only told."""
STATEMENT = "statement"
EFFORT_OF_WORDS = 1
EFFORT_OF_PHOTOGRAPH = 2


@dataclass(frozen=True, slots=True)
class Question:
    """A question to the seller; effort 1 is a word, 2 a photograph, 3 needs tools or a mirror."""

    text: str
    part: str
    about: str
    findings: tuple[str, ...]
    effort: int
    grade: str
    bits: float | None = None
    """Expected information about the vehicle and its parts; None where no belief is computed."""
    reason: str = ""
    """What the answer would settle: for the buyer's eyes, never in a letter."""
    worth: float | None = None
    """What it is ranked by; None where no belief is computed."""


def questions(case: Case, findings: Sequence[Finding], asks: dict[str, tuple[str, str]]) -> list[Question]:
    """The questions that the findings of a case call for, the most useful first; `asks` is (ASK, ABOUT) by check."""
    found: dict[tuple[str, str], Question] = {}
    for finding in findings:
        if finding.grade == NOTE or finding.name not in asks or _is_private(case, finding):
            continue
        wanted = [(part, asks[finding.name]) for part in parts_of(case, finding)]
        if finding.rule and finding.grade in SERIOUS and any(c.kind == "number" for c in finding.claims) and SHOW_IT in asks:
            wanted.append((finding.part, asks[SHOW_IT]))
        for part, (ask, about) in wanted:
            question = _question(case, finding, part, ask, about)
            key = (
                (question.text, "")
                if question.about == STATEMENT
                else (question.about.partition(":")[0] if question.about.startswith("photo") else question.about, question.part)
            )
            old = found.get(key)
            if old is None:
                found[key] = question
            elif finding.name not in old.findings:
                better = min(old, question, key=lambda q: GRADES.index(q.grade))
                found[key] = Question(better.text, part, better.about, (*old.findings, finding.name), better.effort, better.grade)
    return sorted(found.values(), key=lambda q: (GRADES.index(q.grade), -len(q.findings), q.effort))


def parts_of(case: Case, finding: Finding) -> list[str]:
    """The parts that a finding is about: every numbered part that is missing, else its own."""
    if finding.name != "number_missing":
        return [finding.part]
    wanted = [p.part for pack in case.packs for p in pack.parts.values() if p.numbered == "yes" and p.part not in case.numbers]
    return list(dict.fromkeys(wanted)) or [finding.part]


def _question(case: Case, finding: Finding, part: str, ask: str, about: str) -> Question:
    pack = next((p for p in case.packs if part in p.parts), None)
    feature = _feature(case, finding)
    where = (
        feature.where if feature else pack.parts[part].where if pack and pack.parts[part].where else "on the vehicle itself, not on papers or a plate"
    )
    dates = list(dict.fromkeys(c.quote.text for c in finding.claims if c.kind in {"year", "built", "registered", "delivered"}))
    text = ask.format(
        part=case.part_name(feature.part if feature else part),
        where=where,
        feature=feature.name if feature else "",
        year=dates[0] if dates else "stated",
        years=" and ".join(dates) if len(dates) > 1 else " ".join(dates),
        quantity=next((c.quote.text for c in finding.claims if c.kind == "quantity"), ""),
    )
    name = about.format(feature=feature.feature if feature else "")
    effort = feature.effort + 1 if feature else EFFORT_OF_PHOTOGRAPH if "hotograph" in text else EFFORT_OF_WORDS
    return Question(text, part, name, (finding.name,), effort, finding.grade)


def _is_private(case: Case, finding: Finding) -> bool:
    """Whether asking would tell the seller of a feature that its keeper marked private."""
    feature = _feature(case, finding)
    return feature is not None and feature.private


def _feature(case: Case, finding: Finding) -> Feature | None:
    """The feature that a finding is about, or None."""
    for claim in finding.claims:
        if claim.kind == "feature" and claim.value:
            for pack in case.packs:
                if feature := pack.features.get(claim.value.partition("=")[0]):
                    return feature
    return None


UNMEASURED = {CONTRADICTION: 0.5, DOUBT: 0.25}
"""Bits at which a question stands that clears such a finding and whose answer no table can foresee (a convention of this tool)."""
STEP = 0.25
"""Bits for the effort that count as equal; ties go to what clears a finding."""
LEAST_BITS = 0.02
_ASKS = {"number": "number_missing", "feature": "feature_out_of_place", "casting": "casting_after_vehicle"}


def ranked(asked: Sequence[Question], belief: Belief, asks: dict[str, tuple[str, str]]) -> list[Question]:
    """The questions by expected information for their effort: those that findings call for (`asked`) and every open look.

    Among equals those come first that clear a finding. Without belief the order is that of `asked`.
    """
    if not belief.looks or belief.pack is None:
        return list(asked)
    known = {(k.about, k.part): k for k in belief.looks}
    out = []
    for q in asked:
        look = known.pop((q.about, q.part), None)
        out.append(dataclasses.replace(q, bits=look.bits, reason=_reason(look), worth=look.worth) if look else q)
    out += [_of_look(look, belief.pack, asks) for look in known.values() if look.bits >= LEAST_BITS and look.about.partition(":")[0] in _ASKS]
    return sorted(out, key=_place)


def _place(q: Question) -> tuple[float, int, float, int]:
    worth = q.worth if q.worth is not None else UNMEASURED.get(q.grade, 0.0) / q.effort
    return -round(worth / STEP), GRADES.index(q.grade), -worth, q.effort


def _of_look(look: Look, pack: Pack, asks: dict[str, tuple[str, str]]) -> Question:
    kind, _, name = look.about.partition(":")
    feature = pack.features.get(name)
    part = pack.parts.get(look.part)
    where = feature.where if feature else part.where if part and part.where else "on the vehicle itself, not on papers or a plate"
    text = asks[_ASKS[kind]][0].format(part=part.name if part else look.part, where=where, feature="", year="", years="", quantity="")
    return Question(text, look.part, look.about, (), look.effort, NOTE, look.bits, _reason(look), look.worth)


def _reason(look: Look) -> str:
    return f"would settle {look.settles}" if look.settles != "the part" else f"would tell whether the {look.part} belongs"
