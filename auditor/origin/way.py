"""All sums for one way of exchange: without a common donor (one column), or with one (a column for each cell).

The joint of the vehicle's cell O and the donor's cell D is `w(O, D) · Σ_k c_k u_k(O) v_k(D)`: what the parts that are
independent given O and D show, times the terms of frame, plate and engine. What owners say of the whole depends on
whether the body is original too, so there are two such weights.
"""

from functools import cached_property
from typing import Protocol

import numpy as np

from auditor.origin.family import Family, Mask, Vector
from auditor.origin.likelihood import BODY
from auditor.origin.shared_numbers import SharedNumbers
from auditor.origin.terms import Plan


class Model(Protocol):
    """What a way needs of the posterior that it belongs to (`auditor/origin/posterior.py`)."""

    family: Family
    numbers: SharedNumbers
    free: dict[str, Vector]
    free_parts: list[str]
    touched: set[str]
    mean: dict[str, float]
    later: dict[str, dict[str, float]]
    said: dict[str, tuple[float, float, float]]

    def spoken(self, frame: bool, engine: bool, body: bool) -> float: ...

    def options(self, from_donor: float) -> tuple[Vector, Vector, Vector]: ...


class Way:
    """The sums of one way; `share` is its prior, `from_donor` the share of exchanged parts that come from the donor."""

    def __init__(self, model: Model, plan: Plan, share: float, from_donor: float) -> None:
        self.model, self.plan, self.from_donor = model, plan, from_donor
        self.has_donor = from_donor > 0
        self.pieces = {part: self._pieces(part) for part in model.free}
        self.factors = {part: self._factor(part) for part in model.free_parts}
        prior = model.family.prior
        others = share * prior[:, None] * (prior if self.has_donor else np.ones(1))[None, :]
        for factor in self.factors.values():
            others *= factor
        own, apart, donor = self.pieces.get(BODY, (np.ones(len(prior)), 0.0, np.zeros(1)))
        self.with_body, self.without_body = others * own[:, None], others * (apart + donor[None, :])
        self.weights = plan.share * np.array([model.numbers.alone(x) for x in plan.lones])[plan.lone].prod(1)
        for place, options in enumerate(model.options(from_donor)):
            self.weights = self.weights * options[plan.places[:, place]]
        self.u = np.array([model.numbers.here(x) for x in plan.owns])
        self.v = np.array([model.numbers.here(x) for x in plan.donors]) if self.has_donor else np.ones((len(plan.donors), 1))
        said = [(model.spoken(kind >= 2, kind % 2 == 1, True), model.spoken(kind >= 2, kind % 2 == 1, False)) for kind in range(4)]
        self.said_with, self.said_without = np.array(said).T[:, plan.kind]

    def _pieces(self, part: str) -> tuple[Vector, float, Vector]:
        """(original, by O; independent of both; from the donor, by D) of a part that is not coupled."""
        m = self.model
        prior, like = m.family.shares.priors[part], m.free[part]
        said = m.said[part]
        apart = said[1] * prior.exchanged * (1 - self.from_donor) * m.mean[part] + said[2] * prior.made_later * sum(m.later[part].values())
        donor = said[1] * prior.exchanged * self.from_donor * like if self.has_donor else np.zeros(1)
        return said[0] * prior.original * like, apart, donor

    def _factor(self, part: str) -> Vector | float:
        """A part's whole likelihood by O and D; one figure where nothing is told of it."""
        own, apart, donor = self.pieces[part]
        return own[:, None] + (apart + donor)[None, :] if part in self.model.touched else float(own[0] + apart + donor[0])

    def _by_cells(self, weights: Vector, mask: Mask | None) -> Vector:
        out: Vector = self.u.T @ (self.plan.added(weights, mask) @ self.v)
        return out

    def of_body(self, mask: Mask | None = None) -> Vector:
        """The unnormalised joint by O and D of the terms in a mask (all without one), with an original body."""
        return self.with_body * self._by_cells(self.weights * self.said_with, mask)

    def summed(self, mask: Mask | None = None) -> Vector:
        """The unnormalised joint by O and D of the terms in a mask; of all without one."""
        return self.of_body(mask) + self.without_body * self._by_cells(self.weights * self.said_without, mask)

    @cached_property
    def body_own(self) -> Vector:
        """The part of the joint in which the body is original."""
        return self.of_body()

    @cached_property
    def joint(self) -> Vector:
        """The unnormalised joint by O and D."""
        return self.body_own + self.without_body * self._by_cells(self.weights * self.said_without, None)

    @cached_property
    def scores(self) -> Vector:
        """The unnormalised weight of every term."""
        first, second = (((self.u @ w) @ self.v.T)[self.plan.own, self.plan.donor] for w in (self.with_body, self.without_body))
        out: Vector = self.weights * (self.said_with * first + self.said_without * second)
        return out
