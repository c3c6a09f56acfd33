"""Runs of numbers in a dating table: which rows follow one another, and where they leave gaps, overlap or run backwards."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from claims.pack import Row

CODES = 0.8


@dataclass(frozen=True)
class Run:
    """Rows of a table that share one counter, in order of turn and number; `lines` are their lines in the file."""

    table: str
    name: str
    rows: tuple[Row, ...]
    lines: tuple[int, ...]

    def without_private(self) -> "Run":
        """The run without the rows that their keeper marked private."""
        kept = [(r, n) for r, n in zip(self.rows, self.lines, strict=True) if r.keys.get("private") != "yes"]
        return Run(self.table, self.name, tuple(r for r, _ in kept), tuple(n for _, n in kept))


@dataclass(frozen=True)
class Oddity:
    """A place of a run where its rows do not follow each other: `gap`, `overlap` or `backwards`."""

    kind: str
    before: int
    after: int
    """Places of the two rows in the run."""
    first: int
    last: int
    """The numbers that no row, or two rows, hold."""


def runs(table: str, rows: Sequence[tuple[int, Row]], apart: Sequence[str]) -> Iterator[Run]:
    """The runs of a table's (line, row) pairs: parted by maker, model and the columns of `apart`.

    Columns that give each row a run of its own (a letter for every year) part nothing: the counter ran on.
    """
    for columns in (("maker", "model", *apart), ("maker", "model"), ()):
        groups: dict[tuple[str, ...], list[tuple[int, Row]]] = {}
        for line, row in rows:
            groups.setdefault(tuple(row.keys.get(c, "") for c in columns), []).append((line, row))
        if len(groups) < len(rows) or not columns:
            break
    for name, group in groups.items():
        group.sort(key=lambda pair: (pair[1].turn, pair[1].first, pair[1].last))
        yield Run(table, ", ".join(filter(None, dict.fromkeys(name))), tuple(r for _, r in group), tuple(n for n, _ in group))


def oddities(run: Run) -> Iterator[Oddity]:
    """Every gap, overlap and step backwards in time of a run, in order of its numbers.

    A new turn of the counter begins anew. A table whose rows mostly hold one number each is a list of codes: it has no runs.
    """
    if sum(r.first == r.last for r in run.rows) > CODES * len(run.rows):
        return
    reach = 0
    for n, (a, b) in enumerate(pairwise(run.rows)):
        reach = n if a.turn != run.rows[reach].turn or a.last > run.rows[reach].last else reach
        far = run.rows[reach]
        if a.turn == b.turn and b.first > far.last + 1:
            yield Oddity("gap", n, n + 1, far.last + 1, b.first - 1)
        elif a.turn == b.turn and b.first <= far.last:
            yield Oddity("overlap", reach, n + 1, b.first, min(far.last, b.last))
        if b.period.span.last < a.period.span.first:
            yield Oddity("backwards", n, n + 1, b.first, b.last)


def keys_of(decode: Mapping[str, Mapping[str, Any]]) -> dict[str, list[str]]:
    """Table name to the columns that part its runs, of one scheme."""
    out: dict[str, list[str]] = {}
    for how in decode.values():
        if how.get("decoder") == "range":
            for table in how.get("tables", ()):
                out.setdefault(str(table), []).extend([*how.get("keys", ()), *how.get("where", {})])
    return out
