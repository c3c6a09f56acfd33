"""The exact posterior over the vehicle's origin (maker × month) and the state of every part, with its five couplings.

`P(O | e) ∝ P(O) Π_p [ o_p L_p(O) + x_p Σ_D P(D) L_p(D) + r_p R_p ]`, and beyond that: a later plate mostly copies the
frame's number; frame and engine shared one number in a period; the stated year and maker are mostly read off the plate;
one donor machine D may have given several parts; a told "frame number" may have been read off the plate. Frame, plate
and engine are summed over together as terms `u_k(O) · v_k(D)`; all other parts are independent given O and D.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from auditor.origin.evidence import SILENCE
from auditor.origin.family import Family, Vector
from auditor.origin.likelihood import BODY, ENGINE, PLATE, Likelihoods
from auditor.origin.shared_numbers import SharedNumbers
from auditor.origin.terms import DONOR_STATE, EXCHANGED, ORIGINAL, A, homes, kinds_of, plan
from auditor.origin.way import Way

DONOR = 0.2
"""Share of vehicles with one donor machine for most of what was exchanged (common practice, no source)."""
FROM_DONOR = 0.9
"""Share of exchanged parts that come from that donor, where there is one."""
COPIED_OFF_PLATE = 0.06
"""Share of told frame numbers that were read off the plate or the papers (common practice, no source)."""
REPLACED_SAID = (0.01, 0.15, 0.20)
"""Rates of owning up to a replaced part that is original, exchanged, made later, where the pack has none for it."""


@dataclass(frozen=True)
class Couplings:
    """Which couplings are in the model, and how strong; the defaults are the tool's."""

    donor: float = DONOR
    copied_off_plate: float = COPIED_OFF_PLATE
    plate_copies: bool = True
    equal_numbers: bool = True


