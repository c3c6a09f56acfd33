"""How much an unasked look would tell: expected bits about the vehicle's origin and the part's state, for every question.

The information of an answer y about (O, S_p) is H(y) - H(y | O, S_p), exact over the posterior's joint of the part. An
answer that is only a number counts by the row of the table that it falls in. All features of a pack, numbers not given
and cast dates are asked; what was already told is not.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from auditor.origin.belief import Look
from auditor.origin.evidence import CASTING, FEATURE, NUMBER, Evidence
from auditor.origin.family import Family, Vector
from auditor.origin.joint import PartJoint, joint_of
from auditor.origin.likelihood import PLATE
from auditor.origin.posterior import Posterior

EFFORT_OF_NUMBER, EFFORT_OF_CASTING = 1, 2
UNREADABLE = 0.05
"""Share of numbers that are worn, or given without their ends (the demo world's `statements`)."""
LEAST_DOUBT = 0.05
SETTLES = 0.5
"""A question settles what it takes this share of the doubt from."""


def looks(post: Posterior, evidence: Sequence[Evidence], only: str = "") -> list[Look]:
    """Every look that is still open, the most informative for its effort first; `only` limits it to one part."""
    f = post.family
    told = {(e.kind, e.part, e.value.partition("=")[0] if e.kind == FEATURE else "") for e in evidence if e.value or e.kind == NUMBER}
    out = []
    for part in f.parts:
        if only and part != only:
            continue
        open_looks = list(_open(f, part, told))
        if open_looks:
            joint = joint_of(post, part)
            out += [_look(f, post, part, joint, about, effort, shown, later) for about, effort, shown, later in open_looks]
    return sorted(out, key=lambda k: (-k.worth, k.effort, k.about, k.part))


def _open(f: Family, part: str, told: set[tuple[str, str, str]]) -> Iterator[tuple[str, int, Vector, dict[str, Vector]]]:
    """(about, effort, what each cell would show (C, Y), what each later source would (Y,)) of what was not told."""
    sources = [s.maker for s in f.later[part]]
    for name, feature in f.pack.features.items():
        if feature.part == part and (FEATURE, part, name) not in told:
            wrong = feature.misnamed_share
            variants, shown, later = f.features[name]
            others = max(1, len(variants) - 1)
            blurred = {s: (1 - wrong) * v + wrong * (1 - v) / others for s, v in later.items()}
            yield f"feature:{name}", feature.effort + 1, ((1 - wrong) * shown + wrong * (1 - shown) / others).T, blurred
    if (NUMBER, part, "") not in told and any(s.part == part or part in s.also_parts for s in f.pack.schemes.values() if not s.earliest):
        names, shown = f.outcomes(part)
        if len(names):
            yield "number", EFFORT_OF_NUMBER, np.hstack([shown, np.zeros((f.size, 2))]), _numbers_of_later(f, part, shown)
    if (CASTING, part, "") not in told and (found := _castings(f, part)) is not None:
        yield "casting", EFFORT_OF_CASTING, found, {s: np.eye(found.shape[1])[-1] for s in sources}


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


def _look(f: Family, post: Posterior, part: str, joint: PartJoint, about: str, effort: int, shown: Vector, later: dict[str, Vector]) -> Look:
    by_state = [joint.original[:, None] * shown, joint.exchanged @ shown]
    for source, mass in joint.later.items():
        if about == "number" and part == PLATE:
            by_state.append(_copied(post, mass, shown, later[source], next(s.number_copies_frame for s in f.later[part] if s.maker == source)))
        else:
            by_state.append(mass[:, None] * later.get(source, np.full(shown.shape[1], 1 / shown.shape[1]))[None, :])
    keep = 1 - UNREADABLE if about == "number" else 1.0
    whole = sum(by_state[1:], by_state[0])
    bits = keep * (_entropy(whole.sum(0)) - sum(_entropy(b) - _entropy(b.sum(1)) for b in by_state))
    whole_doubt = _entropy(whole.sum(1))
    of_origin = keep * (whole_doubt + _entropy(whole.sum(0)) - _entropy(whole))
    return Look(about, part, max(0.0, float(bits)), effort, _settles(f, whole, keep, of_origin, whole_doubt), max(0.0, of_origin))


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
    return float(-(flat * np.log2(flat)).sum())


def _settles(f: Family, whole: Vector, keep: float, of_origin: float, doubt: float) -> str:
    """What the answer would settle: the maker, the date, or only something of the part."""
    makers = np.array([[m == k for m in f.makers] for k in dict.fromkeys(f.makers)], float)
    joint = makers @ whole
    of_makers = _entropy(joint.sum(1))
    told = keep * (of_makers + _entropy(joint.sum(0)) - _entropy(joint))
    if of_makers > LEAST_DOUBT and told >= SETTLES * of_makers:
        return "the maker"
    return "the date of building" if doubt > LEAST_DOUBT and of_origin >= SETTLES * doubt else "the part"
