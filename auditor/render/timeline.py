"""The picture of time: a bar for each dated statement, reading and event on one scale, so that what cannot meet is seen.

Bars that a finding sets against each other stand one below the other, with the distance between them measured like a
dimension in a drawing. `pictures(audit)` gives one picture a machine; `timeline.svg.j2` draws it, and its rows are
also a table in words.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from auditor.audit import Audit
from auditor.finding import CONTRADICTION, DOUBT
from auditor.render.dated_rows import EVENT, KNOWN, READ, SAID, Row, dated_rows
from auditor.render.dates_in_words import apart_words
from auditor.render.time_axis import LEFT, RIGHT, Axis, axis_of
from claims.claim import OTHER_ITEM
from claims.standards.edtf import OPEN_END, OPEN_START, Span

MOST_ROWS = 60
MOST_NAMED = 4
"""Findings named beside a gap."""
NARROWEST = 0.6
"""Width of a month's bar at least, in percent."""
TOP, FOOT = 24, 22
"""Height of the figures above and below the rows, in pixels."""
ROW_HEIGHT, GAP_HEIGHT = 36, 30
BAR_DOWN, GAP_DOWN = 19, 4
"""How far below the top of its row a bar stands, below its own a gap's line."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A drawn span: x and width in percent; `before`, `after` are the x of its room's ends (its own where it has none)."""

    x: float
    width: float
    before: float
    after: float


@dataclass(frozen=True, slots=True)
class Gap:
    """The distance between two rows that do not meet: from the end of the earlier to the start of the later."""

    findings: tuple[int, ...]
    grade: str
    """contradiction or doubt."""
    start_x: float
    end_x: float
    words: str
    early_row: int
    late_row: int
    """Indexes in the picture of the row that ends first and of the one that begins after it."""

    @property
    def ties(self) -> str:
        """The findings that set the two against each other, in words."""
        numbers = ", ".join(map(str, self.findings[:MOST_NAMED]))
        more = " …" if len(self.findings) > MOST_NAMED else ""
        return f"finding{'s' if len(self.findings) > 1 else ''} {numbers}{more}{', doubtful' if self.grade == DOUBT else ''}"

    @property
    def after_row(self) -> int:
        """The row below which it is drawn."""
        return max(self.early_row, self.late_row)


