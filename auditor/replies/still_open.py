"""Questions that were asked and have no answer: not put again word for word, but kept open with another way to settle them."""

from collections.abc import Sequence
from dataclasses import dataclass

from auditor.questions import Question
from auditor.replies.hearing import LABELS, TOLD, Answer
from claims.claim import NOTES, Claim

NUMBER = "number"
_OTHERWISE = {
    "number": "The {what} is still open: a photograph of the place, a friend or mechanic on the spot, or your own reading at the vehicle.",
    "casting": "The code on the {part} is still open: a photograph of it, or your own look at the vehicle.",
    "papers": "The papers are still open: a copy of the page that gives the date and the number.",
    "mark": "The maker's mark is still open: look for it at the vehicle.",
    "feature": "The look of it is still open: a photograph from close by, or your own look at the vehicle.",
    "photo": "The photograph is still open: take it yourself at the vehicle.",
}
_TOLD_ONLY = "The {what} is told, not shown: a photograph of the place, or your own reading at the vehicle, would settle it."
_STATEMENT = "Still open: what the seller's statement rests on. Papers that say so, or the earlier owner, could tell."


@dataclass(frozen=True, slots=True)
class StillOpen:
    """A question that was asked, what was answered, and how else it could be settled."""

    question: Question
    answer: Answer
    text: str


def divided(questions: Sequence[Question], answers: Sequence[Answer], standing: Sequence[Claim]) -> tuple[list[Question], list[StillOpen]]:
    """(questions not asked before, those asked and still called for); what one has read oneself is asked of nobody."""
    seen = {c.part for c in standing if c.basis == NOTES and c.kind == "number" and c.value}
    fresh: list[Question] = []
    still: list[StillOpen] = []
    for question in questions:
        if question.about == NUMBER and question.part in seen:
            continue
        answer = next((a for a in reversed(answers) if _is_same(question, a)), None)
        if answer is None:
            fresh.append(question)
        elif answer.outcome != TOLD:
            still.append(StillOpen(question, answer, _otherwise(question)))
        elif question.about == NUMBER:
            still.append(StillOpen(question, answer, _TOLD_ONLY.format(what=LABELS.get(question.part, f"{question.part} number"))))
    return fresh, still


def not_asked(questions: Sequence[Question], answers: Sequence[Answer]) -> list[Question]:
    """The questions that were not put before."""
    return [q for q in questions if not any(_is_same(q, a) for a in answers)]


def still_asked(sent: Sequence[Question], asked: Sequence[Question], answers: Sequence[Answer]) -> list[Question]:
    """Questions of earlier letters that serve no finding and were not answered: they are kept open as the others are."""
    told = [a for a in answers if a.outcome == TOLD]
    known = {(q.about, q.part) for q in asked}
    return [q for q in dict.fromkeys(sent) if not q.findings and (q.about, q.part) not in known and not any(_is_same(q, a) for a in told)]


def _is_same(question: Question, answer: Answer) -> bool:
    asked = answer.topic.question
    if asked is not None:
        return asked.text == question.text or (asked.about == question.about != "statement" and asked.part == question.part)
    return NUMBER in answer.topic.about and question.about == NUMBER and answer.topic.parts == (question.part,)


def _otherwise(question: Question) -> str:
    how = _OTHERWISE.get(question.about.partition(":")[0], _STATEMENT)
    return how.format(what=LABELS.get(question.part, f"{question.part} number"), part=question.part)
