"""One number that several parts may bear: the frame's, repeated by the plate, and by the engine in some years.

Every number that the words can mean stands as an entry of its own, all others of a run as one, so that sums over the
vehicle's number are exact and short. The told "frame number" may be the plate's.
"""

from collections.abc import Iterator
from functools import cached_property

import numpy as np

from auditor.origin.family import Family, Vector
from auditor.origin.likelihood import ENGINE, PLATE, Likelihoods, Told

F, P, E, A = "F", "P", "E", "A"
"""Frame's number as seen; plate's; engine's; the frame's number as told."""
Home = tuple[frozenset[str], tuple[str, ...]]
"""The roles that share a number, and the parts that came with the machine that bears it."""


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
        self._here: dict[tuple[frozenset[str], tuple[str, ...], int], Vector] = {}
        self._lone: dict[tuple[str, frozenset[str], bool], tuple[float, float]] = {}

    def _entries(self) -> None:
        """Entries of all runs: the cell, the weight and what each role says of it."""
        runs = self.family.runs
        wanted = [k for role in (F, A, P) for t in self.roles[role] for k in t.numbers]
        engines = [k for t in self.roles[E] for k in t.numbers]
        index = sorted(
            {(n, s) for k, s in wanted for n in self.family.runs_of.get(k, ()) if runs[n].first <= s <= runs[n].last}
            | {(n, s) for k, s in engines for n in self.family.equal_runs.get(k, ()) if runs[n].first <= s <= runs[n].last}
        )
        counts = np.bincount([n for n, _ in index], minlength=len(runs)) if index else np.zeros(len(runs))
        weights, sizes, cells, equals = self.family.run_arrays
        at = np.array([n for n, _ in index], int)
        self.run = np.concatenate([np.arange(len(runs)), at])
        self.cell = cells[self.run]
        self.weight = np.concatenate([weights * (sizes - counts), weights[at]])
        self.factor: dict[str, Vector] = {}
        for role in (F, A, P, E):
            value = np.ones(len(self.run))
            for t in self.roles[role]:
                named = [t.numbers.get((f"{runs[n].scheme_group}/{runs[n].contract if role != E else ''}", s), 0.0) for n, s in index]
                value = value * np.concatenate([np.full(len(runs), t.base), t.base + np.array(named)]) if named else value * t.base
            self.factor[role] = value
        equal = equals[self.run] & self.equal_numbers
        self.factor[E] = np.where(
            equal, self.factor[E] * self._unreadable, self.like.number_cell[ENGINE][self.cell] if ENGINE in self.like.number_cell else 1.0
        )

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

    def products(self, frame: str, plate: str, engine: str, off_plate: float) -> Iterator[tuple[Vector, Vector]]:
        """(by O, by D) whose products add to the likelihood, for where each part's number comes from."""
        ways = [(1 - off_plate, A), (off_plate, P)] if self.roles[A] and plate != "none" and off_plate else [(1.0, A)]
        together = plate == "copy" and frame != "none"
        if (together or (frame == plate and frame in {"O", "D"})) and len(ways) > 1:
            ways = [(1.0, A)]
        for share, reading in ways:
            frame_roles = {F} | ({A} if reading == A else set())
            plate_roles = {P} | ({A} if reading == P else set())
            yield from self._products(frame, "any" if plate == "copy" and not together else plate, engine, frame_roles, plate_roles, together, share)

    def _products(
        self, frame: str, plate: str, engine: str, frame_roles: set[str], plate_roles: set[str], together: bool, share: float
    ) -> Iterator[tuple[Vector, Vector]]:
        like, ident = self.like, self.family.pack.identity
        groups: dict[str, set[str]] = {"O": set(), "D": set()}
        scalar, said = share, (1.0, 0.0)
        where = frame if together else plate
        alone: list[tuple[str, set[str], Vector | None]] = []
        if frame in groups:
            groups[frame] |= frame_roles
        else:
            alone.append((frame, frame_roles | (plate_roles if together else set()), like.cell[ident] if frame == "I" else None))
        if where in groups:
            groups[where] |= plate_roles
        elif not together:
            alone.append((plate, plate_roles, like.cell[PLATE] if plate == "I" else None))
        for home, roles, phi in alone:
            value, read = self._alone(home, frozenset(roles), phi)
            scalar *= value
            if P in roles:
                said = (1.0, read / value) if value else (0.0, 0.0)
        if engine in groups:
            groups[engine].add(E)
        of = {home: tuple(p for p, h in ((ident, frame), (PLATE, plate), (ENGINE, engine)) if h == home) for home in groups}
        yield from self._by_cells(
            (frozenset(groups["O"]), of["O"]), (frozenset(groups["D"]), of["D"]), scalar, said, P in groups["O"], P in groups["D"]
        )

    def _by_cells(
        self, own: Home, donor: Home, scalar: float, said: tuple[float, float], on_own: bool, on_donor: bool
    ) -> Iterator[tuple[Vector, Vector]]:
        plain = self.plain_year
        if plain is None:
            yield scalar * self.here(*own, 0), self.here(*donor, 0)
        elif on_donor:
            u = scalar * self.here(*own, 0)
            yield u * plain, self.here(*donor, 0)
            yield u, self.here(*donor, 1)
        elif on_own:
            yield scalar * (self.here(*own, 0) * plain + self.here(*own, 1)), self.here(*donor, 0)
        else:
            yield scalar * self.here(*own, 0) * (said[0] * plain + said[1]), self.here(*donor, 0)

    def here(self, roles: frozenset[str], parts: tuple[str, ...], read_off: int) -> Vector:
        """By cell: what these parts look like and what is told of the number that these roles share."""
        key = roles, parts, read_off
        if key not in self._here:
            value = self.sums(roles, read_off)
            for part in parts:
                value = value * self.like.cell[part]
            self._here[key] = value
        return self._here[key]

    def _alone(self, home: str, roles: frozenset[str], phi: Vector | None) -> tuple[float, float]:
        """(value, value with the year read off the plate) of a group whose number is neither the vehicle's nor the donor's."""
        key = home, roles, phi is None
        if key not in self._lone:
            self._lone[key] = self._alone_now(home, roles, phi)
        return self._lone[key]

    def _alone_now(self, home: str, roles: frozenset[str], phi: Vector | None) -> tuple[float, float]:
        if home in {"I", "any"}:
            weights = self.family.prior if phi is None else self.family.prior * phi
            return float(weights @ self.sums(roles, 0)), float(weights @ self.sums(roles, 1)) if P in roles else 0.0
        value = self.no_number(roles) if home == "none" else self.own_scheme(home.removeprefix("own:"), roles)
        maker, read = self.without_number() if P in roles else (1.0, 0.0)
        return value * maker, value * read
