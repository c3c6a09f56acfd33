"""The exact posterior over the vehicle's origin (maker × month) and the state of every part, with its five couplings.

`P(O | e) ∝ P(O) Π_p [ o_p L_p(O) + x_p Σ_D P(D) L_p(D) + r_p R_p ]`, and beyond that: a later plate mostly copies the
frame's number; frame and engine shared one number in a period; the stated year and maker are mostly read off the plate;
one donor machine D may have given several parts; a told "frame number" may have been read off the plate. Frame, plate
and engine are summed over together as terms `u_k(O) · v_k(D)`; all other parts are independent given O and D.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from auditor.origin.evidence import SILENCE
from auditor.origin.family import Family, Mask, Vector
from auditor.origin.likelihood import BODY, ENGINE, PLATE, Likelihoods
from auditor.origin.shared_numbers import SharedNumbers

DONOR = 0.2
"""Share of vehicles with one donor machine for most of what was exchanged (common practice, no source)."""
FROM_DONOR = 0.9
"""Share of exchanged parts that come from that donor, where there is one."""
COPIED_OFF_PLATE = 0.06
"""Share of told frame numbers that were read off the plate or the papers (common practice, no source)."""
REPLACED_SAID = (0.01, 0.15, 0.20)
"""Rates of owning up to a replaced part that is original, exchanged, made later, where the pack has none for it."""
ORIGINAL, EXCHANGED = "original", "exchanged"
OWN_NUMBER, ANY_NUMBER, NO_NUMBER, COPY = "own", "any", "none", "copy"


@dataclass(frozen=True)
class Couplings:
    """Which couplings are in the model, and how strong; the defaults are the tool's."""

    donor: float = DONOR
    copied_off_plate: float = COPIED_OFF_PLATE
    plate_copies: bool = True
    equal_numbers: bool = True


@dataclass(frozen=True)
class Option:
    """A state of a coupled part: where its number comes from, its prior times what does not depend on cells."""

    state: str
    home: str
    weight: float


@dataclass
class Terms:
    """Terms u_k(O) v_k(D) of one way of exchange, with the states that each stands for."""

    frames: list[str] = field(default_factory=list)
    plates: list[str] = field(default_factory=list)
    engines: list[str] = field(default_factory=list)
    of_vehicle: list[Vector] = field(default_factory=list)
    of_donor: list[Vector] = field(default_factory=list)


class Way:
    """All sums for one way of exchange: without a common donor (one column), or with one (a column a cell)."""

    def __init__(self, model: "Posterior", share: float, from_donor: float) -> None:
        self.model, self.share, self.from_donor = model, share, from_donor
        f = model.family
        self.has_donor = from_donor > 0
        self.donor_prior = f.prior if self.has_donor else np.ones(1)
        self.terms = Terms()
        for row in model.terms(from_donor):
            frame, plate, engine, u, v = row
            self.terms.frames.append(frame)
            self.terms.plates.append(plate)
            self.terms.engines.append(engine)
            self.terms.of_vehicle.append(u)
            self.terms.of_donor.append(v if self.has_donor else np.ones(1))
        self.u, self.v = np.array(self.terms.of_vehicle), np.array(self.terms.of_donor)
        frames, engines = np.array(self.terms.frames), np.array(self.terms.engines)
        self.classes = [(fo, eo, (frames == ORIGINAL) == fo, (engines == ORIGINAL) == eo) for fo in (True, False) for eo in (True, False)]
        self.others = share * f.prior[:, None] * self.donor_prior[None, :]
        for part in model.free_parts:
            self.others = self.others * self.factor(part)

    def pieces(self, part: str) -> tuple[Vector, float, Vector]:
        """(original, by O; independent of both; from the donor, by D) of a part that is not coupled."""
        m = self.model
        prior, like = m.family.shares.priors[part], m.free[part]
        said = m.said(part)
        apart = said[1] * prior.exchanged * (1 - self.from_donor) * float(m.family.prior @ like) + said[2] * prior.made_later * sum(
            m.later[part].values()
        )
        donor = said[1] * prior.exchanged * self.from_donor * like if self.has_donor else np.zeros(1)
        return said[0] * prior.original * like, apart, donor

    def factor(self, part: str) -> Vector:
        """A part's whole likelihood by O and D."""
        own, apart, donor = self.pieces(part)
        return own[:, None] + apart + donor[None, :]

    @cached_property
    def by_class(self) -> list[tuple[bool, bool, Mask, Vector, Vector]]:
        """(frame original, engine original, terms, weights without the terms, body original part of them) by O and D."""
        out = []
        own, apart, donor = self.pieces(BODY) if BODY in self.model.family.parts else (np.ones(self.model.family.size), 0.0, self.donor_prior * 0)
        for fo, eo, one, other in self.classes:
            first, second = self.model.spoken(fo, eo, True), self.model.spoken(fo, eo, False)
            body_own = self.others * (first * own)[:, None]
            out.append((fo, eo, one & other, body_own + self.others * second * (apart + donor[None, :]), body_own))
        return out

    def summed(self, mask: Mask | None = None, body: bool = False) -> Vector:
        """The unnormalised joint by O and D of all terms, or of those in a mask; of an original body only."""
        total = np.zeros_like(self.others)
        for _, _, own, rest, body_own in self.by_class:
            chosen = own if mask is None else own & mask
            if chosen.any():
                total += (self.u[chosen].T @ self.v[chosen]) * (body_own if body else rest)
        return total

    @cached_property
    def joint(self) -> Vector:
        """The unnormalised joint by O and D."""
        return self.summed()

    @cached_property
    def body_own(self) -> Vector:
        """The part of the joint in which the body is original."""
        return self.summed(body=True)

    @cached_property
    def scores(self) -> Vector:
        """The unnormalised weight of every term."""
        out = np.zeros(len(self.u))
        for _, _, own, rest, _ in self.by_class:
            if own.any():
                out[own] = ((self.u[own] @ rest) * self.v[own]).sum(1)
        return out


