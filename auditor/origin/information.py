"""How much an unasked look would tell: expected bits about the vehicle's origin and the part's state, for every question.

The information of an answer y about (O, S_p) is H(y) - H(y | O, S_p), exact over the posterior's joint of the part. An
answer that is only a number counts by the row of the table that it falls in. All features of a pack, numbers not given
and cast dates are asked; what was already told is not.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from auditor.origin.belief import AS_TOLD, PART, Look
from auditor.origin.evidence import CASTING, FEATURE, NUMBER, Evidence, is_bare_place
from auditor.origin.family import Family, Vector
from auditor.origin.joint import PartJoint, joint_of
from auditor.origin.likelihood import PLATE, likelihoods
from auditor.origin.posterior import Posterior

EFFORT_OF_NUMBER, EFFORT_OF_CASTING, EFFORT_OF_PHOTOGRAPH = 1, 2, 2
HIDDEN = "?"
"""Stands for a figure that a seller hides."""
UNREADABLE = 0.05
"""Share of numbers that are worn, or given without their ends (the demo world's `statements`)."""
LEAST_DOUBT = 0.05
SETTLES = 0.5
"""A question settles what it takes this share of the doubt from."""


def looks(post: Posterior, evidence: Sequence[Evidence], only: str = "") -> list[Look]:
    """Every look that is still open, the most informative for its effort first; `only` limits it to one part."""
    f = post.family
    told = {
        (e.kind, e.part, e.value.partition("=")[0] if e.kind == FEATURE else "")
        for e in evidence
        if e.kind in (NUMBER, FEATURE, CASTING) and HIDDEN not in e.value
    }
    told |= {(NUMBER, e.part, "") for e in evidence if is_bare_place(f.pack, e)}
    out = []
    for part in f.parts:
        if only and part != only:
            continue
        still_open = [a for a in askable(f, part) if (a.kind, part, a.name) not in told]
        joint = joint_of(post, part)
        out += [_look(post, part, joint, one) for one in still_open]
        if (photograph := _shown(post, evidence, part, joint)) is not None:
            out.append(photograph)
    return sorted(out, key=lambda k: (-k.worth, k.effort, k.about, k.part))


@dataclass(frozen=True)
class Askable:
    """Something to look at on a part: what each cell would show (C, Y), and what each later source would (Y,)."""

    kind: str
    name: str
    effort: int
    shown: Vector
    later: dict[str, Vector]

    @property
    def about(self) -> str:
        """As in a question."""
        return f"{self.kind}:{self.name}" if self.name else self.kind


@lru_cache(maxsize=256)
def askable(f: Family, part: str) -> tuple[Askable, ...]:
    """Everything that the pack says can be looked at on a part."""
    return tuple(_askable(f, part))


def _askable(f: Family, part: str) -> Iterator[Askable]:
    sources = [s.maker for s in f.later[part]]
    for name, feature in f.pack.features.items():
        if feature.part == part:
            wrong = feature.misnamed_share
            variants, shown, later = f.features[name]
            others = max(1, len(variants) - 1)
            blurred = {s: (1 - wrong) * v + wrong * (1 - v) / others for s, v in later.items()}
            yield Askable(FEATURE, name, feature.effort + 1, ((1 - wrong) * shown + wrong * (1 - shown) / others).T, blurred)
    if any(s.part == part or part in s.also_parts for s in f.pack.schemes.values() if not s.earliest):
        names, shown = f.outcomes(part)
        if len(names):
            yield Askable(NUMBER, "", EFFORT_OF_NUMBER, np.hstack([shown, np.zeros((f.size, 2))]), _numbers_of_later(f, part, shown))
    if (found := _castings(f, part)) is not None:
        yield Askable(CASTING, "", EFFORT_OF_CASTING, found, {s: np.eye(found.shape[1])[-1] for s in sources})


def _numbers_of_later(f: Family, part: str, shown: Vector) -> dict[str, Vector]:
    """What number a later source's part would show; the last two outcomes are one of its own scheme, and none."""
    anyone = f.prior @ shown
    out = {}
    for s in f.later[part]:
        given = s.number_any_of_family + s.number_copies_frame
        out[s.maker] = np.concatenate([given * anyone, [s.number_own_scheme, s.number_none]])
    return out


def _castings(f: Family, part: str) -> Vector | None:
    """(C, months + 1): the month that a casting would show; the last is undated."""
    rows = {maker: lags for (p, maker), lags in f.shares.castings.items() if p == part}
    if not rows:
        return None
    first = min(f.months) - 5
    out = np.zeros((f.size, max(f.months) - first + 2))
    for c, (maker, month) in enumerate(zip(f.makers, f.months, strict=True)):
        lags = rows.get(maker) or (next(iter(rows.values())) if not set(rows) & set(f.makers) else None)
        if lags:
            for n, share in enumerate(lags, 1):
                out[c, month - n - first] += share
        else:
            out[c, -1] = 1
    return out


def _look(post: Posterior, part: str, joint: PartJoint, one: Askable) -> Look:
    f, shown = post.family, one.shown
    rows = _entropies(shown)
    answers = joint.original[:, None] * shown
    noise = float(joint.original @ rows)
    other = joint.exchanged @ shown
    noise += _entropy(other) - _entropy(other.sum(1))
    answers += other
    for source, mass in joint.later.items():
        if one.kind == NUMBER and part == PLATE:
            copied = _copied(post, mass, shown, one.later[source], next(s.number_copies_frame for s in f.later[part] if s.maker == source))
            noise += _entropy(copied) - _entropy(mass)
            answers += copied
        else:
            own = one.later.get(source, np.full(shown.shape[1], 1 / shown.shape[1]))
            noise += float(mass.sum()) * _entropy(own)
            answers += mass[:, None] * own[None, :]
    return _measured(f, one.about, part, one.effort, answers, noise, 1 - UNREADABLE if one.kind == NUMBER else 1.0)


def _measured(f: Family, about: str, part: str, effort: int, answers: Vector, noise: float, keep: float) -> Look:
    """A look from the joint of the vehicle's cell and the answer (C, Y), and the entropy of the answer where cell and state are known."""
    of_answers, doubt = _entropy(answers.sum(0)), _entropy(answers.sum(1))
    bits, of_origin = keep * (of_answers - noise), keep * (doubt + of_answers - _entropy(answers))
    return Look(about, part, max(0.0, bits), effort, _settles(f, answers, keep, of_origin, doubt), max(0.0, of_origin))


def _shown(post: Posterior, evidence: Sequence[Evidence], part: str, before: PartJoint) -> Look | None:
    """What a photograph of a number would tell that was only told: that it is so, or which other it is."""
    f = post.family
    told = [e.value for e in evidence if e.kind == NUMBER and e.part == part]
    if len(told) != 1 or not told[0] or HIDDEN in told[0] or any(e.seen for e in evidence if e.kind == NUMBER and e.part == part):
        return None
    asked = next((a for a in askable(f, part) if a.kind == NUMBER), None)
    if asked is None:
        return None
    so = Posterior(f, likelihoods(f, [*evidence, Evidence(NUMBER, part, told[0], seen=True)]), post.couplings)
    share = min(1.0, so.total / post.total)
    agreed = joint_of(so, part)
    original = np.maximum(0, before.original - share * agreed.original)
    exchanged = np.maximum(0, before.exchanged - share * agreed.exchanged)
    by_state = [np.hstack([share * agreed.original[:, None], original[:, None] * asked.shown])]
    by_state.append(np.hstack([share * agreed.exchanged.sum(1)[:, None], exchanged @ asked.shown]))
    for source, mass in before.later.items():
        rest = np.maximum(0, mass - share * agreed.later[source])
        by_state.append(np.hstack([share * agreed.later[source][:, None], rest[:, None] * asked.later[source][None, :]]))
    noise = sum(_entropy(b) - _entropy(b.sum(1)) for b in by_state)
    look = _measured(f, NUMBER, part, EFFORT_OF_PHOTOGRAPH, sum(by_state[1:], by_state[0]), noise, 1 - UNREADABLE)
    return look if look.settles != PART else replace(look, settles=AS_TOLD)


def _copied(post: Posterior, mass: Vector, shown: Vector, anyone: Vector, copies: float) -> Vector:
    """A later plate's number by O: mostly the frame's as it stands."""
    frame = joint_of(post, post.frame)
    by_vehicle = np.diag(frame.original) + frame.exchanged
    sums = by_vehicle.sum(1, keepdims=True)
    share = np.divide(by_vehicle, sums, out=np.zeros_like(by_vehicle), where=sums > 0)
    width = shown.shape[1] - share.shape[1]
    rest = anyone * (1 - copies) / max(anyone.sum(), 1e-12)
    out: Vector = mass[:, None] * (copies * np.hstack([share, np.zeros((len(share), width))]) + rest[None, :])
    return out


def _entropy(p: Vector) -> float:
    """Sum of -p log2 p, nothing for nothing."""
    flat = p[p > 1e-15]
    return -float(flat @ np.log2(flat))


def _entropies(p: Vector) -> Vector:
    """The same row by row."""
    out: Vector = -(p * np.log2(np.maximum(p, 1e-15))).sum(1)
    return out


def _settles(f: Family, whole: Vector, keep: float, of_origin: float, doubt: float) -> str:
    """What the answer would settle: the maker, the date, or only something of the part."""
    makers = np.array([[m == k for m in f.makers] for k in dict.fromkeys(f.makers)], float)
    joint = makers @ whole
    of_makers = _entropy(joint.sum(1))
    told = keep * (of_makers + _entropy(joint.sum(0)) - _entropy(joint))
    if of_makers > LEAST_DOUBT and told >= SETTLES * of_makers:
        return "the maker"
    return "the date of building" if doubt > LEAST_DOUBT and of_origin >= SETTLES * doubt else PART
