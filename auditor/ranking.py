"""One order of questions: what findings call for and everything else that can be looked at, by what an answer is worth.

Worth is in bits for the effort: expected information about the vehicle's maker and month, and at a share about the part
(`Look.worth`). What would clear a finding and foretells nothing in figures is worth a share of the best open look: a
contradiction all of it, since every other figure takes the words for true, and so a question that clears one is always
among the first; so is the gap where the number that carries the identity is not known; a doubt is worth half. Worths within a step are ties, and ties go to what clears the graver finding. Families
without sourced priors are ranked under a neutral prior, and nothing of it is shown.
"""

import dataclasses
from collections.abc import Mapping, Sequence

from auditor.case import IDENTITY_PARTS
from auditor.finding import CONTRADICTION, DOUBT, GAP, GRADES, NOTE
from auditor.origin.belief import PART, Belief, Look
from auditor.questions import Question, asked_words
from claims.pack import Pack

OF_THE_BEST = {CONTRADICTION: 1.0, DOUBT: 0.5}
"""What clearing a finding is worth, as a share of the best open look (a convention of this tool)."""
STEP = 0.25
"""Bits for the effort that count as equal."""
LEAST_BITS = 0.02
ELSEWHERE = "on the vehicle itself, not on papers or a plate"
_ASKS = {"number": "number_missing", "feature": "feature_out_of_place", "casting": "casting_after_vehicle"}
Asks = Mapping[str, tuple[str, str]]


def ranked(asked: Sequence[Question], belief: Belief, asks: Asks) -> list[Question]:
    """The questions that findings call for (`asked`) and every open look, the most useful first; `asks` is (ASK, ABOUT) by check.

    Without anything that can be looked at, the order is that of `asked`.
    """
    if not belief.looks or belief.pack is None:
        return list(asked)
    known = {(k.about, k.part): k for k in belief.looks}
    best = max(k.worth for k in belief.looks)
    out = []
    for q in asked:
        look = known.pop((q.about, q.part), None)
        worth = max(_of_the_best(q, belief.pack) * best, look.worth if look else 0.0)
        out.append(dataclasses.replace(q, bits=_bits(look, belief), reason=_reason(q, look, belief.pack), worth=worth))
    out += [_of_look(look, belief, belief.pack, asks) for look in known.values() if _can_be_asked(look, belief.pack)]
    return sorted(out, key=_place)


def _of_the_best(q: Question, pack: Pack) -> float:
    """What clearing its findings makes a question worth; without the number that carries the identity nobody can ask a register."""
    if q.grade == GAP and q.about == "number" and (q.part == pack.identity or q.part in IDENTITY_PARTS):
        return 1.0
    return OF_THE_BEST.get(q.grade, 0.0)


def _place(q: Question) -> tuple[float, int, float, int]:
    worth = q.worth or 0.0
    return -round(worth / STEP), GRADES.index(q.grade), -worth, q.effort


def _can_be_asked(look: Look, pack: Pack) -> bool:
    """Whether it tells anything, and asking gives nothing away that a keeper marked private."""
    kind, _, name = look.about.partition(":")
    return look.bits >= LEAST_BITS and kind in _ASKS and not (name in pack.features and pack.features[name].private)


def _of_look(look: Look, belief: Belief, pack: Pack, asks: Asks) -> Question:
    kind, _, name = look.about.partition(":")
    feature, part = pack.features.get(name), pack.parts.get(look.part)
    where = feature.where if feature and feature.where else part.where if part and part.where else ELSEWHERE
    text = asked_words(asks[_ASKS[kind]][0], part=part.name if part else look.part, where=where)
    question = Question(text, look.part, look.about, (), look.effort, NOTE, _bits(look, belief), worth=look.worth)
    return dataclasses.replace(question, reason=_reason(question, look, pack))


def _bits(look: Look | None, belief: Belief) -> float | None:
    """Bits are shown only where they rest on sourced priors."""
    return look.bits if look and belief.has_probabilities else None


def _reason(q: Question, look: Look | None, pack: Pack) -> str:
    """What the answer would settle, for the buyer's eyes."""
    if look is not None and look.settles != PART:
        return f"would settle {look.settles}"
    if q.findings:
        return "would clear what was found"
    name = pack.parts[q.part].name if q.part in pack.parts else q.part
    return f"would tell whether the {name} belongs"
