"""The questions of a report: three for a letter, what else findings call for, and the names of what could be looked at then."""

from typing import NamedTuple

from auditor.audit import Audit
from auditor.questions import IN_A_LETTER, Question
from claims.pack import Pack

THEN = "Then, most telling first:"
MOST_NAMED = 8
"""Further looks that are named; JSON has all of them as questions."""


class Asked(NamedTuple):
    """`letter` holds three questions at most, `more` the others that serve findings, `then` names of further looks."""

    letter: tuple[Question, ...]
    more: tuple[Question, ...]
    then: tuple[str, ...]


def asked(audit: Audit) -> Asked:
    """The questions of an audit in their one order."""
    letter, others = audit.letter, audit.ranked[IN_A_LETTER:]
    names = dict.fromkeys(name_of(q, audit.packs) for q in others if not q.findings)
    return Asked(letter, tuple(q for q in others if q.findings), tuple(names)[:MOST_NAMED])


def name_of(question: Question, packs: tuple[Pack, ...]) -> str:
    """What a question is about, in a few words."""
    kind, _, name = question.about.partition(":")
    part = next((p.parts[question.part].name for p in packs if question.part in p.parts), question.part)
    feature = next((p.features[name].name for p in packs if name in p.features), "")
    called = part if part.endswith("number") else f"{part} number"
    return feature or {"number": f"the {called}", "casting": f"the cast date of the {part}"}.get(kind, part)
