"""A dating table from dated sightings: monotone regression, intervals, and the sightings that do not fit.

Numbers are given out in order, so the date never falls as the number rises. `scipy.optimize.isotonic_regression`
(least squares under that order, pool adjacent violators) fits the dates; a sighting farther from the fit of all others
than they are from theirs is named and left out, the worst first. Between two sightings the date lies between theirs:
the table says a year where it must be that year, else both.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import isotonic_regression

from auditor.keeper.cell_values import DAY_OR_MONTH, When, number, when
from auditor.keeper.cells import Line
from auditor.keeper.columns import layout
from auditor.keeper.errors import KeeperError, Unsaid
from auditor.keeper.table import Made, Row
from claims.standards import edtf
from claims.standards.edtf import month_text

FEWEST, MOST = 4, 2_000
FARTHEST = 12.0
"""Months from the others' fit up to which a sighting is never called an outlier: papers and sales come late (common practice, no source)."""
SCALES = 4.0
"""Median distances from which on a sighting is an outlier."""
NORMAL = 1.4826
"""Median absolute deviation to standard deviation of a normal distribution (standard statistics)."""
WIDTH_OF_INTERVAL = 1.645
"""Standard deviations of nine tenths of a normal distribution (standard statistics)."""
WHOLE_YEAR = 12


@dataclass(frozen=True)
class Sighting:
    """A number with the months that its date can mean, first and last, and who says so."""

    line: int
    number: int
    first: int
    last: int
    prefix: str = ""
    source: str = ""
    figures: int = 0


@dataclass(frozen=True)
class Fitted:
    """The table, the sightings that do not fit, and the spread of the others around the fit in months."""

    made: Made
    outliers: tuple[Sighting, ...]
    spread: float


def sightings(lines: Sequence[Line], number_column: str = "", date_column: str = "", dates: str = "") -> list[Sighting]:
    """The dated numbers of a spreadsheet; raises `KeeperError` and `Unsaid`."""
    chosen = {role: name for role, name in (("first", number_column), ("period", date_column)) if name}
    try:
        found = layout(lines, chosen)
    except Unsaid as error:
        names = {"first": "number", "period": "date"}
        raise Unsaid([(names.get(option, option), text) for option, text in error.questions]) from None
    out, faults = [], []
    for line in found.body:
        seen, date = number(found.cell(line, "first")), when(found.cell(line, "period"))
        if date and date.unclear == DAY_OR_MONTH:
            if not dates:
                raise Unsaid([("dates", f"line {line.number}: does the day or the month come first (day-first or month-first)?")])
            date = When(date.other, "month") if dates == "month-first" else date
        if seen and date:
            span = edtf.decode(date.text)
            out.append(Sighting(line.number, seen.serial, span.first, span.last, seen.prefix, found.cell(line, "source"), seen.figures))
        elif found.cell(line, "first") or found.cell(line, "period"):
            faults.append(f"line {line.number}: no {'date' if seen else 'number'} that can be read")
    if faults:
        raise KeeperError("; ".join(faults[:10]))
    if len({s.prefix for s in out}) > 1:
        raise KeeperError(f"sightings of several runs ({', '.join(sorted({s.prefix or 'none' for s in out}))}): fit each prefix by itself")
    if not FEWEST <= len(out) <= MOST:
        raise KeeperError(f"{len(out)} dated sightings; a fit needs from {FEWEST} to {MOST}")
    return out


def fitted(seen: Sequence[Sighting], by: str = "") -> Fitted:
    """The dating table of the sightings, by year or month."""
    kept = sorted(seen, key=lambda s: (s.number, s.first))
    outliers: list[Sighting] = []
    while len(kept) > FEWEST:
        apart = _distance_from_others(kept)
        limit = max(FARTHEST, SCALES * NORMAL * float(np.median(apart)))
        worst = int(np.argmax(apart))
        if apart[worst] <= limit:
            break
        outliers.append(kept.pop(worst))
    middle, _, weights = _measures(kept)
    fit = _monotone(middle, weights)
    spread = float(NORMAL * np.median(np.abs(_outside(fit, kept))))
    fine = by or ("month" if np.median([s.last - s.first for s in kept]) < WHOLE_YEAR - 1 else "year")
    rows = _rows(kept, fit, WIDTH_OF_INTERVAL * spread, fine)
    notes = [
        f"{len(kept)} sightings fitted by monotone regression; half of them lie within {np.median(np.abs(middle - fit)):.0f} months of it",
        *(
            f"line {s.line}: {s.number} of {_said(s)}{f' ({s.source})' if s.source else ''} does not fit the others and was left out"
            for s in outliers
        ),
    ]
    return Fitted(Made(tuple(rows), tuple(notes)), tuple(outliers), spread)


