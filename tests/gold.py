"""The gold listings as records: a listing block and its claims, one a line, as people write and correct them.

A line of a `claims` block: kind | part | value | stance | field | words, and perhaps `@n` for the n-th occurrence of the
words and `item n` for another machine. A number without value is `null`; a line break inside the words is `⏎`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from claims.claim import PARTS, STANCES, compact
from extractors.document import Document
from tests.cases import FIXTURES, Case, cases

SCORED = ("maker", "model", "year", "built", "registered", "delivered", "restored", "number", "originality", "feature", "papers")


class Gold(NamedTuple):
    """One annotated claim with its span in a field."""

    kind: str
    part: str
    value: str | None
    stance: str
    field: str
    start: int
    end: int
    text: str


UNSCORED = frozenset({"casting"})
"""Kinds that the guide does not score: they may stand in a gold listing."""


@dataclass(frozen=True)
class Annotated:
    """A gold listing: where it stands, the document and its claims."""

    name: str
    document: Document
    claims: tuple[Gold, ...]


def annotated(folder: str) -> Iterator[Annotated]:
    """Every gold listing of a folder (`gold/tuned`, `gold/kept`); raises `ValueError` naming a line that does not fit its listing."""
    if not (FIXTURES / folder).is_dir():
        raise ValueError(f"no folder {folder}")
    for case in cases(folder):
        document = case.document
        scored = [line for line in case.lines("claims") if line.split(" | ")[0].strip() not in UNSCORED]
        yield Annotated(f"{case.file}: {case.heading}", document, tuple(_gold(case, document, line) for line in scored))


def _gold(case: Case, document: Document, line: str) -> Gold:
    cells = [c.strip() for c in line.split(" | ")]
    kind, part, value, stance, label, words = cells[:6]
    nth = next((int(c[1:]) for c in cells[6:] if c.startswith("@")), 1)
    if kind not in SCORED or part not in PARTS or stance not in STANCES:
        raise ValueError(f"{case.file}: {case.heading}: {line}")
    field = next((f for f in document.fields if f.label == label), None)
    words = words.replace("⏎", "\n")
    start = -1
    for _ in range(nth):
        start = field.text.find(words, start + 1) if field else -1
        if start < 0:
            raise ValueError(f"{case.file}: {case.heading}: words not found: {line}")
    assert field is not None
    return Gold(kind, part, None if value == "null" else value, stance, field.name, start, start + len(words), words)


def same_value(kind: str, gold: str | None, found: str | None, known: bool) -> bool:
    """Whether two values are the same by the guide; `known` where a pack knows the name, which then must be exact."""
    if gold is None or found is None:
        return gold is found
    a, b = compact(gold), compact(found)
    return a == b or (kind in {"maker", "model"} and not known and bool(a) and bool(b) and (a in b or b in a))
