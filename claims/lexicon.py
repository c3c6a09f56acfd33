"""Every phrase that reading knows, in one tree of tokens: phrase files of a language and the names of the packs.

A phrase belongs to a category; within a category the longer phrase wins. Hyphens inside a phrase do not count.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from claims.grid import Grid, words

_END, _NO_TOKEN = "", " "
"""What marks the end of a phrase in the tree, and what stands behind the last token; neither is ever a token."""


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
        self._root: dict[str, Any] = {}
        self._deferred: list[tuple[dict[str, Sequence[str]], Callable[[str], Entry]]] = []

    def add(self, phrase: str, entry: Entry) -> None:
        """Add a phrase; the same phrase may carry entries of several categories."""
        node = self._root
        for word in words(phrase):
            node = node.setdefault(word, {})
        if node is not self._root:
            entries = node.setdefault(_END, {}).setdefault(entry.category, [])
            if entry not in entries:
                entries.append(entry)

    def extend(self, phrases: Iterable[str], entry: Entry) -> None:
        """Add every phrase with one entry."""
        for phrase in phrases:
            self.add(phrase, entry)

    def defer(self, phrases: Mapping[str, Sequence[str]], entry_of: Callable[[str], Entry]) -> None:
        """Add phrases, given by their first token, when a grid first has that token: of a long list few are ever met."""
        self._deferred.append((dict(phrases), entry_of))

    def find(self, grid: Grid) -> dict[str, list[Hit]]:
        """Category to hits, in order, the longest at each place; overlapping shorter ones are left out."""
        for phrases, entry_of in self._deferred:
            for first in phrases.keys() & grid.toks:
                for phrase in phrases.pop(first):
                    self.add(phrase, entry_of(phrase))
        toks, n, root = [*grid.toks, _NO_TOKEN], grid.n, self._root
        out: dict[str, list[Hit]] = {}
        for i, node in enumerate(map(root.get, grid.toks)):
            if node is None:
                continue
            j = i + 1
            following = node.get(toks[j])
            if following is None and toks[j] != "-":
                if _END in node:
                    for category, found in node[_END].items():
                        _keep(out, i, j, category, found)
                continue
            best: dict[str, tuple[int, list[Entry]]] = {}
            while True:
                if _END in node:
                    for category, found in node[_END].items():
                        best[category] = (j, found)
                following = node.get(toks[j])
                if following is None and toks[j] == "-" and j + 1 < n:
                    j += 1
                    following = node.get(toks[j])
                if following is None:
                    break
                node = following
                j += 1
            for category, (end, found) in best.items():
                _keep(out, i, end, category, found)
        return out


def _keep(out: dict[str, list[Hit]], i: int, j: int, category: str, entries: list[Entry]) -> None:
    """Add hits of a category at tokens [i, j), but where it has one there already."""
    hits = out.get(category)
    if hits is None:
        hits = out[category] = []
    elif hits[-1].j > i:
        return
    for entry in entries:
        hits.append(Hit(i, j, entry))