class Posterior:
    """Belief after the evidence. Everything is exact sums; `origin` is P(O), shape (C,)."""

    def __init__(self, family: Family, like: Likelihoods, couplings: Couplings | None = None) -> None:
        self.family, self.like = family, like
        self.couplings = couplings or Couplings()
        self.frame = family.pack.identity
        self.coupled = [p for p in (self.frame, PLATE, ENGINE) if p in family.parts]
        self.free_parts = [p for p in family.parts if p not in (*self.coupled, BODY)]
        self.said = {p: self._said(p) for p in family.parts}
        """By part: how likely what owners say of it is, if it is original, exchanged, made later."""
        self.numbers = SharedNumbers(family, like, self.couplings.equal_numbers)
        self.free = {p: like.cell[p] * like.number_cell[p] for p in family.parts if p not in self.coupled}
        self.later = {p: dict(self._later(p)) for p in (*self.free, ENGINE)}
        self.mean = {p: float(family.prior @ self.free[p]) for p in self.free}
        if ENGINE in family.parts:
            self.mean[ENGINE] = float(family.prior @ (like.cell[ENGINE] * self.numbers.engine))
        self.touched = {p for p, v in self.free.items() if np.ptp(v)}
        donor = self.couplings.donor
        self.ways = [self._way(share, back) for share, back in [(1 - donor, 0.0), *([(donor, FROM_DONOR)] if donor else [])]]
        self.total = float(sum(w.joint.sum() for w in self.ways))

    def _way(self, share: float, from_donor: float) -> Way:
        off_plate = self.couplings.copied_off_plate if self.numbers.roles[A] else 0.0
        return Way(self, plan(self.family, from_donor > 0, self.couplings.plate_copies, off_plate, bool(self.like.years)), share, from_donor)

    def _later(self, part: str) -> Iterator[tuple[str, float]]:
        """(source, its share times what its part would show) of a part that is numbered for itself."""
        f, own = self.family, self.like.number_later[part]
        numbers = self.numbers.engine if part == ENGINE else self.like.number_cell[part]
        anyone = float(f.prior @ numbers)
        for s in f.later[part]:
            shown = s.number_none * own.get("", 1.0) + (s.number_any_of_family + s.number_copies_frame) * anyone
            shown += s.number_own_scheme * own.get(s.maker, 1.0)
            yield s.maker, s.share * self.like.later[part][s.maker] * shown

    def _said(self, part: str) -> tuple[float, float, float]:
        """How likely what owners say of this one part is, if it is original, exchanged, made later."""
        shares, out = self.family.shares, [1.0, 1.0, 1.0]
        for name in ("replaced", "reproduction"):
            rates = [shares.rate(name, part, c) for c in (ORIGINAL, EXCHANGED, "made_later")]
            if (name, part) in self.like.statements:
                rates = rates if any(rates) else list(REPLACED_SAID)
                out = [a * b for a, b in zip(out, rates, strict=True)]
            elif (SILENCE, "vehicle") in self.like.statements:
                out = [a * (1 - b) for a, b in zip(out, rates, strict=True)]
        return out[0], out[1], out[2]

    def spoken(self, frame: bool, engine: bool, body: bool) -> float:
        """How likely what owners say of the whole is, by which of frame, engine and body are original."""
        out, said = 1.0, self.like.statements
        for name, holds in (("matching_numbers", frame and engine), ("original", frame and engine and body)):
            rows = [s for s in self.family.shares.statements if s.statement == name]
            if not rows:
                continue
            rate = next(s.rate for s in rows if (s.condition == "otherwise") is not holds)
            if (name, "vehicle") in said:
                out *= rate
            elif (SILENCE, "vehicle") in said and not (name == "matching_numbers" and ("replaced", ENGINE) in said):
                out *= 1 - rate
        return out

    def options(self, from_donor: float) -> tuple[Vector, Vector, Vector]:
        """The weights of the states of frame, plate and engine, in the order of `terms.homes`; what depends on cells is not in them."""
        return self._numbered(self.frame, from_donor), self._numbered(PLATE, from_donor), self._engine(from_donor)

    def _numbered(self, part: str, from_donor: float) -> Vector:
        f = self.family
        if part not in f.parts:
            return np.ones(1)
        prior, said = f.shares.priors[part], self.said[part]
        out = {ORIGINAL: said[0] * prior.original, EXCHANGED: said[1] * prior.exchanged * (1 - from_donor)}
        out[DONOR_STATE] = said[1] * prior.exchanged * from_donor
        for s in f.later[part]:
            shown = said[2] * prior.made_later * s.share * self.like.later[part][s.maker]
            for kind, share in kinds_of(f, part, s.maker, self.couplings.plate_copies).items():
                out[kind] = out.get(kind, 0.0) + shown * share
        return np.array([out[state] for state, _ in homes(f, part, from_donor > 0, self.couplings.plate_copies)])

    def _engine(self, from_donor: float) -> Vector:
        f = self.family
        if ENGINE not in f.parts:
            return np.ones(1)
        prior, said = f.shares.priors[ENGINE], self.said[ENGINE]
        rest = said[1] * prior.exchanged * (1 - from_donor) * self.mean[ENGINE] + said[2] * prior.made_later * sum(self.later[ENGINE].values())
        donor = [said[1] * prior.exchanged * from_donor] if from_donor else []
        return np.array([said[0] * prior.original, *donor, rest])

    @cached_property
    def origin(self) -> Vector:
        """P(maker and month of the vehicle), shape (C,)."""
        out: Vector = sum((w.joint.sum(1) for w in self.ways), np.zeros(self.family.size)) / self.total
        return out

    def state(self, part: str) -> dict[str, float]:
        """State (original, exchanged, or a later source's name) to probability."""
        if part in self.coupled:
            return self._coupled_state(part)
        out = {ORIGINAL: 0.0, EXCHANGED: 0.0, **dict.fromkeys(self.later[part], 0.0)}
        for way in self.ways:
            own, apart, donor = way.pieces[part]
            if part == BODY:
                out[ORIGINAL] += float(way.body_own.sum())
                by_donor = (way.joint - way.body_own).sum(0) / (apart + donor)
            else:
                ratio = way.joint / way.factors[part]
                out[ORIGINAL] += float(ratio.sum(1) @ own)
                by_donor = ratio.sum(0)
            later = self.said[part][2] * self.family.shares.priors[part].made_later
            constant, from_donor = float(by_donor.sum()), float((by_donor * donor).sum())
            for source, shown in self.later[part].items():
                out[source] += constant * later * shown
            out[EXCHANGED] += constant * (apart - later * sum(self.later[part].values())) + from_donor
        return {k: v / self.total for k, v in out.items()}

    def _coupled_state(self, part: str) -> dict[str, float]:
        out = {ORIGINAL: 0.0, EXCHANGED: 0.0, **{s.maker: 0.0 for s in self.family.later[part]}}
        for way in self.ways:
            for name, mask in way.plan.masks[part].items():
                score = float(way.scores[mask].sum())
                for state, share in self.split(part, name, way.from_donor).items():
                    out[state] += share * score
        return {k: v / self.total for k, v in out.items()}

    def split(self, part: str, name: str, from_donor: float) -> dict[str, float]:
        """A term's state as states of a part with their shares: later sources stand together in a term where they bear alike numbers."""
        if name == ORIGINAL:
            return {ORIGINAL: 1.0}
        if name in (EXCHANGED, DONOR_STATE):
            return {EXCHANGED: 1.0}
        f = self.family
        if part == ENGINE:
            prior, said = f.shares.priors[ENGINE], self.said[ENGINE]
            apart = said[1] * prior.exchanged * (1 - from_donor) * self.mean[ENGINE]
            parts = {EXCHANGED: apart} | {s: said[2] * prior.made_later * v for s, v in self.later[ENGINE].items()}
        else:
            copies = self.couplings.plate_copies
            parts = {s.maker: s.share * self.like.later[part][s.maker] * kinds_of(f, part, s.maker, copies).get(name, 0.0) for s in f.later[part]}
        whole = sum(parts.values()) or 1.0
        return {k: v / whole for k, v in parts.items()}
