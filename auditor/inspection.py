"""The inspection sheet: places to look on a vehicle in walking order, what each variant means, room for what is found.

Everything comes from the packs that the listing speaks of: places of numbers, features with their variants, maker's
marks, traps. Rows marked private are shown only where `private` is asked for: on the owner's own sheet.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from auditor.audit import Audit
from auditor.render.dates_in_words import date_words
from auditor.sheet import NAMES, packs_of
from claims.claim import OTHER_ITEM
from claims.pack import Pack
from claims.pack_rows import Feature, Mark, Place
from claims.reader import general_cautions

NUMBER, FEATURE, MARK = "number", "feature", "mark"
CAST = "cast"
_INSIDE = re.compile(r"\b(?:inside|lid|seat|saddle bag|dash|dashboard|cab|boot|trunk|cockpit|interior|glove|door|under the bonnet|under the hood)\b")
_SIDES = (
    ("front", re.compile(r"\b(?:front|headstock|steering|fork|forks|radiator|grille|scuttle|bulkhead|firewall|nose|bow|stem)\b")),
    ("left", re.compile(r"\b(?:left|near ?side|port|magneto side)\b")),
    ("rear", re.compile(r"\b(?:rear|back|tail|transom|stern|behind)\b")),
    ("right", re.compile(r"\b(?:right|off ?side|starboard|drive side)\b")),
    ("below", re.compile(r"\b(?:under|underside|below|beneath|sump|belly)\b")),
)
STATIONS = {
    "front": "In front", "left": "On the left", "rear": "Behind", "right": "On the right", "inside": "From above and inside",
    "any": "On the part itself, wherever it can be seen", "below": "From below, last, with lamp and mirror",
}  # fmt: skip
"""The walk: round the vehicle with the sun, then inside, then beneath."""
ALWAYS = ("untested", "fuel", "brake_linings", "dial", "jack")
"""Hazards of any old vehicle, said on every sheet."""
LOOK_ONLY = "Look and read; do not start, ride or drive it. Nobody goes beneath a vehicle that stands on a jack alone."
PHOTOGRAPH = (
    "The whole vehicle from its four corners and from both sides.",
    "Each number square on, filling the picture, with a dated note beside it; then again with the light raking from one side.",
    "The surface around each number, so that its pad and finish can be seen.",
    "The data plate with all its rivets or screws, and what lies behind its edges.",
    "Each place below that can be reached, whether or not a number is there: a bare pad is a finding too.",
    "The papers page by page, for your own record.",
)
AS_IT_STANDS = (
    "Take light and mirror to it, nothing else: no cleaning, no wire brush, no grinding, no chalk, no acid. Ask the owner before you touch."
)


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that may be found, and what it means by the tables."""

    words: str
    meaning: str


@dataclass(frozen=True, slots=True)
class Look:
    """One thing to look at: its part, what it is, where, how it should be marked, what may be found, what has been said of it."""

    kind: str
    part: str
    what: str
    where: str
    how: str
    choices: tuple[Choice, ...]
    said: tuple[str, ...]
    remark: str


@dataclass(frozen=True, slots=True)
class Station:
    """A stop of the walk with what to look at from there."""

    name: str
    looks: tuple[Look, ...]


@dataclass(frozen=True, slots=True)
class Inspection:
    """The sheet of one machine: stations in walking order, what misleads, what to photograph, what to beware of."""

    item: int
    families: tuple[str, ...]
    stations: tuple[Station, ...]
    traps: tuple[str, ...]
    cautions: tuple[str, ...]


def inspections(audit: Audit, private: bool = False) -> list[Inspection]:
    """A sheet for each machine that the advert offers; `private` adds the rows that packs keep for their owner."""
    items = sorted({c.item for c in audit.claims if c.stance != OTHER_ITEM and c.item}) or [1]
    return [_inspection(audit, item, private) for item in items]


def _inspection(audit: Audit, item: int, private: bool) -> Inspection:
    packs = packs_of(audit, item)
    looks = [look for pack in packs for look in _looks(_Said(audit, item), pack, private)] or list(_plain_looks(_Said(audit, item)))
    stations: dict[str, list[Look]] = {name: [] for name in STATIONS}
    for look in looks:
        stations[station_of(look.where)].append(look)
    walked = tuple(Station(STATIONS[name], tuple(found)) for name, found in stations.items() if found)
    traps = tuple(f"{t.what_is_seen}: {t.what_it_is}. {t.what_to_do}." for p in packs for t in p.traps)
    return Inspection(item, tuple(p.family for p in packs), walked, traps, tuple(dict.fromkeys((LOOK_ONLY, *audit.cautions, *_hazards(packs)))))


def station_of(where: str) -> str:
    """The stop of the walk from which a place is seen, by the words for it; `any` where they do not tell.

    >>> station_of("headstock, left side"), station_of("underside of the lid"), station_of("magneto side of the crankcase"), station_of("rim")
    ('front', 'inside', 'left', 'any')
    """
    words = where.lower()
    if _INSIDE.search(words):
        return "inside"
    found = [(m.start(), name) for name, pattern in _SIDES if (m := pattern.search(words))]
    return min(found)[1] if found else "any"


