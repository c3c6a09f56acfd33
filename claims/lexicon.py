"""Every phrase that reading knows, in one tree of tokens: phrase files of a language and the names of the packs.

A phrase belongs to a category; within a category the longer phrase wins. Hyphens inside a phrase do not count.
"""

from collections.abc import Iterable
from typing import NamedTuple

from claims.grid import Grid, words

_END = ""


class Entry(NamedTuple):
    """What a phrase stands for: its category, a value and whatever its kind needs besides."""

    category: str
    value: str
    part: str = ""
    family: str = ""
    more: str = ""


class Hit(NamedTuple):
    """An entry found at tokens [i, j)."""

    i: int
    j: int
    entry: Entry


class Lexicon:
    """A tree of tokens with entries at its nodes."""

    def __init__(self) -> None:
        self._root: dict[str, dict] = {}  # type: ignore[type-arg]

    def add(self, phrase: str, entry: Entry) -> None:
        """Add a phrase; the same phrase may carry entries of several categories."""
        node = self._root
        for word in words(phrase):
            node = node.setdefault(word, {})
        if node is not self._root:
            entries = node.setdefault(_END, [])  # type: ignore[arg-type]
            if entry not in entries:
                entries.append(entry)  # type: ignore[attr-defined]

    def extend(self, phrases: Iterable[str], entry: Entry) -> None:
        """Add every phrase with one entry."""
        for phrase in phrases:
            self.add(phrase, entry)

    def find(self, grid: Grid) -> dict[str, list[Hit]]:
        """Category to hits, in order, the longest at each place; overlapping shorter ones are left out."""
        toks, n, root = grid.toks, grid.n, self._root
        out: dict[str, list[Hit]] = {}
        for i in range(n):
            node = root.get(toks[i])
            if node is None:
                continue
            best: dict[str, tuple[int, list[Entry]]] = {}
            j = i + 1
            while True:
                entries = node.get(_END)
                if entries:
                    here: dict[str, list[Entry]] = {}
                    for entry in entries:
                        here.setdefault(entry.category, []).append(entry)
                    for category, found in here.items():
                        best[category] = (j, found)
                if j >= n:
                    break
                following = node.get(toks[j])
                if following is None and toks[j] == "-" and j + 1 < n:
                    j += 1
                    following = node.get(toks[j])
                if following is None:
                    break
                node = following
                j += 1
            for category, (end, found) in best.items():
                hits = out.setdefault(category, [])
                if not hits or hits[-1].j <= i:
                    hits.extend(Hit(i, end, entry) for entry in found)
        return out
