"""A table of ranges as a run of numbers: which rows hold a number, found by bisection."""

from bisect import bisect_right, insort
from collections.abc import Sequence
from typing import NamedTuple

from claims.pack import Row
from claims.reading_of_number import Reading


class Cell(NamedTuple):
    """A row and the reading that it gives."""

    row: Row
    reading: Reading


class Run:
    """The cells of a table over the numbers they hold; ranges may overlap, and every one that holds a number answers."""

    def __init__(self, cells: Sequence[Cell]) -> None:
        self._edges = sorted({c.row.first for c in cells} | {c.row.last + 1 for c in cells})
        begins: dict[int, list[int]] = {}
        ends: dict[int, list[int]] = {}
        for n, c in enumerate(cells):
            if c.row.first <= c.row.last:
                begins.setdefault(c.row.first, []).append(n)
                ends.setdefault(c.row.last + 1, []).append(n)
        open_rows: list[int] = []
        self._cells: list[tuple[Cell, ...]] = []
        for edge in self._edges:
            for n in ends.get(edge, ()):
                open_rows.remove(n)
            for n in begins.get(edge, ()):
                insort(open_rows, n)
            self._cells.append(tuple(cells[n] for n in open_rows))

    def at(self, number: int) -> tuple[Cell, ...]:
        """The cells that hold a number, in the order of the table."""
        place = bisect_right(self._edges, number) - 1
        return self._cells[place] if place >= 0 else ()