class _Said:
    """What has been said of one machine, for the margin of a look."""

    def __init__(self, audit: Audit, item: int) -> None:
        self.claims = [c for c in audit.claims if c.item == item and not c.is_decoded and c.stance != OTHER_ITEM]

    def number(self, part: str) -> tuple[str, ...]:
        return tuple(dict.fromkeys(c.quote.text for c in self.claims if c.kind == "number" and c.part == part and c.value))

    def feature(self, name: str) -> tuple[str, ...]:
        return tuple(dict.fromkeys(c.quote.text for c in self.claims if c.kind == "feature" and (c.value or "").partition("=")[0] == name))


def _looks(said: _Said, pack: Pack, private: bool) -> Iterator[Look]:
    places: dict[tuple[str, str], list[Place]] = {}
    for place in pack.places:
        if private or not place.private:
            places.setdefault((place.part, place.place), []).append(place)
    for (part, where), rows in places.items():
        yield _number(said, pack, part, where, rows)
    placed = {part for part, _ in places}
    for row in pack.parts.values():
        if (
            row.part not in placed
            and row.where
            and (row.numbered == "yes" or row.part == pack.identity or any(s.part == row.part for s in pack.schemes.values()))
        ):
            yield _number(said, pack, row.part, row.where, ())
    for feature in pack.features.values():
        if private or not feature.private:
            yield _feature(said, pack, feature, private)
    for mark in pack.marks:
        if private or not mark.private:
            yield _mark(pack, mark)


def _number(said: _Said, pack: Pack, part: str, where: str, rows: Sequence[Place]) -> Look:
    raised = bool(rows) and all(r.method == CAST for r in rows)
    schemes = {name for r in rows for name in r.scheme.split()} or {s.scheme for s in pack.schemes.values() if s.part == part and not s.earliest}
    written = list(dict.fromkeys(s.written_like for s in pack.schemes.values() if s.scheme in schemes and s.written_like and not raised))
    methods = ", ".join(dict.fromkeys(r.method for r in rows if r.method)) or ", ".join(
        dict.fromkeys(s.method for s in pack.schemes.values() if s.scheme in schemes and s.method)
    )
    how = "; ".join(filter(None, (methods, f"written like {' or '.join(written[:3])}" if written else "")))
    meanings = tuple(Choice("a number here", meaning) for meaning in _spans((r.maker, r.from_, r.to) for r in rows))
    name = f"{_part(pack, part)}: raised figures, not its number" if raised else f"{_part(pack, part)} number"
    remarks = "; ".join(dict.fromkeys(r.remark for r in rows if r.remark and not r.remark.startswith("feature ")))
    return Look(MARK if raised else NUMBER, part, name, where, how, meanings, () if raised else said.number(part), remarks)


def _feature(said: _Said, pack: Pack, feature: Feature, private: bool) -> Look:
    choices = []
    for variant in pack.variants:
        if variant.feature != feature.feature:
            continue
        spans = [
            (s.maker, s.from_, s.to)
            for s in pack.spans
            if (s.feature, s.variant) == (variant.feature, variant.variant) and s.axis == "date" and (private or not s.private)
        ]
        words = variant.words[0] if variant.words else variant.variant.replace("_", " ")
        choices.append(Choice(words, "; ".join(_spans(spans)) or "nothing known of it"))
    tool = "" if feature.effort <= 1 else "needs a mirror, a lamp or a tool"
    return Look(
        FEATURE,
        feature.part,
        f"{_part(pack, feature.part)}: {feature.name}",
        feature.where,
        "",
        tuple(choices),
        said.feature(feature.feature),
        tool or feature.remark,
    )


def _mark(pack: Pack, mark: Mark) -> Look:
    parts = mark.parts.split()
    name = f"mark on {', '.join(_part(pack, p) for p in parts)}" if parts else "mark"
    (meaning,) = _spans([(mark.maker, mark.from_, mark.to)]) or ("",)
    return Look(MARK, parts[0] if parts else "vehicle", name, "", mark.method, (Choice(mark.looks_like, meaning),), (), mark.remark)


def _plain_looks(said: _Said) -> Iterator[Look]:
    """What is looked at where no table knows the make (common practice, no source)."""
    for part, where in (
        ("frame", "frame or chassis"),
        ("plate", "data plate"),
        ("engine", "engine block or crankcase"),
        ("gearbox", "gearbox case"),
        ("body", "body"),
        ("registration", "number plates and tax papers"),
    ):
        yield Look(NUMBER, part, f"{NAMES.get(part, part)}{'' if part in NAMES else ' number'}", where, "", (), said.number(part), "")


def _spans(rows: Iterable[tuple[str, str, str]]) -> list[str]:
    """Maker and period of each row in words, each once."""
    return list(dict.fromkeys(", ".join(filter(None, (maker, _period(first[:7], last[:7])))) for maker, first, last in rows))


def _period(first: str, last: str) -> str:
    if first and last:
        return f"{date_words(first)} to {date_words(last)}"
    return f"from {date_words(first)}" if first else f"to {date_words(last)}" if last else ""


def _part(pack: Pack, part: str) -> str:
    return pack.parts[part].name if part in pack.parts else NAMES.get(part, part)


def _hazards(packs: Sequence[Pack]) -> Iterator[str]:
    """The warnings of any old vehicle: a named pack's own words, else the general ones."""
    own, general = {c.caution: c.text for p in packs for c in p.cautions}, general_cautions(packs)
    yield from (text for name in ALWAYS if (text := own.get(name) or general.get(name)))
