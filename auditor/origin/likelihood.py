"""Evidence to likelihoods: what each piece weighs for every cell of production and every later source of a part.

Rates are the pack's (`statements`, `features`); the constants here have no source but common practice. Every
observation keeps some mass under every state, so that no part becomes certain from one weak source.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from auditor.origin.copying import meant
from auditor.origin.evidence import CASTING, FEATURE, MAKER, NUMBER, STATEMENT, YEAR, Evidence
from auditor.origin.family import Family, Vector
from claims.standards import edtf

STRAY = 0.004
"""Share of numbers told that belong to nothing on the vehicle: another machine's, a part number, an invention."""
NO_NUMBER_KNOWN = 0.98
"""How surely a part without a number is told to have none."""
SEEN = 0.34
"""Own eyes and photographs err this much as often as a seller."""
HEDGED_SLIPS, HEDGED_MISNAMED = 2, 3
MOST_NUMBERS = 8
"""Who tells more numbers of one part than these tells nothing."""
CASTING_ERRS = 0.02
SAYS_NOTHING = 0.02
"""Share of years that come from nowhere that the pack knows."""
ENGINE, PLATE, BODY = "engine", "plate", "body"
NONE, COPY, ANY, OWN = "number_none", "number_copies_frame", "number_any_of_family", "number_own_scheme"


@dataclass
class Told:
    """What number claims of one part say: a weight for each number of the family's identity forms, and for others."""

    numbers: dict[tuple[str, int], float] = field(default_factory=dict)
    """(maker's form, serial) to the factor by which it beats a stray number."""
    later: dict[tuple[str, int], float] = field(default_factory=dict)
    """(later scheme, serial) to that factor."""
    given: bool = False
    base: float = 1.0
    none: float = 1.0


@dataclass
class Likelihoods:
    """Per part: by cell (C,), by later source; for the parts that share a number the tables of what is told."""

    cell: dict[str, Vector]
    """Features and castings, and the numbers of parts that are numbered for themselves."""
    later: dict[str, dict[str, float]]
    """Features and castings of a later source's part."""
    number_cell: dict[str, Vector]
    """For parts numbered for themselves: their numbers, by cell."""
    number_later: dict[str, dict[str, float]]
    """For them: their numbers, by later scheme's maker (own scheme), and `""` for a part without one."""
    told: dict[str, list[tuple[bool, Told]]]
    """For frame and plate, and the engine where its number equals the frame's: (seen, what is told)."""
    statements: frozenset[tuple[str, str]]
    years: tuple[Vector, ...]
    makers: tuple[Vector, ...]


def number_vector(f: Family, part: str, texts: Sequence[tuple[str, float]], base: float) -> tuple[Vector, dict[str, float]]:
    """(by cell, by later maker) of number claims of a part numbered for itself; several told at once stand for one."""
    by_cell: Vector = np.zeros(f.size)
    by_later: dict[str, float] = {}
    own: dict[str, list[tuple[str, int, float]]] = {}
    for text, slip in texts:
        for number, weight in meant(f.pack, part, text, slip):
            scheme = number.scheme
            if scheme.later:
                by_later[scheme.maker] = by_later.get(scheme.maker, 0.0) + weight * f.later_share(scheme, number.serial)
            else:
                own.setdefault(scheme.scheme, []).append((number.code, number.serial, weight))
    for name, numbers in own.items():
        by_cell = by_cell + f.shown_by(name, [n[:2] for n in numbers], [n[2] for n in numbers])
    n = len(texts)
    return (1 - STRAY) * by_cell / n + base, {m: (1 - STRAY) * w / n for m, w in by_later.items()}


def told_numbers(f: Family, part: str, texts: Sequence[tuple[str, float]], base: float) -> Told:
    """What number claims in the forms of the identity number say; `part` is whose forms are read."""
    told = Told(given=True, base=base, none=base)
    forms = f.pack.identity if part == PLATE else part
    for text, slip in texts:
        for number, weight in meant(f.pack, forms, text, slip):
            place = told.later if number.scheme.later else told.numbers
            form = number.scheme.scheme if number.scheme.later else f"{number.scheme.maker}/{number.contract}"
            key = (form, number.serial)
            place[key] = place.get(key, 0.0) + (1 - STRAY) * weight / len(texts)
    return told


def stray(f: Family) -> float:
    """The probability of one given number as a stray."""
    return STRAY / f.total


def feature_factor(f: Family, one: Evidence) -> tuple[Vector, dict[str, float]]:
    """(by cell, by later source) of a feature as named, seen or denied."""
    name, _, variant = one.value.partition("=")
    variants, shown, later = f.features[name]
    if variant not in variants:
        return np.ones(f.size), dict.fromkeys(later, 1.0)
    wrong = f.pack.features[name].misnamed_share * (HEDGED_MISNAMED if one.unsure else 1) * (SEEN if one.seen else 1)
    at, others = variants.index(variant), max(1, len(variants) - 1)

    def named(p: Vector) -> Vector:
        said: Vector = (1 - wrong) * p + wrong * (1 - p) / others
        return 1 - said if one.denied else said

    return named(shown[at]), {s: float(named(v[at : at + 1])[0]) for s, v in later.items()}


