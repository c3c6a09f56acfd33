"""What a reader of one kind is given: the field's grid, the phrases found in it, and what is already read."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from claims.claim import STATED
from claims.grid import Grid
from claims.lexicon import Hit
from claims.phrase_files import Language

NO_HITS: list[Hit] = []


class Draft(NamedTuple):
    """A claim before its stance: kind, part, value and the tokens [i, j) whose words say so."""

    kind: str
    part: str
    value: str | None
    i: int
    j: int
    own: str = STATED
    """A stance that the words bring with them, whatever stands around."""
    note: str = ""
    family: str = ""
    loose: bool = False
    """Whether words beside a date name another thing, whose it may be."""


class _Places:
    """The hits of one category by where they start, end and stand, so that a look-up costs the same in any text."""

    __slots__ = ("_holds", "_sentences", "ends", "hits", "starts")

    def __init__(self, hits: list[Hit]) -> None:
        self.hits = hits
        self.starts = {hit.i: hit for hit in reversed(hits)}
        self.ends = {hit.j: hit for hit in reversed(hits)}
        self._holds: dict[int, Hit] | None = None
        self._sentences: dict[int, list[Hit]] | None = None

    def holds(self) -> dict[int, Hit]:
        """The first hit that holds a token, by token."""
        if self._holds is None:
            self._holds = {k: hit for hit in reversed(self.hits) for k in range(hit.i, hit.j)}
        return self._holds

    def sentences(self, grid: Grid) -> dict[int, list[Hit]]:
        """The hits of each sentence."""
        if self._sentences is None:
            self._sentences = {}
            for hit in self.hits:
                self._sentences.setdefault(grid.sentence[hit.i], []).append(hit)
        return self._sentences


_NOWHERE = _Places([])


class _PlacesByCategory(dict[str, _Places]):
    """The places of each category's hits, found when first asked for."""

    __slots__ = ("_hits",)

    def __init__(self, hits: Mapping[str, list[Hit]]) -> None:
        self._hits = hits

    def __missing__(self, category: str) -> _Places:
        hits = self._hits.get(category)
        places = self[category] = _Places(hits) if hits else _NOWHERE
        return places

    def change(self, hits: Mapping[str, list[Hit]], category: str) -> None:
        """Find the places of one category anew among other hits."""
        self._hits = hits
        self.pop(category, None)


@dataclass(slots=True)
class Sheet:
    """One field ready to be read."""

    grid: Grid
    hits: Mapping[str, list[Hit]]
    """The phrases found, by category; `put` changes those of one."""
    language: Language
    role: str
    """What a form's entry is by its name (`maker`, `year`, `frame`, …), else `title` or `text`."""
    parts: tuple[str, ...] = ()
    """The parts whose number a form's entry is; empty for any other field."""
    named: frozenset[str] = frozenset()
    """The ids of the packs that the listing speaks of by more than a short name."""
    designations: frozenset[str] = frozenset()
    """Figures that look like years and belong to a model, as the listing's own form names it ("Victor 2000")."""
    taken: set[int] = field(default_factory=set)
    """Tokens that belong to a number, a name or a date already read."""

    aside: set[int] = field(default_factory=set)
    """Tokens of numbers that are no identity numbers (part and casting numbers, lots)."""
    labels: set[int] = field(default_factory=set)
    """Tokens of labels: the "no." of a number is no denial."""

    _places: _PlacesByCategory = field(init=False, repr=False)

    def __post_init__(self) -> None:
        self._places = _PlacesByCategory(self.hits)

    def put(self, category: str, hits: list[Hit]) -> None:
        """Have these hits for a category from now on."""
        self.hits = {**self.hits, category: hits}
        self._places.change(self.hits, category)

    def found(self, category: str) -> list[Hit]:
        """The hits of a category, in order."""
        return self.hits.get(category, NO_HITS)

    def starting(self, category: str, i: int) -> Hit | None:
        """The hit of a category that starts at token i, or None."""
        return self._places[category].starts.get(i)

    def ending(self, category: str, j: int) -> Hit | None:
        """The hit of a category that ends before token j, or None."""
        return self._places[category].ends.get(j)

    def covering(self, category: str, i: int) -> Hit | None:
        """The hit of a category that holds token i, or None."""
        return self._places[category].holds().get(i)

    def beside(self, category: str, i: int) -> list[Hit]:
        """The hits of a category that begin in the sentence of token i, in order."""
        if category not in self.hits or not 0 <= i < self.grid.n:
            return NO_HITS
        return self._places[category].sentences(self.grid).get(self.grid.sentence[i], NO_HITS)

    def take(self, i: int, j: int) -> None:
        """Mark tokens [i, j) as read."""
        self.taken.update(range(i, j))

    def is_free(self, i: int, j: int) -> bool:
        """Whether none of tokens [i, j) is read yet."""
        return self.taken.isdisjoint(range(i, j))
