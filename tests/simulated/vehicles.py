"""Simulated vehicles: drawn from the world's own tables, part by part, with their whole truth.

Reads the pack's CSV tables by itself and shares no code with `auditor/origin`. Modes: *plain* (every exchanged part
from a machine of its own), *whole donors* (all exchanged parts of a vehicle from one machine), *plates copied by
sellers* (half of the sellers read the "frame number" off the plate).
"""

import csv
import datetime
import random
from collections import defaultdict
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import claims.packs

TABLES = Path(next(iter(claims.packs.__path__))) / "northmark_pattern5"
PLAIN, WHOLE_DONORS, COPIED_PLATES = "plain", "whole donors", "plates copied by sellers"
MODES = (PLAIN, WHOLE_DONORS, COPIED_PLATES)
QF, OP = "Quillfeather Motor Works", "Ostrander & Pike"
TRADER, SHOPS, REPRODUCTION = "Quillfeather Trader", "Northmark Postal Workshops", "reproduction"
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXY"
TRADER_PREFIX = {"frame": ("QT", 9400), "engine": ("QTE", 10100), "gearbox": ("TG", 9800), "body": ("TB", 7600)}


@cache
def rows(name: str) -> list[dict[str, str]]:
    with (TABLES / f"{name}.csv").open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


@dataclass(frozen=True)
class Origin:
    """A machine as it left the works; `serial` is its frame's, `prefix` its contract."""

    maker: str
    month: str
    scheme: str
    contract: str
    serial: int

    @property
    def frame_number(self) -> str:
        if self.scheme == "op_frame":
            return f"OP{self.contract}-{self.serial:05d}"
        figures = f"{self.contract}{self.serial:05d}"
        if self.scheme == "qf_frame_plain":
            return f"{self.contract}Q {self.serial:05d}"
        total = sum(int(c) * w for c, w in zip(figures, (3, 9, 5, 11, 7, 2, 8), strict=True))
        return f"{self.contract}Q {self.serial:05d} {LETTERS[total % 23]}"


@dataclass
class Part:
    """A part as it is now: its state, the machine it came with (None for a later part), its later source, its number."""

    state: str
    origin: Origin | None
    source: str = ""
    number: str = ""
    features: dict[str, str] = field(default_factory=dict)
    casting: str = ""


@dataclass
class Vehicle:
    """A vehicle with its truth."""

    origin: Origin
    parts: dict[str, Part]


def add_months(month: str, count: int) -> str:
    n = int(month[:4]) * 12 + int(month[5:]) - 1 + count
    return f"{n // 12:04d}-{n % 12 + 1:02d}"


@cache
def _machines() -> tuple[list[dict[str, str]], list[int]]:
    found = rows("dating_frame")
    return found, [int(r["last"]) - int(r["first"]) + 1 for r in found]


def machine(rng: random.Random) -> Origin:
    found, weights = _machines()
    row = rng.choices(found, weights)[0]
    return Origin(row["maker"], row["period"], row["scheme"], row["contract"], rng.randint(int(row["first"]), int(row["last"])))


def vehicle(rng: random.Random, mode: str) -> Vehicle:
    """One vehicle."""
    own, donor = machine(rng), machine(rng)
    parts: dict[str, Part] = {}
    for prior in rows("part_priors"):
        part = prior["part"]
        state = rng.choices(("original", "exchanged", "made_later"), [float(prior[k]) for k in ("original", "exchanged", "made_later")])[0]
        if state == "made_later":
            sources = [s for s in rows("later_sources") if s["part"] == part]
            source = rng.choices(sources, [float(s["share"]) for s in sources])[0]
            parts[part] = Part(state, None, source["maker"], _later_number(rng, part, source, parts))
        else:
            origin = own if state == "original" else donor if mode == WHOLE_DONORS else machine(rng)
            parts[part] = Part(state, origin, "", _number(rng, part, origin), casting=_casting(rng, part, origin))
        _fit_features(rng, part, parts[part])
    return Vehicle(own, parts)


def _number(rng: random.Random, part: str, o: Origin) -> str:
    """The number that a part of this machine bore when new."""
    if part in ("frame", "plate"):
        return o.frame_number
    if part == "engine":
        if o.maker == QF and o.month <= "1928-02":
            return f"QE {o.serial:05d}"
        row = _row(rng, "dating_engine", o)
        return f"QE {_within(rng, row):05d}" if o.maker == QF else f"P {_within(rng, row):04d}"
    if part == "gearbox":
        lag = _lag(rng, "gearbox_before_build")
        made = add_months(o.month, -lag)
        letter = {r["year"]: r["letter"] for r in rows("year_letters")}[made[:4]]
        return f"{'QG' if o.maker == QF else 'PG'}{letter}{made[5:]}-{rng.randint(1, 400):03d}"
    if part == "body":
        row = _row(rng, "dating_body", o)
        form = {"qf_body": "QB {:05d}", "op_body": "OPB {:04d}", "hd_body": "HD {:05d}"}[row["scheme"]]
        return form.format(_within(rng, row))
    if part == "registration":
        month = add_months(o.month, _lag(rng, "fleet_after_build"))
        found = [r for r in rows("dating_fleet") if r["period"] == month] or [rows("dating_fleet")[-1]]
        return f"NP-{rng.choice(rows('districts'))['letter']} {_within(rng, found[0]):05d}"
    return ""