def _monotone(middle: np.ndarray, weights: np.ndarray) -> np.ndarray:
    return np.asarray(isotonic_regression(middle, weights=weights).x)


def _measures(kept: Sequence[Sighting]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(middle of each date, half its width, its weight)."""
    first, last = np.array([s.first for s in kept], float), np.array([s.last for s in kept], float)
    half = (last - first) / 2
    return (first + last) / 2, half, 1.0 / (1 + half) ** 2


def _outside(fit: np.ndarray, kept: Sequence[Sighting]) -> np.ndarray:
    """How far each date lies from the fit, nothing where the fit lies within the months that the date can mean."""
    first, last = np.array([s.first for s in kept]), np.array([s.last for s in kept])
    return np.asarray(np.maximum(0, first - fit) - np.maximum(0, fit - last))


def _distance_from_others(kept: Sequence[Sighting]) -> np.ndarray:
    """How far each sighting lies from the bounds that the fit of all others sets at its number."""
    middle, half, weights = _measures(kept)
    apart = np.zeros(len(kept))
    for n, s in enumerate(kept):
        fit, width = _monotone(np.delete(middle, n), np.delete(weights, n)), np.delete(half, n)
        low = fit[n - 1] - width[n - 1] if n else -np.inf
        high = fit[n] + width[n] if n < len(fit) else np.inf
        apart[n] = max(0.0, low - s.last, s.first - high)
    return apart


def _rows(kept: Sequence[Sighting], fit: np.ndarray, more: float, fine: str) -> list[Row]:
    """Rows from the first to the last sighting: what each number, and each gap between two, can mean."""
    spans: list[tuple[int, int, int, int]] = []
    half = [(s.last - s.first) / 2 for s in kept]
    low = np.maximum.accumulate(fit - half - more)
    high = np.minimum.accumulate((fit + half + more)[::-1])[::-1]
    for n, s in enumerate(kept):
        if n and s.number - kept[n - 1].number > 1:
            spans.append((kept[n - 1].number + 1, s.number - 1, _period(low[n - 1], fine, first=True), _period(high[n], fine, first=False)))
        if n and s.number == kept[n - 1].number:
            continue
        spans.append((s.number, s.number, _period(min(low[n], high[n]), fine, first=True), _period(max(low[n], high[n]), fine, first=False)))
    rows: list[Row] = []
    merged: list[tuple[int, int, int, int]] = []
    for span in spans:
        if merged and merged[-1][2:] == span[2:]:
            merged[-1] = (merged[-1][0], span[1], *span[2:])
        else:
            merged.append(span)
    figures = max(s.figures for s in kept)
    for first, last, start, end in merged:
        text = _text(start, end)
        count = sum(first <= s.number <= last for s in kept)
        rows.append(
            Row(
                0,
                first,
                last,
                When(text, "span"),
                kept[0].prefix,
                "",
                figures,
                remark=f"fitted; {count} sighting{'s' if count != 1 else ''}",
                period_kind="date",
            )
        )
    return rows


def _period(month: float, fine: str, *, first: bool) -> int:
    """A fitted month rounded outwards to a whole month, or to the first or last month of its year."""
    whole = int(np.ceil(month - 1e-6) if first else np.floor(month + 1e-6))
    if fine == "month":
        return whole
    return whole // 12 * 12 + (0 if first else 11)


def _text(start: int, end: int) -> str:
    if start == end:
        return month_text(start)
    if start % 12 == 0 and end % 12 == 11:
        return f"{start // 12}" if end == start + 11 else f"{start // 12}/{end // 12}"
    return f"{month_text(start)}/{month_text(end)}" if start < end else month_text(end)


def _said(s: Sighting) -> str:
    return str(edtf.Span(s.first, s.last))
