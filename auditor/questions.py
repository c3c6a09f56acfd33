"""What findings call for asking: open questions, each with the findings it serves, what it is about and where to look.

A question never gives away the expected answer or the reason. Here what would clear a contradiction comes first, then
doubts, then gaps; `auditor/ranking.py` ranks them with everything else that can be looked at. A first letter has three.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from auditor.case import Case
from auditor.finding import CONTRADICTION, DOUBT, GRADES, NOTE, Finding
from claims.pack_rows import Feature

IN_A_LETTER = 3
SERIOUS = (CONTRADICTION, DOUBT)
SHOW_IT = "number_missing"
"""The check whose question asks to be shown a number; it also settles what rests on a number that is only told."""
STATEMENT, NUMBER = "statement", "number"
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
    """Expected information about the vehicle and its parts; None where it cannot be measured."""
    reason: str = ""
    """What the answer would settle: for the buyer's eyes only, never in a letter."""
    worth: float | None = None
    """What it is ranked by, in bits for the effort; None where only the order of findings counts."""


def questions(case: Case, findings: Sequence[Finding], asks: dict[str, tuple[str, str]]) -> list[Question]:
    """The questions that the findings of a case call for, the most useful first; `asks` is (ASK, ABOUT) by check."""
    found: dict[tuple[str, str], Question] = {}
    for finding in findings:
        if finding.grade == NOTE or finding.name not in asks or _is_private(case, finding):
            continue
        wanted = [(part, asks[finding.name]) for part in parts_of(case, finding)]
        if finding.rule and finding.grade in SERIOUS and any(c.kind == NUMBER for c in finding.claims) and SHOW_IT in asks:
            wanted.append((_numbered_part(case, finding), asks[SHOW_IT]))
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


def _numbered_part(case: Case, finding: Finding) -> str:
    """The part whose number a finding rests on, where a pack knows its place; else the finding's own."""
    parts = [c.part for c in finding.claims if c.kind == NUMBER]
    return next((p for p in parts if any(p in pack.parts for pack in case.packs)), finding.part)


def _question(case: Case, finding: Finding, part: str, ask: str, about: str) -> Question:
    pack = next((p for p in case.packs if part in p.parts), None)
    feature = _feature(case, finding) if about != NUMBER else None
    where = (
        feature.where if feature else pack.parts[part].where if pack and pack.parts[part].where else "on the vehicle itself, not on papers or a plate"
    )
    dates = list(dict.fromkeys(c.quote.text for c in finding.claims if c.kind in {"year", "built", "registered", "delivered"}))
    text = asked_words(
        ask,
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


def asked_words(ask: str, *, part: str, where: str, feature: str = "", year: str = "", years: str = "", quantity: str = "") -> str:
    """An `ASK` with its words filled in; a part called "fleet number" has no "fleet number number", and no part stands twice.

    >>> asked_words("Could you photograph the {part}: {where}?", part="front spring", where="front spring from the side")
    'Could you photograph the front spring from the side?'
    """
    if where.replace("-", " ").lower().startswith(part.lower()):
        ask = ask.replace("{part}: {where}", "{where}")
    text = ask.format(part=part, where=where, feature=feature, year=year, years=years, quantity=quantity)
    return text.replace("number number", "number")


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
