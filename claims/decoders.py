"""The closed list of decoders that a scheme's named groups may use; each gives periods, makers or further facts."""

import dataclasses
from collections.abc import Iterator, Mapping, Sequence, Set
from datetime import date
from typing import Any

from claims.pack import BadPack, Pack, Row
from claims.pack_rows import Scheme, Source
from claims.period import Period, period, season
from claims.reading_of_number import Reading
from claims.runs import Cell, Run
from claims.standards.edtf import Span, month_number

NAMES = ("range", "lookup", "int", "year1", "year2", "week", "month", "season", "check")
"""Every decoder. `lag` is a scheme's own key: it moves the dates of all its readings."""
EITHER = "either"
LIST_MARK = " | "
OPEN_DECADE = "only the last figure of the year is given: the decade is open"
ROLLED_OVER = "the counter ran through this number more than once"
SEVERAL = "the table gives more than one period for this number"


def check_character(how: Mapping[str, Any], groups: Mapping[str, str]) -> str:
    """The check letter that the figures of the groups in `over` give: weighted sum, modulo, place in the alphabet."""
    figures = "".join(groups[name] for name in how["over"])
    total = sum(int(figure) * weight for figure, weight in zip(figures, how["weights"], strict=True))
    alphabet: str = how["alphabet"]
    return alphabet[total % how["modulus"]]


def by_range(pack: Pack, scheme: Scheme, group: str, groups: Mapping[str, str]) -> tuple[tuple[Reading, ...], str, tuple[Source, ...]]:
    """(readings, key that disagrees, sources of the rows that say so): the rows of every table that hold the number and agree in the key groups.

    A later table that only repeats an earlier one's dates adds its source to that reading; one that differs adds
    a reading of its own.
    """
    number = int(groups[group])
    keys = scheme.decode[group].get("keys", ())
    tables = runs(pack, scheme, group)
    if not keys and len(tables) == 1 and len(cells := tables[0].at(number)) < 2:
        return tuple(c.reading for c in cells), "", ()
    readings: list[Reading] = []
    turns: set[int] = set()
    for run in tables:
        cells = run.at(number)
        for key in keys:
            wrong = [c for c in cells if c.row.keys.get(key) and c.row.keys[key] != groups.get(key)]
            cells = tuple(c for c in cells if c not in wrong)
            if wrong and not cells and not readings:
                return (), key, tuple(dict.fromkeys(c.row.source for c in wrong))
        found = [c.reading for c in cells]
        turns.update(c.row.turn for c in cells)
        readings = [_joined(old, found) for old in readings] if readings and found else readings
        readings += [new for new in found if not any(_meets(new, old) for old in readings)]
    if len(readings) > 1:
        why = _why_several(readings, turns)
        readings = [dataclasses.replace(r, reason=why) for r in readings]
    return tuple(readings), "", ()


def _why_several(readings: Sequence[Reading], turns: Set[int]) -> str:
    if _is_decades_apart([r.span for r in readings if r.span]):
        return OPEN_DECADE
    if len(turns) > 1:
        return ROLLED_OVER
    if len({tuple(s.source_id for s in r.sources) for r in readings}) == 1:
        return SEVERAL
    return "sources differ: " + ", ".join(f"{r.period} ({'; '.join(s.title for s in r.sources)})" for r in readings)


def runs(pack: Pack, scheme: Scheme, group: str) -> tuple[Run, ...]:
    """The tables by which a group is dated, as runs of numbers; worked out when first asked for."""
    made = pack.runs.get(scheme.scheme)
    if made is None:
        how = scheme.decode[group]
        where = how.get("where", {})
        made = pack.runs[scheme.scheme] = tuple(
            Run([Cell(r, _reading(r, scheme)) for r in pack.dated(table, scheme_season(scheme), scheme.period_kind) if _chosen(r, where)])
            for table in how["tables"]
        )
    return made


def scheme_season(scheme: Scheme) -> int:
    """The month in which a scheme's own season starts, where it says one; else 0."""
    return int(scheme.decode.get("season", {}).get("start", 0))


def by_code(scheme: Scheme, pack: Pack, groups: Mapping[str, str]) -> tuple[Reading, ...]:
    """The readings of codes for year, season and month; without any of them one undated reading that names the maker.

    A looked-up year may be a span (`1942/1945`) or several (`1968 | 1978`), and figures of a year may fit several years
    of the scheme's span: each is a reading of its own.
    """
    month, week, season_start = 0, 0, 8
    years: list[Period] = []
    seasons: list[int] = []
    sources: list[Source] = []
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
        elif aim in {"year", "year2", "year1"}:
            years = list(_years(scheme, pack, text, 10 if aim == "year1" else 100))
        elif aim == "season":
            seasons, season_start = [int(t) for t in text.split(LIST_MARK)], int(how.get("start", 8))
    behind = tuple(dict.fromkeys(sources)) or (pack.source(scheme.source_id),)
    maker = "" if scheme.same_for == EITHER else scheme.maker
    dated = [(span := _of_season(s, season_start, month), f"{span} (season {s})") for s in seasons]
    dated = dated or [named for year in years if (named := _of_year(year, month, week))]
    if (years or seasons) and not dated:
        return ()
    why = OPEN_DECADE if _is_decades_apart([s for s, _ in dated]) else SEVERAL if len(dated) > 1 else ""
    weak = pack.strength == "weak"
    return tuple(Reading(span, name, maker, behind, weak, why) for span, name in dated) or (Reading(None, "", maker, behind, weak),)


def _years(scheme: Scheme, pack: Pack, text: str, modulus: int) -> Iterator[Period]:
    """The years that figures or a table's cell can mean, as periods of the kind that the scheme or its pack dates by."""
    kind = scheme.period_kind or ("date" if scheme.earliest else pack.period_kind)
    for one in text.split(LIST_MARK):
        if one.isdigit() and len(one) < 4:
            first, last = int(scheme.from_[:4] or 1900), int(scheme.to[:4] or 1999)
            fitting = [y for y in range(first, last + 1) if y % modulus == int(one)]
            if not fitting:
                raise BadPack(f"scheme {scheme.scheme}: no year ending in {one} from {first} to {last}")
            yield from (period(str(y), kind, pack.season_start) for y in fitting)
        else:
            yield period(one, kind, pack.season_start)


def _of_year(year: Period, month: int, week: int) -> tuple[Span, str] | None:
    """(span, name) of a year, cut down to its month or week; None where it has no such week. A span of years keeps its length."""
    if not (month or week) or not year.name.isdigit():
        return year.span, str(year)
    number = int(year.name)
    if week:
        month = _month_of_week(number, week)
        if not month:
            return None
    span = Span(month_number(number, month), month_number(number, month))
    return span, str(span)


def _of_season(year: int, start: int, month: int) -> Span:
    if not month:
        return season(year, start)
    built = year - 1 if month >= start else year
    return Span(month_number(built, month), month_number(built, month))


def _is_decades_apart(spans: Sequence[Span]) -> bool:
    """Whether periods differ by whole decades alone: what an open decade leaves."""
    return len(spans) > 1 and len({(s.first % 120, s.last - s.first) for s in spans}) == 1


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
    """(value, its source) of a code in its table, the first row that has it; empty where none has."""
    if "table" not in how:
        return text, None
    key = how["table"], how["by"], how["gives"]
    if key not in pack.codes:
        rows = reversed(pack.table(how["table"]))
        pack.codes[key] = {row[how["by"]]: (row[how["gives"]], pack.source_of_row(row)) for row in rows}
    return pack.codes[key].get(text, ("", None))


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