def _row(rng: random.Random, table: str, o: Origin) -> dict[str, str]:
    found = [r for r in rows(table) if r["period"] == o.month and r["maker"] in ("", o.maker)]
    return rng.choices(found, [int(r["last"]) - int(r["first"]) + 1 for r in found])[0]


def _within(rng: random.Random, row: dict[str, str]) -> int:
    return rng.randint(int(row["first"]), int(row["last"]))


def _lag(rng: random.Random, name: str) -> int:
    found = [r for r in rows("lags") if r["lag"] == name]
    return int(rng.choices(found, [float(r["share"]) for r in found])[0]["months"])


def _later_number(rng: random.Random, part: str, source: dict[str, str], parts: dict[str, Part]) -> str:
    kinds = ("none", "copies_frame", "any_of_family", "own_scheme")
    kind = rng.choices(kinds, [float(source[f"number_{k}"]) for k in kinds])[0]
    if kind == "own_scheme":
        prefix, last = TRADER_PREFIX[part]
        return f"{prefix} {rng.randint(1, last):05d}"
    if kind == "copies_frame" and parts["frame"].number:
        return parts["frame"].number
    return "" if kind == "none" else _number(rng, part, machine(rng))


def _casting(rng: random.Random, part: str, o: Origin) -> str:
    found = [r for r in rows("casting_dates") if r["part"] == part and r["maker"] in (o.maker, "Thornquay Foundry")]
    if not found or (o.maker == QF and o.month < "1928-09"):
        return ""
    lag = rng.choices(range(1, 6), [float(found[0][f"lag_{n}"]) for n in range(1, 6)])[0]
    cast = add_months(o.month, -lag)
    if part == "axle":
        return f"{int(cast[5:])}.{cast[2:4]}"
    if o.maker == OP:
        return f"{'ABCDEFGHJKLM'[int(cast[5:]) - 1]}{cast[3]}"
    weeks = [w for w in range(1, 54) if _thursday(int(cast[:4]), w) == cast]
    return f"{rng.choice(weeks):02d}/{cast[2:4]}"


def _thursday(year: int, week: int) -> str:
    try:
        return datetime.date.fromisocalendar(year, week, 4).isoformat()[:7]
    except ValueError:
        return ""


@cache
def _spans() -> dict[tuple[str, str], list[dict[str, str]]]:
    out: dict[tuple[str, str], list[dict[str, str]]] = defaultdict(list)
    for row in rows("feature_span"):
        out[row["feature"], row["maker"]].append(row)
    return out


def _fit_features(rng: random.Random, part: str, own: Part) -> None:
    for feature in rows("feature"):
        if feature["part"] != part:
            continue
        fitted = _as_built(rng, feature["feature"], own.origin, own.source)
        if rng.random() < float(feature["changed_share"]):
            fitted = _as_built(rng, feature["feature"], machine(rng), "")
        own.features[feature["feature"]] = fitted


def _as_built(rng: random.Random, feature: str, origin: Origin | None, source: str) -> str:
    if origin is None:
        found = _spans()[feature, source]
        if not found:
            return str(rng.choice([v["variant"] for v in rows("variant") if v["feature"] == feature]))
        return rng.choices(found, [float(r["share"]) for r in found])[0]["variant"]
    found = _spans()[feature, origin.maker]
    weights = [_share(r, origin) for r in found]
    return rng.choices(found, weights)[0]["variant"]


@cache
def _first_last(maker: str) -> tuple[str, str]:
    months = [r["month"] for r in rows("production") if r["maker"] == maker and int(r["built"])]
    return min(months), max(months)


def _share(row: dict[str, str], o: Origin) -> float:
    """The share of new parts with this variant at the machine's month (the 15th), by the ramps of the table."""
    first, last = _first_last(o.maker)
    middle = datetime.date(int(o.month[:4]), int(o.month[5:]), 15)

    def past(edge: str, soft: float) -> float:
        weeks = (middle - datetime.date.fromisoformat(edge)).days / 7
        return float(weeks >= 0) if not soft else min(1.0, max(0.0, (weeks + soft) / (2 * soft)))

    begun = past(row["from"], float(row["from_soft_weeks"])) if row["from"][:7] > first else 1.0
    ended = past(row["to"], float(row["to_soft_weeks"])) if row["to"] and row["to"][:7] < last else 0.0
    return max(0.0, begun - ended) * float(row["share"])