@dataclass(frozen=True, slots=True)
class Picture:
    """The rows of one machine with their bars, the scale, and the gaps, each after the row of that index."""

    item: int
    axis: Axis
    rows: tuple[Row, ...]
    bars: tuple[tuple[Bar, ...], ...]
    gaps: tuple[Gap, ...]
    left_out: int
    """Rows that were too many to draw."""
    left: float = LEFT
    """Where labels begin, in percent."""

    @property
    def row_tops(self) -> tuple[int, ...]:
        """Where each row begins, in pixels from the top; the gaps after a row push the next ones down."""
        return tuple(TOP + i * ROW_HEIGHT + sum(g.after_row < i for g in self.gaps) * GAP_HEIGHT for i in range(len(self.rows)))

    @property
    def gap_lines(self) -> tuple[int, ...]:
        """Where the line of each gap stands, in pixels from the top."""
        tops, out, seen = self.row_tops, [], [0] * len(self.rows)
        for gap in self.gaps:
            out.append(tops[gap.after_row] + ROW_HEIGHT + seen[gap.after_row] * GAP_HEIGHT + GAP_DOWN)
            seen[gap.after_row] += 1
        return tuple(out)

    @property
    def bar_tops(self) -> tuple[int, ...]:
        """Where the bars of each row stand, in pixels from the top."""
        return tuple(top + BAR_DOWN for top in self.row_tops)

    @property
    def height(self) -> int:
        """Of the whole picture, in pixels."""
        return TOP + len(self.rows) * ROW_HEIGHT + len(self.gaps) * GAP_HEIGHT + FOOT

    @property
    def words(self) -> str:
        """The picture in a sentence or two, for those who do not see it."""
        said = [row.label if row.when in row.label else f"{row.label}: {row.when}" for row in self.rows]
        apart = [f"{self.rows[g.early_row].label} and {self.rows[g.late_row].label} do not meet: {g.words}, {g.ties}" for g in self.gaps]
        return ". ".join([*said, *apart]) + "."

    @property
    def has_room(self) -> bool:
        """Whether any bar has room around it."""
        return any(row.room for row in self.rows)

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds of bar that occur."""
        return tuple(k for k in (SAID, READ, EVENT, KNOWN) if any(r.kind == k for r in self.rows))


def pictures(audit: Audit) -> tuple[Picture, ...]:
    """A picture for every machine of which something is dated."""
    items = sorted({c.item for c in audit.claims if c.stance != OTHER_ITEM and c.item})
    return tuple(p for item in items if (p := _picture(audit, item)).rows)


def _picture(audit: Audit, item: int) -> Picture:
    ordered = _in_order(dated_rows(audit, item))
    drawn = ordered[:MOST_ROWS]
    axis = axis_of(s for row in drawn for s in row.reach)
    if not axis.stretches:
        return Picture(item, axis, (), (), (), 0)
    return Picture(item, axis, tuple(drawn), tuple(_bars(row, axis) for row in drawn), _gaps(audit, drawn, axis), len(ordered) - len(drawn))


def _in_order(rows: Sequence[Row]) -> list[Row]:
    """Rows set against each other first, by their finding; then the others as they came."""
    tied = sorted((r for r in rows if r.findings), key=lambda r: r.findings[0])
    return [*tied, *(r for r in rows if not r.findings)]


def _bars(row: Row, axis: Axis) -> tuple[Bar, ...]:
    out = []
    for span, reach in zip(row.spans, row.reach, strict=True):
        x, end = _x(axis, span)
        before, after = _x(axis, reach)
        width = max(NARROWEST, round(end - x, 3))
        out.append(Bar(min(x, RIGHT - NARROWEST), width, before, max(after, x + width)))
    return tuple(out)


def _x(axis: Axis, span: Span) -> tuple[float, float]:
    start = LEFT if span.first == OPEN_START else axis.at(span.first)
    end = RIGHT if span.last == OPEN_END else axis.at(span.last + 1)
    return start, end


def _gaps(audit: Audit, rows: Sequence[Row], axis: Axis) -> tuple[Gap, ...]:
    """For every finding that two things cannot or hardly both hold: the widest distance between its rows, if they do not meet.

    Findings of one grade on the same two rows share a gap.
    """
    own: dict[int, list[int]] = {}
    for i, row in enumerate(rows):
        for number in row.findings:
            if audit.findings[number - 1].grade in {CONTRADICTION, DOUBT}:
                own.setdefault(number, []).append(i)
    found: dict[tuple[str, tuple[int, int, int, int, int]], list[int]] = {}
    for number in sorted(own):
        apart = [gap for i in own[number] for j in own[number] if i != j and (gap := _apart(rows[i], rows[j], i, j))]
        if apart:
            found.setdefault((audit.findings[number - 1].grade, max(apart)), []).append(number)
    return tuple(
        Gap(tuple(numbers), grade, axis.at(start), axis.at(end), f"{apart_words(months)} apart" if months else "no month in common", i, j)
        for (grade, (months, start, end, i, j)), numbers in found.items()
    )


def _apart(early: Row, late: Row, i: int, j: int) -> tuple[int, int, int, int, int] | None:
    """(months between, first month after the earlier, first month of the later, i, j) where the nearest spans of two
    rows that meet nowhere stand in this order; else None."""
    found = []
    for a in early.reach:
        for b in late.reach:
            if a.first <= b.last and b.first <= a.last:
                return None
            found.append((max(b.first - a.last, a.first - b.last) - 1, a.last + 1, b.first))
    months, start, end = min(found)
    return (months, start, end, i, j) if start <= end else None
