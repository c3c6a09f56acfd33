"""The closed list of decoders that a scheme's named groups may use; each gives periods, makers or further facts."""

import dataclasses
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from claims.pack import BadPack, Pack, Row
from claims.pack_rows import Scheme, Source
from claims.period import season
from claims.reading_of_number import Reading
from claims.standards.edtf import Span, month_number

NAMES = ("range", "lookup", "int", "year1", "year2", "week", "month", "season", "check")
"""Every decoder. `lag` is a scheme's own key: it moves the dates of all its readings."""
EITHER = "either"


def check_character(how: Mapping[str, Any], groups: Mapping[str, str]) -> str:
    """The check letter that the figures of the groups in `over` give: weighted sum, modulo, place in the alphabet."""
    figures = "".join(groups[name] for name in how["over"])
    total = sum(int(figure) * weight for figure, weight in zip(figures, how["weights"], strict=True))
    alphabet: str = how["alphabet"]
    return alphabet[total % how["modulus"]]


def by_range(how: Mapping[str, Any], pack: Pack, scheme: Scheme, group: str, groups: Mapping[str, str]) -> tuple[tuple[Reading, ...], str]:
    """(readings, key that disagrees): the rows of every table that hold the number and agree in the key groups.

    A later table that only repeats an earlier one's dates adds its source to that reading; one that differs adds
    a reading of its own.
    """
    number = int(groups[group])
    readings: list[Reading] = []
    disagreeing = ""
    for table in how["tables"]:
        rows = [r for r in pack.dated(table, scheme_season(scheme), scheme.period_kind) if _holds(r, number) and _chosen(r, how.get("where", {}))]
        for key in how.get("keys", ()):
            wrong = [r for r in rows if r.keys.get(key) and r.keys[key] != groups.get(key)]
            rows = [r for r in rows if r not in wrong]
            if wrong and not rows and not readings:
                disagreeing = key
        if disagreeing:
            return (), disagreeing
        found = [_reading(row, scheme) for row in rows]
        readings = [_joined(old, found) for old in readings]
        readings += [new for new in found if not any(_meets(new, old) for old in readings)]
    if len(readings) > 1:
        names = {r.period: "; ".join(s.title for s in r.sources) for r in readings}
        same = len({tuple(s.source_id for s in r.sources) for r in readings}) == 1
        why = "the counter ran through this number more than once" if same else "sources differ: " + ", ".join(f"{p} ({s})" for p, s in names.items())
        readings = [dataclasses.replace(r, reason=why) for r in readings]
    return tuple(readings), ""


def scheme_season(scheme: Scheme) -> int:
    """The month in which a scheme's own season starts, where it says one; else 0."""
    return int(scheme.decode.get("season", {}).get("start", 0))


def by_code(scheme: Scheme, pack: Pack, groups: Mapping[str, str]) -> tuple[Reading, ...]:
    """The reading of codes for year, season and month; without any of them one undated reading that names the maker."""
    year, month, ending, season_year, week = 0, 0, "", 0, 0
    sources: list[Source] = []
    start = 8
    for name, how in scheme.decode.items():
        if name not in groups:
            continue
        text, source = _looked_up(how, pack, groups[name])
        if source:
            sources.append(source)
        aim = how.get("aim", how["decoder"] if how["decoder"] != "lookup" else name)
        if not text:
            return ()
        if aim == "month":
            month = int(text)
        elif aim == "week":
            week = int(text)
        elif aim in {"year", "year2"}:
            year = int(text) if len(text) == 4 else _century(scheme, int(text), 100)
        elif aim == "year1":
            ending = text
        elif aim == "season":
            season_year, start = int(text), int(how.get("start", 8))
    if ending:
        year = _century(scheme, int(ending), 10)
    named = tuple(dict.fromkeys(sources)) or (pack.source(scheme.source_id),)
    span: Span | None = None
    if year and week:
        month = _month_of_week(year, week)
        if not month:
            return ()
    if season_year:
        if month:
            built = season_year - 1 if month >= start else season_year
            span = Span(month_number(built, month), month_number(built, month))
        else:
            span = season(season_year, start)
    elif year:
        span = Span(month_number(year, month or 1), month_number(year, month or 12))
    maker = "" if scheme.same_for == EITHER else scheme.maker
    name = f"{span} (season {season_year})" if span and season_year else str(span or "")
    return (Reading(span, name, maker, named, pack.strength == "weak"),)


def _month_of_week(year: int, week: int) -> int:
    """The month of a week's Thursday (ISO 8601); 0 where the year has no such week."""
    try:
        return date.fromisocalendar(year, week, 4).month
    except ValueError:
        return 0


def with_lag(reading: Reading, scheme: Scheme, pack: Pack) -> Reading:
    """The reading moved and widened by the scheme's lag table; the table's months are whole months."""
    if not scheme.lag or reading.span is None:
        return reading
    months = [int(r["months"]) for r in pack.table(scheme.lag["table"]) if r["lag"] == scheme.lag["lag"]]
    low, high = (min(months), max(months)) if scheme.lag["sense"] == "after" else (-max(months), -min(months))
    span = Span(reading.span.first + low, reading.span.last + high)
    return dataclasses.replace(reading, span=span, reason=reading.reason or f"number of {reading.period}, machine {scheme.lag['sense']}")


def further(scheme: Scheme, pack: Pack, groups: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """(what, value) of every looked-up group that is no date."""
    for name, how in scheme.decode.items():
        if how["decoder"] == "lookup" and name in groups and how["gives"] not in {"year", "month", "season", "season_year"}:
            text, _ = _looked_up(how, pack, groups[name])
            if text:
                yield how["gives"], text


def _looked_up(how: Mapping[str, Any], pack: Pack, text: str) -> tuple[str, Source | None]:
    if "table" not in how:
        return text, None
    for row in pack.table(how["table"]):
        if row[how["by"]] == text:
            return row[how["gives"]], pack.source(row.get("source_id", ""))
    return "", None


def _century(scheme: Scheme, figures: int, modulus: int) -> int:
    first, last = int(scheme.from_[:4] or 1900), int(scheme.to[:4] or 1999)
    for year in range(first, last + 1):
        if year % modulus == figures:
            return year
    raise BadPack(f"scheme {scheme.scheme}: no year ending in {figures} from {first} to {last}")


def _holds(row: Row, number: int) -> bool:
    return row.first <= number <= row.last


def _chosen(row: Row, where: Mapping[str, list[str]]) -> bool:
    return all(row.keys[column] in values for column, values in where.items() if column in row.keys)


def _reading(row: Row, scheme: Scheme) -> Reading:
    maker = row.maker or ("" if scheme.same_for == EITHER else scheme.maker)
    return Reading(row.period.span, str(row.period), maker, (row.source,), row.weak)


def _meets(one: Reading, other: Reading) -> bool:
    return bool(one.span and other.span and one.span.first <= other.span.last and other.span.first <= one.span.last)


def _joined(old: Reading, found: list[Reading]) -> Reading:
    agreeing = [s for new in found if _meets(new, old) for s in new.sources]
    return dataclasses.replace(old, sources=(*old.sources, *(s for s in agreeing if s not in old.sources)))
