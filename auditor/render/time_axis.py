"""One scale of years for all bars of a picture, in percent of its width; long stretches without a bar are cut out."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from claims.standards.edtf import OPEN_END, OPEN_START, Span

LEFT, RIGHT = 4.0, 96.0
"""Where the scale begins and ends, in percent: room for the outer years' figures."""
CUT_YEARS = 18
"""Years without any bar from which the scale is cut."""
KEPT_YEARS = 1
"""Years left standing on each side of a cut."""
CUT_WIDTH = 6.0
MOST_CUTS = 6
ROOM_YEARS = 2
"""Years drawn beyond the last date where a span is open at that side."""
STEPS = (1, 2, 5, 10, 20, 50, 100)
CLOSEST_FIGURES = 11.0
"""Least distance of two years' figures in percent: legible at the width of a phone."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Months `first` up to (not with) `end`, drawn from x to x."""

    first: int
    end: int
    start_x: float
    end_x: float


@dataclass(frozen=True, slots=True)
class Tick:
    """The beginning of a year on the scale."""

    x: float
    year: int


@dataclass(frozen=True, slots=True)
class Cut:
    """Years left out, and where."""

    x: float
    first_year: int
    last_year: int


@dataclass(frozen=True, slots=True)
class Axis:
    """The scale: its stretches, its years and its cuts, from left to right."""

    stretches: tuple[Stretch, ...]
    ticks: tuple[Tick, ...]
    cuts: tuple[Cut, ...]

    def at(self, month: int) -> float:
        """Where the beginning of a month stands, in percent; months beyond the scale stand at its ends."""
        for s in self.stretches:
            if month < s.end or s is self.stretches[-1]:
                share = (month - s.first) / (s.end - s.first)
                return round(s.start_x + (s.end_x - s.start_x) * min(1.0, max(0.0, share)), 3)
        return LEFT


def axis_of(spans: Iterable[Span]) -> Axis:
    """The scale that holds every span; an open end reaches to the edge. Without any closed date it has no stretch."""
    all_spans = list(spans)
    closed = [m for s in all_spans for m in (s.first, s.last) if m not in (OPEN_START, OPEN_END)]
    if not closed:
        return Axis((), (), ())
    first = min(closed) // 12 - (ROOM_YEARS if any(s.first == OPEN_START for s in all_spans) else 0)
    end = max(closed) // 12 + 1 + (ROOM_YEARS if any(s.last == OPEN_END for s in all_spans) else 0)
    runs = list(_kept(all_spans, first, end))
    stretches = tuple(_placed(runs if len(runs) <= MOST_CUTS + 1 else [(first, end)]))
    cuts = tuple(Cut(round((a.end_x + b.start_x) / 2, 3), a.end // 12, b.first // 12 - 1) for a, b in pairwise(stretches))
    return Axis(stretches, tuple(_ticks(stretches)), cuts)


def _kept(spans: Iterable[Span], first: int, end: int) -> Iterator[tuple[int, int]]:
    """The runs of years [first, end) that are drawn: those with a bar in them or near."""
    start, reached = first, first
    for span_first, span_last in sorted((max(first, s.first_year), min(end, s.last_year + 1)) for s in spans):
        if span_first - reached >= CUT_YEARS:
            yield start, reached + KEPT_YEARS
            start = span_first - KEPT_YEARS
        reached = max(reached, span_last)
    yield start, end


def _placed(runs: list[tuple[int, int]]) -> Iterator[Stretch]:
    years = sum(end - first for first, end in runs)
    per_year = (RIGHT - LEFT - CUT_WIDTH * (len(runs) - 1)) / years
    x = LEFT
    for first, end in runs:
        width = (end - first) * per_year
        yield Stretch(first * 12, end * 12, round(x, 3), round(x + width, 3))
        x += width + CUT_WIDTH


def _ticks(stretches: tuple[Stretch, ...]) -> Iterator[Tick]:
    width = sum(s.end_x - s.start_x for s in stretches)
    years = sum(s.end - s.first for s in stretches) / 12
    step = next((n for n in STEPS if n * width / years >= CLOSEST_FIGURES), STEPS[-1])
    last_x = -CLOSEST_FIGURES
    for s in stretches:
        own = [y for y in range(s.first // 12, s.end // 12 + 1) if y % step == 0] or [s.first // 12]
        for year in own:
            x = round(s.start_x + (s.end_x - s.start_x) * (year * 12 - s.first) / (s.end - s.first), 3)
            if x - last_x >= CLOSEST_FIGURES * 0.8:
                yield Tick(x, year)
                last_x = x
