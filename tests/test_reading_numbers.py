"""Numbers as sellers write them: how far they reach, which part they are of, and what is none."""

import pytest

from claims.pack import shipped_packs
from claims.reader import read_claims
from extractors import make_document

PACKS = shipped_packs()


@pytest.mark.parametrize(
    ("title", "text", "numbers"),
    [
        ("Lambretta 1960", "Engine 150 LI 523456, frame 150LI 523112.", [("engine", "150LI523456"), ("frame", "150LI523112")]),
        ("Lambretta 1960", "Engine no. 150 cc 52345 miles.", []),
        ("Land Rover", "Engine is from a later one, number 27100456C.", [("engine", "27100456C")]),
        ("Land Rover", "Chassis 24122345A.", [("frame", "24122345A")]),
        ("Frame for sale", "No. 4471 is stamped on the frame.", [("frame", "4471")]),
        ("Old tractor", "Numbers 316 to 20894 were made in 1951.", []),
        ("Old motorcycle", "Engine number missing, frame number unreadable.", [("engine", None), ("frame", None)]),
        ("Old motorcycle", "Engine no: xxxx", [("engine", None)]),
        ("Old motorcycle", "Engine no. 26. 2. 1948", []),
    ],
)
def test_numbers_of_a_text(title: str, text: str, numbers: list[tuple[str, str | None]]) -> None:
    """Each number that is read with its part, in the order of the text."""
    found = [c for c in read_claims(make_document(text, title=title), PACKS) if c.kind == "number" and c.basis == "seller"]
    assert [(c.part, c.value) for c in sorted(found, key=lambda c: c.quote.start)] == numbers
