"""How a thing relates to how it left the factory: sentences as sellers write them, the claims they make and those they do not.

The sentences are invented, so are their numbers; they were written before the phrases were tuned by them.
"""

import pytest

from claims.pack import shipped_packs
from claims.reader import read_claims
from extractors import make_document

Meaning = tuple[str, str, str]
"""(part, value, stance)"""


def said(text: str, kind: str = "originality", **attributes: str) -> set[Meaning]:
    """(part, value, stance) of every claim of a kind."""
    document = make_document(text, attributes={name.replace("_", " "): value for name, value in attributes.items()})
    return {(c.part, c.value or "", c.stance) for c in read_claims(document, shipped_packs()) if c.kind == kind and not c.is_decoded}


FRESH: list[tuple[str, set[Meaning]]] = [
    ("It is a numbers matching car with 61,000 original miles.", {("vehicle", "matching_numbers", "stated")}),
    ("Non matching engine, a 1969 block of the right type.", {("engine", "matching_numbers", "denied")}),
    ("The engine does not match the chassis.", {("engine", "matching_numbers", "denied")}),
    ("Matching #'s engine and transmission, per the previous owner.", {("engine", "matching_numbers", "reported"), ("gearbox", "matching_numbers", "reported")}),
    ("All original except for the exhaust.", {("vehicle", "original", "stated")}),
    ("Still has its original gearbox and rear axle.", {("gearbox", "original", "stated"), ("axle", "original", "stated")}),
    ("The motor, I believe, is the original one.", {("engine", "original", "hedged")}),
    ("Engine isn't the original, it was swapped out in the eighties.", {("engine", "replaced", "stated")}),
    ("One previous owner, original owner's manual and original keys.", set()),
    ("Original colour was Dove Grey, now in red.", set()),
    ("Untouched and unrestored, a real survivor.", {("vehicle", "unrestored", "stated")}),
    ("She was fully restored to a high standard by a marque specialist.", {("vehicle", "restored", "stated")}),
    ("Needs a full restoration, engine will have to be rebuilt.", set()),
    ("Carburettors have been rebuilt and the magneto reconditioned.", {("component", "rebuilt", "stated")}),
    ("Fitted with a reconditioned gearbox.", {("gearbox", "rebuilt", "stated")}),
    ("The engine has had a full rebuild, new pistons and rings.", {("engine", "rebuilt", "stated")}),
    ("Replacement crankcases were fitted after the con rod let go.", {("engine", "replaced", "stated")}),
    ("Runs a later five speed gearbox from a Toyota.", {("gearbox", "replaced", "stated")}),
    ("Exhaust and seat are pattern parts, tank is original.", {("component", "reproduction", "stated"), ("component", "original", "stated")}),
    ("Mudguards are pattern. The VIN plate is a reproduction.", {("component", "reproduction", "stated"), ("plate", "reproduction", "stated")}),
    ("This is a recreation of the works racer and is sold as such.", {("vehicle", "replica", "stated")}),
    ("It's not a replica, it is the real thing.", {("vehicle", "replica", "denied")}),
    ("Assembled from parts of several machines over twenty years.", {("vehicle", "composite", "stated")}),
    ("Completely stock apart from the tyres.", {("vehicle", "original", "stated")}),
    ("Stock engine, stock number 4471, more photos on request.", {("engine", "original", "stated")}),
    ("LS swapped, built motor, runs like a beast.", {("engine", "replaced", "stated")}),
    ("New tyres, new battery, new brakes and new interior.", set()),
    ("A new engine was put in by the dealer under warranty.", {("engine", "replaced", "stated")}),
    ("Paint is mostly original with some touch ups.", {("body", "original", "hedged")}),
    ("The hull is said to be original, deck has been replaced.", {("hull", "original", "reported"), ("body", "replaced", "stated")}),
]  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), FRESH)
def test_fresh_sentences(text: str, expected: set[Meaning]) -> None:
    assert said(text) == expected
