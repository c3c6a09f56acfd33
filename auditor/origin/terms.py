"""Frame, plate and engine together: every way in which their numbers can be one, written down once for a family.

A term is one choice of states; it weighs `w · u(O) · v(D)`. Which terms there are depends on the family and on what is
told at all, not on what exactly: so the list is made once, few of its vectors differ, and a sum over all states of the
three parts is a sum over those few.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from auditor.origin.family import Family, Indexes, Mask, Vector
from auditor.origin.likelihood import ENGINE, PLATE

F, P, E, A = "F", "P", "E", "A"
"""Frame's number as seen; plate's; engine's; the frame's number as told."""
ORIGINAL, EXCHANGED, DONOR_STATE, REST = "original", "exchanged", "donor", "rest"
NO_NUMBER, COPY, ANY_NUMBER, OWN_NUMBER = "none", "copy", "any", "own"
O_, D_, ALONE = "O", "D", "I"
"""Whose number a part bears: the vehicle's, the donor's, that of a machine of its own; a later part's kind else."""
PLAIN, READ, BOTH = "plain", "read", "both"
Roles = frozenset[str]
T = TypeVar("T")


@dataclass(frozen=True)
class Shown:
    """What parts with one machine's number show, by its cell: the roles that tell of the number, the parts that came with
    it, and how the told year joins in: "" not at all, `PLAIN` not read off a number, `READ` off it, `BOTH` either."""

    roles: Roles
    parts: tuple[str, ...]
    year: str = ""


@dataclass(frozen=True)
class Lone:
    """A group whose number is neither the vehicle's nor the donor's; `looks` is the part whose looks are summed over."""

    home: str
    roles: Roles
    looks: str = ""
    year: str = ""


NOTHING = Lone("", frozenset())


@dataclass(frozen=True)
class Term:
    """One choice of states (by their places in the options), its constant, and the names of its factors."""

    places: tuple[int, int, int]
    share: float
    lone: tuple[Lone, ...]
    own: Shown
    donor: Shown


Homes = tuple[tuple[str, str], ...]


def homes(f: Family, part: str, has_donor: bool, plate_copies: bool) -> Homes:
    """(state, whose number it bears) of every state of frame, plate or engine."""
    if part not in f.parts:
        return ((ORIGINAL, NO_NUMBER),) if part == PLATE else ((REST, ""),)
    donor = ((DONOR_STATE, D_),) if has_donor else ()
    if part == ENGINE:
        return (ORIGINAL, O_), *donor, (REST, "")
    kinds = (k for s in f.later[part] for k, share in kinds_of(f, part, s.maker, plate_copies).items() if share)
    return (ORIGINAL, O_), (EXCHANGED, ALONE), *donor, *((k, k) for k in dict.fromkeys(kinds))


def kinds_of(f: Family, part: str, maker: str, plate_copies: bool) -> dict[str, float]:
    """What number a later source's part bears, by kind."""
    s = next(x for x in f.later[part] if x.maker == maker)
    copied = s.number_copies_frame if plate_copies else 0.0
    return {
        NO_NUMBER: s.number_none,
        COPY: copied,
        ANY_NUMBER: s.number_any_of_family + s.number_copies_frame - copied,
        f"{OWN_NUMBER}:{maker}": s.number_own_scheme,
    }


class Plan:
    """The terms as arrays: for each the places of its states, its constant, and those of its few distinct factors."""

    def __init__(self, f: Family, options: tuple[Homes, Homes, Homes], terms: list[Term]) -> None:
        self.options = options
        self.parts = (f.pack.identity, PLATE, ENGINE)
        self.places: Indexes = np.array([t.places for t in terms], np.intp)
        self.share: Vector = np.array([t.share for t in terms])
        self.lones, lone = _numbered([x for t in terms for x in (*t.lone, NOTHING, NOTHING)[:2]])
        self.lone: Indexes = lone.reshape(-1, 2)
        """Two of `lones` for each term; `NOTHING` where there are fewer."""
        self.owns, self.own = _numbered([t.own for t in terms])
        self.donors, self.donor = _numbered([t.donor for t in terms])
        frames, engines = self.names(0) == ORIGINAL, self.names(2) == ORIGINAL
        self.kind: Indexes = np.where(frames, 2, 0) + np.where(engines, 1, 0)

    def names(self, part: int) -> NDArray[np.str_]:
        """The state of frame, plate or engine in every term."""
        out: NDArray[np.str_] = np.array([state for state, _ in self.options[part]])[self.places[:, part]]
        return out

    @cached_property
    def masks(self) -> dict[str, dict[str, Mask]]:
        """By part and state: the terms in which the part is in that state."""
        return {p: {state: self.names(i) == state for state, _ in self.options[i]} for i, p in enumerate(self.parts)}

    def added(self, weights: Vector, mask: Mask | None = None) -> Vector:
        """(distinct own factors, distinct donor factors): the weights of terms with the same two, added."""
        width = len(self.donors)
        chosen = weights if mask is None else weights * mask
        out: Vector = np.bincount(self.own * width + self.donor, chosen, minlength=len(self.owns) * width).astype(float).reshape(-1, width)
        return out


