"""Published examples (fixtures/published/examples.csv): numbers that a source dates, written as a listing would, and what rules make of them.

Each row names the folder of facts it comes from, where it stands there, the maker and model that the listing names, the
part, the number, every period that a source gives it, and why it is left undated where it is. A period is right when a
reading meets it; a disputed one needs a reading for each source.
"""

import csv
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from claims.claim import STATED, Claim, compact
from claims.decode import decode_numbers
from claims.pack import shipped_packs
from claims.period import period
from claims.reader import read_claims
from claims.reading_of_number import Decoding
from claims.standards.edtf import Span
from extractors import make_document

FILE = Path(__file__).parent.parent / "fixtures" / "published" / "examples.csv"
LIST_MARK = " | "
RIGHT, PARTLY, UNDATED, WRONG = "right", "one of several", "undated", "wrong"
NAMING = ("maker", "model", "vehicle_type")
LABELS = {
    "engine": "Engine number", "frame": "Frame number", "vehicle": "Serial number", "hull": "Hull number", "registration": "Registration",
    "body": "Body number", "plate": "On the plate:", "axle": "Rear axle casting code", "component": "Date code", "tyre": "DOT",
}  # fmt: skip


@dataclass(frozen=True)
class Published:
    """One published example."""

    folder: str
    where: str
    maker: str
    model: str
    part: str
    kind: str
    written: str
    period: str
    period_kind: str
    source: str
    standing: str
    undated_because: str

    @property
    def spans(self) -> list[Span]:
        """Every span of months that a source gives; none where no source dates it."""
        pairs = zip(self.period.split(LIST_MARK), self.period_kind.split(LIST_MARK), strict=True)
        return [period(text, kind).span for text, kind in pairs] if self.period else []

    def __str__(self) -> str:
        return f"{self.folder}: {self.maker} {self.model} {self.part} {self.written} = {self.period or 'no date'} ({self.where}, {self.source})"


@cache
def published() -> tuple[Published, ...]:
    """Every published example, in order."""
    with FILE.open(encoding="utf-8", newline="") as stream:
        return tuple(Published(**row) for row in csv.DictReader(stream))


def verdict(example: Published, decodings: Sequence[Decoding]) -> str:
    """`right`, `one of several` (a disputed date of which a reading is missing), `undated` or `wrong`."""
    got, wanted = [s for d in decodings for s in d.spans], example.spans
    if not got:
        return UNDATED
    if not any(_meets(g, w) for g in got for w in wanted):
        return WRONG
    return RIGHT if all(any(_meets(g, w) for g in got) for w in wanted) else PARTLY


def from_claims(example: Published) -> tuple[Decoding, ...]:
    """The readings of the number as a claim beside the names of its maker and model."""
    document = make_document(f"{example.maker} {example.model}.\n{example.written}")
    named = [c for c in read_claims(document, shipped_packs()) if c.kind in NAMING]
    field = document.fields[-1]
    start = field.text.rindex(example.written)
    quote = document.quote(field.name, start, start + len(example.written))
    return decode_numbers([*named, Claim(example.kind, example.part, compact(example.written), STATED, quote)], shipped_packs())


def from_text(example: Published) -> tuple[Decoding, ...]:
    """The readings of every number of a short listing that gives it."""
    name = f"{example.maker} {example.model}".strip()
    label = LABELS.get(example.part, example.part.capitalize() + " number")
    document = make_document(f"{name or 'Old vehicle'}\n\nNice {name or 'old thing'} for sale. {label} {example.written}. Runs well.")
    return decode_numbers(read_claims(document, shipped_packs()), shipped_packs())


def disputed() -> Iterator[Published]:
    """Examples to which sources give more than one period."""
    return (e for e in published() if len(e.spans) > 1)


def _meets(one: Span, other: Span) -> bool:
    return one.first <= other.last and other.first <= one.last
