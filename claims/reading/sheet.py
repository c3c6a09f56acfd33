"""What a reader of one kind is given: the field's grid, the phrases found in it, and what is already read."""

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


@dataclass(slots=True)
class Sheet:
    """One field ready to be read."""

    grid: Grid
    hits: dict[str, list[Hit]]
    language: Language
    role: str
    """What a form's entry is by its name (`maker`, `year`, `frame`, …), else `title` or `text`."""
    parts: tuple[str, ...] = ()
    """The parts whose number a form's entry is; empty for any other field."""
    named: frozenset[str] = frozenset()
    """The ids of the packs that the listing speaks of by more than a short name."""
    taken: set[int] = field(default_factory=set)
    """Tokens that belong to a number, a name or a date already read."""

    aside: set[int] = field(default_factory=set)
    """Tokens of numbers that are no identity numbers (part and casting numbers, lots)."""
    labels: set[int] = field(default_factory=set)
    """Tokens of labels: the "no." of a number is no denial."""

    def found(self, category: str) -> list[Hit]:
        """The hits of a category, in order."""
        return self.hits.get(category, NO_HITS)

    def starting(self, category: str, i: int) -> Hit | None:
        """The hit of a category that starts at token i, or None."""
        return next((h for h in self.hits.get(category, NO_HITS) if h.i == i), None)

    def ending(self, category: str, j: int) -> Hit | None:
        """The hit of a category that ends before token j, or None."""
        return next((h for h in self.hits.get(category, NO_HITS) if h.j == j), None)

    def covering(self, category: str, i: int) -> Hit | None:
        """The hit of a category that holds token i, or None."""
        return next((h for h in self.hits.get(category, NO_HITS) if h.i <= i < h.j), None)

    def take(self, i: int, j: int) -> None:
        """Mark tokens [i, j) as read."""
        self.taken.update(range(i, j))

    def is_free(self, i: int, j: int) -> bool:
        """Whether none of tokens [i, j) is read yet."""
        return not any(k in self.taken for k in range(i, j))