class Posterior:
    """Belief after the evidence. Everything is exact sums; `origin` is P(O), shape (C,)."""

    def __init__(self, family: Family, like: Likelihoods, couplings: Couplings | None = None) -> None:
        self.family, self.like = family, like
        self.couplings = couplings or Couplings()
        self.frame = family.pack.identity
        self.coupled = [p for p in (self.frame, PLATE, ENGINE) if p in family.parts]
        self.free_parts = [p for p in family.parts if p not in (*self.coupled, BODY)]
        self.numbers = SharedNumbers(family, like, self.couplings.equal_numbers)
        self.free = {p: like.cell[p] * like.number_cell[p] for p in family.parts if p not in self.coupled}
        self.later = {p: dict(self._later(p)) for p in (*self.free, ENGINE)}
        donor = self.couplings.donor
        ways = [(1 - donor, 0.0), *([(donor, FROM_DONOR)] if donor else [])]
        self.ways = [Way(self, share, back) for share, back in ways]
        self.total = float(sum(w.joint.sum() for w in self.ways))

    def _later(self, part: str) -> Iterator[tuple[str, float]]:
        """(source, its share times what its part would show) of a part that is numbered for itself."""
        f, own = self.family, self.like.number_later[part]
        numbers = self.numbers.engine if part == ENGINE else self.like.number_cell[part]
        anyone = float(f.prior @ numbers)
        for s in f.later[part]:
            shown = s.number_none * own.get("", 1.0) + (s.number_any_of_family + s.number_copies_frame) * anyone
            shown += s.number_own_scheme * own.get(s.maker, 1.0)
            yield s.maker, s.share * self.like.later[part][s.maker] * shown

    def said(self, part: str) -> tuple[float, float, float]:
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

    def options(self, part: str, from_donor: float) -> list[Option]:
        """The states of frame, plate or engine with their weights, later sources by what number they bear."""
        f = self.family
        prior, said = f.shares.priors[part], self.said(part)
        out = [
            Option(ORIGINAL, "O", said[0] * prior.original),
            Option(EXCHANGED, "I", said[1] * prior.exchanged * (1 - from_donor)),
        ]
        if from_donor:
            out.append(Option("donor", "D", said[1] * prior.exchanged * from_donor))
        if part == ENGINE:
            apart = float(f.prior @ (self.like.cell[ENGINE] * self.numbers.engine))
            rest = out[1].weight * apart + said[2] * prior.made_later * sum(self.later[ENGINE].values())
            return [out[0], *out[2:], Option("rest", "", rest)]
        weights: dict[str, float] = {}
        for s in f.later[part]:
            shown = said[2] * prior.made_later * s.share * self.like.later[part][s.maker]
            kinds = self.kinds(s.number_none, s.number_copies_frame, s.number_any_of_family, s.number_own_scheme, s.maker)
            for kind, share in kinds.items():
                weights[kind] = weights.get(kind, 0.0) + shown * share
        return out + [Option(kind, kind, w) for kind, w in weights.items() if w]

    def kinds(self, none: float, copies: float, anyone: float, own: float, maker: str) -> dict[str, float]:
        """What number a later source's part bears, by kind."""
        copied = copies if self.couplings.plate_copies else 0.0
        return {NO_NUMBER: none, COPY: copied, ANY_NUMBER: anyone + copies - copied, f"{OWN_NUMBER}:{maker}": own}

    def terms(self, from_donor: float) -> Iterator[tuple[str, str, str, Vector, Vector]]:
        """(frame's state, plate's, engine's, by O, by D) of every term."""
        f = self.family
        plates = self.options(PLATE, from_donor) if PLATE in f.parts else [Option(ORIGINAL, "none", 1.0)]
        engines = self.options(ENGINE, from_donor) if ENGINE in f.parts else [Option("rest", "", 1.0)]
        for fo in self.options(self.frame, from_donor):
            for po in plates:
                weight = fo.weight * po.weight
                for eo in engines:
                    for u, v in self.numbers.products(fo.home, po.home, eo.home, self.couplings.copied_off_plate):
                        yield fo.state, po.state, eo.state, weight * eo.weight * u, v

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
            own, apart, donor = way.pieces(part)
            if part == BODY:
                first = way.body_own.sum()
                ratio = (way.joint - way.body_own) / (apart + donor[None, :])
            else:
                ratio = way.joint / way.factor(part)
                first = (ratio * own[:, None]).sum()
            out[ORIGINAL] += float(first)
            later = self.said(part)[2] * self.family.shares.priors[part].made_later
            constant, from_donor = float(ratio.sum()), float((ratio * donor[None, :]).sum())
            for source, shown in self.later[part].items():
                out[source] += constant * later * shown
            out[EXCHANGED] += constant * (apart - later * sum(self.later[part].values())) + from_donor
        return {k: v / self.total for k, v in out.items()}

    def _coupled_state(self, part: str) -> dict[str, float]:
        f = self.family
        out = {ORIGINAL: 0.0, EXCHANGED: 0.0, **{s.maker: 0.0 for s in f.later[part]}}
        for way in self.ways:
            names = {self.frame: way.terms.frames, PLATE: way.terms.plates, ENGINE: way.terms.engines}[part]
            by_name: dict[str, float] = {}
            for name, score in zip(names, way.scores, strict=True):
                by_name[name] = by_name.get(name, 0.0) + float(score)
            for name, score in by_name.items():
                for state, share in self.split(part, name, way.from_donor).items():
                    out[state] += share * score
        return {k: v / self.total for k, v in out.items()}

    def split(self, part: str, name: str, from_donor: float) -> dict[str, float]:
        """A term's state as states of a part with their shares: later sources stand together in a term where they bear alike numbers."""
        if name == ORIGINAL:
            return {ORIGINAL: 1.0}
        if name in (EXCHANGED, "donor"):
            return {EXCHANGED: 1.0}
        f = self.family
        if part == ENGINE:
            prior, said = f.shares.priors[ENGINE], self.said(ENGINE)
            apart = said[1] * prior.exchanged * (1 - from_donor) * float(f.prior @ (self.like.cell[ENGINE] * self.numbers.engine))
            parts = {EXCHANGED: apart} | {s: said[2] * prior.made_later * v for s, v in self.later[ENGINE].items()}
        else:
            parts = {
                s.maker: s.share
                * self.like.later[part][s.maker]
                * self.kinds(s.number_none, s.number_copies_frame, s.number_any_of_family, s.number_own_scheme, s.maker).get(name, 0.0)
                for s in f.later[part]
            }
        whole = sum(parts.values()) or 1.0
        return {k: v / whole for k, v in parts.items()}
