"""Where on the vehicle to read the number first: the part that carries the identity, then the others that are numbered.

All places of a family are listed together and in the order of their letters: which place belongs to which maker or
month is what a photograph has to tell, not what a report gives away.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from auditor.audit import Audit
from auditor.render.plain import source_words
from claims.pack import Pack
from claims.pack_rows import Part

CAST = "cast"
_RANK = {"hard": 0, "moderate": 1, "easy": 2}
"""A part that is hard to exchange is read before one that moves easily."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A part whose number is to be read: where to look, every known place, and raised figures that are no number of it."""

    part: str
    name: str
    carries_identity: bool
    where: str
    places: tuple[str, ...]
    not_the_number: tuple[str, ...]

    @property
    def has_choice(self) -> bool:
        """Whether its number may stand in more than one place."""
        return len(self.places) > 1


@dataclass(frozen=True, slots=True)
class Family:
    """The parts of a family in the order in which to read them; `identity` says by whom the first one carries it."""

    family: str
    identity: str
    readings: tuple[Reading, ...]


def families(audit: Audit) -> tuple[Family, ...]:
    """The families that the listing speaks of, where their packs know a place to look."""
    out = []
    for pack in audit.packs:
        readings = tuple(_readings(pack))
        identity = source_words(pack.source(pack.identity_source)) if pack.identity_source and pack.identity in pack.parts else ""
        if readings:
            out.append(Family(pack.family, identity, readings))
    return tuple(out)


def _readings(pack: Pack) -> Iterator[Reading]:
    for part in sorted(pack.parts.values(), key=lambda p: (p.part != pack.identity, p.numbered != "yes", _RANK.get(p.exchange, 3))):
        own = [p for p in pack.places if p.part == part.part]
        places = {_said(p.place, p.method) for p in own if p.method != CAST}
        if (part.where or places) and _is_numbered(pack, part):
            raised = {p.place for p in own if p.method == CAST}
            yield Reading(part.part, part.name, part.part == pack.identity, part.where, tuple(sorted(places)), tuple(sorted(raised)))


def _is_numbered(pack: Pack, part: Part) -> bool:
    return part.numbered == "yes" or part.part == pack.identity or any(part.part in (s.part, *s.also_parts) for s in pack.schemes.values())


def _said(place: str, method: str) -> str:
    return f"{place} ({method})" if method else place