def _numbered(values: list[T]) -> tuple[tuple[T, ...], Indexes]:
    known = {v: i for i, v in enumerate(dict.fromkeys(values))}
    return tuple(known), np.array([known[v] for v in values], np.intp)


@lru_cache(maxsize=64)
def plan(f: Family, has_donor: bool, plate_copies: bool, off_plate: float, year_told: bool) -> Plan:
    """The terms of a family; `off_plate` is the share of told frame numbers read off the plate, 0 where none is told."""
    options = tuple(homes(f, p, has_donor, plate_copies) for p in (f.pack.identity, PLATE, ENGINE))
    terms = [
        term
        for i, (_, frame) in enumerate(options[0])
        for j, (_, plate) in enumerate(options[1])
        for k, (_, engine) in enumerate(options[2])
        for term in _terms(f, (i, j, k), frame, plate, engine, off_plate, year_told)
    ]
    return Plan(f, (options[0], options[1], options[2]), terms)


def _terms(f: Family, places: tuple[int, int, int], frame: str, plate: str, engine: str, off_plate: float, year_told: bool) -> Iterator[Term]:
    """The terms of one choice of states: with the frame's number read off the frame, and with it read off the plate."""
    together = plate == COPY and frame != NO_NUMBER
    same = together or (frame == plate and frame in (O_, D_))
    ways = [(1 - off_plate, A), (off_plate, P)] if off_plate and plate != NO_NUMBER and not same else [(1.0, A)]
    for share, reading in ways:
        frame_roles = frozenset({F, A} if reading == A else {F})
        plate_roles = frozenset({P, A} if reading == P else {P})
        here: dict[str, Roles] = {O_: frozenset(), D_: frozenset()}
        lone: list[Lone] = []
        for home, roles, looks in _groups(f, frame, ANY_NUMBER if plate == COPY and not together else plate, frame_roles, plate_roles, together):
            if home in here:
                here[home] |= roles
            else:
                lone.append(Lone(home, roles, looks))
        if engine in here:
            here[engine] |= {E}
        of = {h: tuple(p for p, x in ((f.pack.identity, frame), (PLATE, plate), (ENGINE, engine)) if x == h) for h in here}
        own, donor = Shown(here[O_], of[O_]), Shown(here[D_], of[D_])
        yield from _with_year(places, share, tuple(lone), own, donor) if year_told else [Term(places, share, tuple(lone), own, donor)]


def _groups(f: Family, frame: str, plate: str, frame_roles: Roles, plate_roles: Roles, together: bool) -> Iterator[tuple[str, Roles, str]]:
    """(whose number, the roles that tell of it, the part whose looks go with it if it is alone)."""
    yield frame, frame_roles | (plate_roles if together else frozenset()), f.pack.identity if frame == ALONE else ""
    if not together:
        yield plate, plate_roles, PLATE if plate == ALONE else ""


def _with_year(places: tuple[int, int, int], share: float, lone: tuple[Lone, ...], own: Shown, donor: Shown) -> Iterator[Term]:
    """The told year was read off the number on the plate, or not."""

    def year(one: Shown, how: str) -> Shown:
        return Shown(one.roles, one.parts, how)

    if P in own.roles:
        yield Term(places, share, lone, year(own, BOTH), donor)
        return
    yield Term(places, share, lone, year(own, PLAIN), donor)
    if P in donor.roles:
        yield Term(places, share, lone, own, year(donor, READ))
    else:
        yield Term(places, share, tuple(Lone(x.home, x.roles, x.looks, READ) if P in x.roles else x for x in lone), own, donor)