def casting_factor(f: Family, one: Evidence) -> tuple[Vector, dict[str, float]]:
    """(by cell, by later source) of a casting date: built into a machine some months later, by the pack's shares."""
    months = [edtf.decode(m).first for m in one.value.split("|")]
    lags = next((v for (part, maker), v in f.shares.castings.items() if part == one.part and one.maker in ("", maker)), ())
    each = 1 / len(set(f.months))
    out = np.full(f.size, CASTING_ERRS * each)
    for c, (maker, month) in enumerate(zip(f.makers, f.months, strict=True)):
        if one.maker in ("", maker):
            out[c] += (1 - CASTING_ERRS) * sum(lags[month - m - 1] for m in months if 1 <= month - m <= len(lags))
    return out, {s.maker: CASTING_ERRS * each for s in f.later.get(one.part, ())}


def likelihoods(f: Family, evidence: Iterable[Evidence]) -> Likelihoods:
    """The likelihoods of all evidence; an empty list gives ones everywhere."""
    items = list(evidence)
    out = Likelihoods(
        {p: np.ones(f.size) for p in f.parts}, {p: {s.maker: 1.0 for s in f.later[p]} for p in f.parts},
        {p: np.ones(f.size) for p in f.parts}, {p: {} for p in f.parts}, {},
        frozenset((e.value, e.part) for e in items if e.kind == STATEMENT), _years(f, items), _makers(f, items),
    )  # fmt: skip
    for e in items:
        if e.kind in (FEATURE, CASTING) and e.part in out.cell:
            factor, later = feature_factor(f, e) if e.kind == FEATURE else casting_factor(f, e)
            out.cell[e.part] = out.cell[e.part] * factor
            for source, value in later.items():
                out.later[e.part][source] *= value
    for part in f.parts:
        _numbers(f, part, [e for e in items if e.kind == NUMBER and e.part == part], out)
    return out


def _numbers(f: Family, part: str, items: Sequence[Evidence], out: Likelihoods) -> None:
    """Numbers of one part, speaker by speaker; different numbers told by one speaker stand for one."""
    slip, unreadable = f.shares.rate("number", "", "one slip"), f.shares.rate("number", "", "worn")
    shared = part in (f.pack.identity, PLATE, ENGINE)
    for seen in (False, True):
        own = [e for e in items if e.seen == seen]
        if not own:
            continue
        texts = [(e.value, slip * (HEDGED_SLIPS if e.unsure else 1) * (SEEN if seen else 1)) for e in own if e.value]
        if len(texts) > MOST_NUMBERS:
            continue
        if not texts:
            out.number_cell[part] = out.number_cell[part] * unreadable
            out.number_later[part] = {"": NO_NUMBER_KNOWN} | {s.maker: unreadable for s in f.later[part]}
            if part in (f.pack.identity, PLATE):
                out.told.setdefault(part, []).append((True, Told(given=True, base=unreadable, none=NO_NUMBER_KNOWN)))
            continue
        base = stray(f)
        if shared:
            out.told.setdefault(part, []).append((seen, told_numbers(f, part, texts, base)))
        if part not in (f.pack.identity, PLATE):
            vector, later = number_vector(f, part, texts, base)
            out.number_cell[part] = out.number_cell[part] * vector
            known = {s.maker: later.get(s.maker, 0.0) + base for s in f.later[part]} | {"": base}
            old = out.number_later[part]
            out.number_later[part] = {k: v * old.get(k, 1.0) for k, v in known.items()}


def _years(f: Family, items: Sequence[Evidence]) -> tuple[Vector, ...]:
    """(read off a number, by cell; the same by contract year; when completed, by cell; fashion, in a vector of one) of the year
    that is told; several told by one seller stand for one."""
    spans = [tuple(map(int, e.value.split("/"))) for e in items if e.kind == YEAR]
    if not spans or not f.shares.rate("year", "", "fashion"):
        return ()
    years = np.arange(1900, 2000)
    hit = np.mean([((years >= a) & (years <= b)) / (b - a + 1) for a, b in spans], axis=0)

    def of(year: Vector) -> Vector:
        inside = (year >= 1900) & (year < 2000)
        return np.where(inside, hit[np.clip(year - 1900, 0, 99).astype(int)], 0.0)

    rate = {c: f.shares.rate("year", "", c) for c in ("read off", "contract", "year of completion", "fashion")}
    known = _remark(f, "year", "fashion")
    fashion = sum(p * float(of(np.array([int(y)]))[0]) for y, p in known.items())
    stray_year = SAYS_NOTHING / 40
    built = 0.6 * of(f.year_array) + 0.3 * of(f.year_array + 1) + 0.1 * of(f.year_array + 2)
    plain = rate["year of completion"] * built + rate["fashion"] * fashion + stray_year
    read = rate["read off"] * of(f.year_array)
    return read, hit, plain, np.array([(rate["read off"] + rate["contract"]) * fashion, rate["contract"]])


def _makers(f: Family, items: Sequence[Evidence]) -> tuple[Vector, ...]:
    """(by the maker of the plate's number, by cell; where it bears none, in a vector of one) of the maker that is told."""
    names = {e.value for e in items if e.kind == MAKER}
    rate = f.shares.rate("maker", "", "maker")
    if not names or not rate:
        return ()
    known = _remark(f, "maker", "fashion")
    fashion = np.mean([known.get(n, 0.01) for n in names])
    hit = np.array([1 / len(names) if m in names else 0.0 for m in f.makers])
    return rate * hit + (1 - rate) * fashion, np.array([fashion])


def _remark(f: Family, statement: str, condition: str) -> dict[str, float]:
    """`name share | name share` of a statement's remark."""
    row = next((s for s in f.shares.statements if s.statement == statement and s.condition.startswith(condition)), None)
    pairs = (p.strip().rpartition(" ") for p in row.remark.split("|")) if row else ()
    return {name: float(share) for name, _, share in pairs}
