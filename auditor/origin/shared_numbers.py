"""One number that several parts may bear: the frame's, repeated by the plate, and by the engine in some years.

Every number that the words can mean stands as an entry of its own, all others of a run as one, so that sums over the
vehicle's number are exact and short. The told "frame number" may be the plate's.
"""

from functools import cached_property

import numpy as np

from auditor.origin.family import Family, Indexes, Vector
from auditor.origin.likelihood import ENGINE, PLATE, Likelihoods, Told
from auditor.origin.terms import ALONE, ANY_NUMBER, BOTH, NO_NUMBER, NOTHING, OWN_NUMBER, PLAIN, READ, A, E, F, Lone, P, Shown


class SharedNumbers:
    """What the claims on frame, plate and engine numbers say of one number, for every cell."""

    def __init__(self, family: Family, like: Likelihoods, equal_numbers: bool) -> None:
        self.family, self.like, self.equal_numbers = family, like, equal_numbers
        told = like.told.get(family.pack.identity, [])
        self.roles: dict[str, list[Told]] = {
            F: [t for seen, t in told if seen],
            A: [t for seen, t in told if not seen],
            P: [t for _, t in like.told.get(PLATE, [])],
            E: [t for _, t in like.told.get(ENGINE, [])],
        }
        self._entries()
        self._sums: dict[tuple[frozenset[str], int], Vector] = {}
        self._here: dict[Shown, Vector] = {}
        self._lone: dict[Lone, float] = {}

    def _entries(self) -> None:
        """Entries of all runs: the cell, the weight and what each role says of it."""
        weights, sizes, cells, equals = self.family.run_arrays
        count = len(cells)
        run, serial = self._told_places()
        named = np.bincount(run, minlength=count)
        self.run = np.concatenate([np.arange(count), run])
        self.cell = cells[self.run]
        self.weight = np.concatenate([weights * (sizes - named), weights[run]])
        self.factor: dict[str, Vector] = {}
        for role in (F, A, P, E):
            value = np.ones(len(self.run))
            for t in self.roles[role]:
                value = value * np.concatenate([np.full(count, t.base), t.base + self._named(t, role == E, run, serial)])
            self.factor[role] = value
        equal = equals[self.run] & self.equal_numbers
        self.factor[E] = np.where(
            equal, self.factor[E] * self._unreadable, self.like.number_cell[ENGINE][self.cell] if ENGINE in self.like.number_cell else 1.0
        )

    def _told_places(self) -> tuple[Indexes, Indexes]:
        """(run, serial) of every number that is told and can stand in a run, each once."""
        found: set[tuple[int, int]] = set()
        for role in (F, A, P, E):
            by_form: dict[str, list[int]] = {}
            for form, n in (key for t in self.roles[role] for key in t.numbers):
                by_form.setdefault(form, []).append(n)
            for form, serials in by_form.items():
                runs, first, last = self.family.spans_of(form, role == E)
                known = np.array(serials)
                at, which = np.nonzero((known[:, None] >= first) & (known[:, None] <= last))
                found |= set(zip(runs[which].tolist(), known[at].tolist(), strict=True))
        run, serial = zip(*sorted(found), strict=True) if found else ((), ())
        return np.array(run, np.intp), np.array(serial, np.intp)

    def _named(self, told: Told, is_engine: bool, run: Indexes, serial: Indexes) -> Vector:
        """By entry of a told number: the factor by which what is told of it beats a stray number."""
        forms = self.family.engine_forms if is_engine else self.family.forms
        return np.array([told.numbers.get((forms[r], s), 0.0) for r, s in zip(run.tolist(), serial.tolist(), strict=True)])

    @property
    def _unreadable(self) -> Vector:
        """Where an engine is told to bear no number, the factor stands in its own vector only."""
        return self.like.number_cell[ENGINE][self.cell] if ENGINE in self.like.number_cell and not self.roles[E] else np.ones(len(self.run))

    @cached_property
    def engine(self) -> Vector:
        """What is told of the engine's number, for an engine of each cell."""
        return self.sums(frozenset(E), 0)

    @cached_property
    def _said(self) -> tuple[Vector, Vector]:
        """What year and maker are told, by the number that the plate bears: (factor, factor read off it) by entry."""
        like, n = self.like, len(self.run)
        maker = like.makers[0][self.cell] if like.makers else np.ones(n)
        if not like.years:
            return maker, np.zeros(n)
        read, hit, _, rates = like.years
        contracts = self.family.contracts[self.run]
        contract = np.where(contracts >= 0, rates[1] * hit[np.clip(contracts, 0, 99)], 0.0)
        return maker, maker * (read[self.cell] + contract)

    @cached_property
    def plain_year(self) -> Vector | None:
        """How likely the told year is if it was not read off a number, by the vehicle's cell; None where none is told."""
        return self.like.years[2] if self.like.years else None

    def without_number(self) -> tuple[float, float]:
        """The same where the plate bears no number of the family."""
        maker = float(self.like.makers[1][0]) if self.like.makers else 1.0
        return maker, maker * float(self.like.years[3][0]) if self.like.years else 0.0

    def sums(self, roles: frozenset[str], read_off: int) -> Vector:
        """By cell: the mean over its numbers of what these roles say if all bear the same one."""
        key = roles, read_off
        if key not in self._sums:
            value = self.weight
            for role in roles:
                value = value * self.factor[role]
            if P in roles:
                value = value * self._said[read_off]
            self._sums[key] = np.bincount(self.cell, value, minlength=self.family.size).astype(float)
        return self._sums[key]

    def own_scheme(self, source: str, roles: frozenset[str]) -> float:
        """The same for a number of a later source's own scheme."""
        schemes = [s for s in self.family.pack.schemes.values() if s.later and s.maker == source and s.part == self.family.pack.identity]
        told = [t for role in roles if role != E for t in self.roles[role]]
        base = float(np.prod([t.base for t in told])) if told else 1.0
        if not schemes:
            return base
        points = {k for t in told for k in t.later if k[0] == schemes[0].scheme}
        shares = {k: self.family.later_share(schemes[0], k[1]) for k in points}
        return base + sum(shares[k] * (float(np.prod([t.base + t.later.get(k, 0.0) for t in told])) - base) for k in points)

    def no_number(self, roles: frozenset[str]) -> float:
        """The same for parts that bear no number."""
        return float(np.prod([t.none for role in roles if role != E for t in self.roles[role]] or [1.0]))

    def here(self, one: Shown) -> Vector:
        """By cell: what these parts look like and what is told of the number that these roles share."""
        if one not in self._here:
            value = self.sums(one.roles, int(one.year == READ))
            if one.year in (PLAIN, BOTH) and self.plain_year is not None:
                value = value * self.plain_year
            if one.year == BOTH:
                value = value + self.sums(one.roles, 1)
            for part in one.parts:
                value = value * self.like.cell[part]
            self._here[one] = value
        return self._here[one]

    def alone(self, one: Lone) -> float:
        """The same for a group whose number is neither the vehicle's nor the donor's, summed over all that it can be."""
        if one not in self._lone:
            self._lone[one] = self._alone_now(one)
        return self._lone[one]

    def _alone_now(self, one: Lone) -> float:
        read = one.year == READ
        if one == NOTHING:
            return 1.0
        if one.home in {ALONE, ANY_NUMBER}:
            weights = self.family.prior * self.like.cell[one.looks] if one.looks else self.family.prior
            return float(weights @ self.sums(one.roles, int(read)))
        value = self.no_number(one.roles) if one.home == NO_NUMBER else self.own_scheme(one.home.removeprefix(f"{OWN_NUMBER}:"), one.roles)
        return value * self.without_number()[read] if P in one.roles else value
