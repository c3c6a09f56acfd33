"""The picture of a pack's number lines: each run as a strip of its rows, and below it when those numbers were used.

Numbers run from left to right, years from bottom to top; a gap, an overlap and a step backwards are drawn and said.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined, Template

from claims.number_runs import Run, oddities
from claims.standards.edtf import OPEN_END, OPEN_START

WIDTH, LEFT, STRIP, STAIRS = 960.0, 56.0, 26.0, 130.0
LABEL_ROOM = 7.0
"""Width of a letter of a label."""
MOST_ROWS_DRAWN, MOST_RUNS_DRAWN = 400, 60
TICKS = 6


@dataclass(frozen=True)
class Box:
    """A row's range on the strip and its span of years on the stairs, in picture units."""

    x: float
    width: float
    top: float
    height: float
    label: str
    words: str
    is_odd: bool


@dataclass(frozen=True)
class Picture:
    """One run, ready to be drawn."""

    name: str
    boxes: tuple[Box, ...]
    marks: tuple[Box, ...]
    """Gaps, overlaps and steps backwards; the label is their kind."""
    numbers: tuple[tuple[float, str], ...]
    years: tuple[tuple[float, str], ...]
    words: tuple[str, ...]
    left_out: int


@cache
def _page() -> Template:
    environment = Environment(
        loader=PackageLoader("auditor.keeper", "."), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    return environment.get_template("number_lines.html.j2")


def page(title: str, drawn: Sequence[Run], private: int) -> str:
    """The page with every run's picture; `private` rows were left out of it."""
    return _page().render(
        title=title, pictures=[picture(r) for r in drawn[:MOST_RUNS_DRAWN]], private=private, more=max(0, len(drawn) - MOST_RUNS_DRAWN),
        width=WIDTH, left=LEFT, strip=STRIP, stairs=STAIRS,
    )  # fmt: skip


def picture(run: Run) -> Picture:
    """A run as boxes: x by number, height by year."""
    rows = run.rows[:MOST_ROWS_DRAWN]
    low, high = min(r.first for r in rows), max(r.last for r in rows) + 1
    years = [y for r in rows for y in _years(r.period.span.first, r.period.span.last)]
    early, late = (min(years), max(years)) if years else (0.0, 1.0)
    late = late if late > early else early + 1

    def across(number: float) -> float:
        return LEFT + (number - low) / (high - low) * (WIDTH - LEFT - 8)

    def down(year: float) -> float:
        return STRIP + 26 + STAIRS * (1 - (year - early) / (late - early))

    boxes = []
    for r in rows:
        span = _years(r.period.span.first, r.period.span.last)
        a, b = (span[0], span[-1]) if span else (early, late)
        x, width = across(r.first), max(1.0, across(r.last + 1) - across(r.first))
        label = str(r.period) if len(str(r.period)) * LABEL_ROOM < width else ""
        words = f"{r.first} to {r.last}: {r.period}"
        boxes.append(Box(x, width, down(b), max(2.0, down(a) - down(b)), label, words, r.period.span.circa))
    marks: list[Box] = []
    said_of: list[str] = []
    for odd in oddities(Run(run.table, run.name, rows, run.lines[: len(rows)])):
        x = across(odd.first)
        said = f"{odd.kind}: {odd.first} to {odd.last}, lines {run.lines[odd.before]} and {run.lines[odd.after]}"
        marks.append(Box(x, max(2.0, across(odd.last + 1) - x), 0, 0, odd.kind, said, True))
        said_of.append(said)
    return Picture(
        ", ".join(filter(None, (f"{run.table}.csv", run.name))), tuple(boxes), tuple(marks), tuple(_number_ticks(rows[0].first, high - 1, across)),
        tuple((down(y), str(y)) for y in _year_ticks(early, late)), tuple(said_of), len(run.rows) - len(rows),
    )  # fmt: skip


def _years(first: int, last: int) -> list[float]:
    """The ends of a span of months as years; an open end is left out."""
    return ([first / 12] if first != OPEN_START else []) + ([(last + 1) / 12] if last != OPEN_END else [])


def _number_ticks(low: int, high: int, across: Callable[[float], float]) -> list[tuple[float, str]]:
    step = max(1, (high - low) // TICKS)
    return [(across(n), f"{n}") for n in (*range(low, high - step // 2, step), high)]


def _year_ticks(early: float, late: float) -> list[int]:
    first, last = int(early), int(late)
    step = max(1, -(-(last - first) // TICKS))
    return [y for y in range(first, last + 1, step) if early <= y <= late]
