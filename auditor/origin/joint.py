"""A part beside the vehicle: the joint of the vehicle's origin, the part's state, and the cell that the part came from."""

from dataclasses import dataclass

import numpy as np

from auditor.origin.family import Vector
from auditor.origin.likelihood import BODY, ENGINE, PLATE
from auditor.origin.posterior import Posterior
from auditor.origin.terms import DONOR_STATE, EXCHANGED, ORIGINAL, A, F, P
from auditor.origin.way import Way


@dataclass(frozen=True)
class PartJoint:
    """`original` (C,) by O; `exchanged` (C, C) by O and the part's own cell; `later` source to (C,) by O. All sum to 1."""

    original: Vector
    exchanged: Vector
    later: dict[str, Vector]

    @property
    def cells(self) -> Vector:
        """P(the part was built in this cell), shape (C,); a later part in none."""
        out: Vector = self.original + self.exchanged.sum(0)
        return out


def joint_of(post: Posterior, part: str) -> PartJoint:
    """The joint of a part; the donor of a part exchanged by itself is taken as independent of the rest."""
    size = post.family.size
    original, exchanged, later = np.zeros(size), np.zeros((size, size)), {s.maker: np.zeros(size) for s in post.family.later[part]}
    alone = _alone(post, part)
    for way in post.ways:
        own, donor, apart = _coupled(post, way, part) if part in post.coupled else _free(post, way, part)
        original += own
        if way.has_donor:
            exchanged += donor
        for state, by_vehicle in apart.items():
            if state == EXCHANGED:
                exchanged += by_vehicle[:, None] * alone[None, :]
            else:
                later[state] += by_vehicle
    return PartJoint(original / post.total, exchanged / post.total, {s: v / post.total for s, v in later.items()})


def _alone(post: Posterior, part: str) -> Vector:
    """Where a part exchanged by itself came from, by what is told of it."""
    like = post.like.cell[part]
    if part == ENGINE:
        like = like * post.numbers.engine
    elif part in post.coupled:
        like = like * post.numbers.sums(frozenset({P}) if part == PLATE else frozenset({F, A}), 0)
    else:
        like = like * post.like.number_cell[part]
    weights = post.family.prior * like
    out: Vector = weights / weights.sum()
    return out


def _free(post: Posterior, way: Way, part: str) -> tuple[Vector, Vector, dict[str, Vector]]:
    own, apart, donor = way.pieces[part]
    if part == BODY:
        first = way.body_own
        ratio = (way.joint - first) / (apart + donor[None, :])
        original = first.sum(1)
    else:
        ratio = way.joint / way.factors[part]
        original = ratio.sum(1) * own
    made_later = post.said[part][2] * post.family.shares.priors[part].made_later
    by_vehicle = ratio.sum(1)
    later = {s: by_vehicle * made_later * v for s, v in post.later[part].items()}
    return original, ratio * donor[None, :], later | {EXCHANGED: by_vehicle * (apart - made_later * sum(post.later[part].values()))}


def _coupled(post: Posterior, way: Way, part: str) -> tuple[Vector, Vector, dict[str, Vector]]:
    masks = way.plan.masks[part]
    original, donor = way.summed(masks[ORIGINAL]).sum(1), np.zeros((1, 1))
    if way.has_donor:
        donor = way.summed(masks[DONOR_STATE])
    apart: dict[str, Vector] = {}
    for name, mask in masks.items():
        if name in (ORIGINAL, DONOR_STATE):
            continue
        by_vehicle = way.summed(mask).sum(1)
        for state, share in post.split(part, name, way.from_donor).items():
            apart[state] = apart.get(state, 0.0) + by_vehicle * share
    return original, donor, apart
