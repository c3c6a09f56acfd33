"""What a number that reads in no table may have been: readings one slip of the pen away, each named, none taken.

Kinds of slip are tried in the order of their shares (N. Wagner, "The laws of cryptography", as collected: one character
60–95 %, neighbours changed 10–20 %, one too many or too few 10–20 %, places changed over a third 0.5–1.5 %). Of single
characters only those that are commonly confused are tried; which those are is a proposal, not a measurement.
"""

import dataclasses
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass

from claims.claim import Claim, compact
from claims.decode import LONGEST_NUMBER, decode
from claims.pack import Pack
from claims.pack_rows import Source
from claims.reading_of_number import Decoding

CONFUSED = ("B8", "CG", "D0OQ", "EF", "IJLT17", "KX", "S5", "UVY", "Z2", "089")
"""Groups of characters that are commonly taken for one another."""
SHARES = Source("error_shares", "shares of the kinds of transcription error, after N. Wagner, The laws of cryptography", "secondary")
LOOKS = Source("confusable_characters", "characters that are commonly confused: a proposal, not a measurement", "practice")
SINGLE, NEIGHBOURS, COUNT, OVER_A_THIRD = "60–95 %", "10–20 %", "10–20 %", "0.5–1.5 %"
MOST_OFFERED = 3
_SPOKEN = {"0": "a zero", "1": "a one", "8": "an eight"}
_AN = frozenset("AEFHILMNORSX8")


@dataclass(frozen=True, slots=True)
class Misreading:
    """One slip that would make a number read: how it is said, the share of errors of its kind, the readings it gives."""

    number: str
    words: str
    share: str
    decoding: Decoding

    def __str__(self) -> str:
        return (
            f"if {self.words}: {' or '.join(dict.fromkeys(r.period for r in self.decoding.readings if r.period)) or 'a known number without a date'}"
        )


def slips(number: str) -> Iterator[tuple[str, str, str]]:
    """(other number, how it is said, share of its kind) of every slip that is tried, the commonest kinds first.

    >>> [s[:2] for s in slips("DU4O")][:4]
    [('0U4O', 'the D is a zero'), ('OU4O', 'the D is an O'), ('QU4O', 'the D is a Q'), ('DV4O', 'the U is a V')]
    >>> [s[:2] for s in slips("434")]
    [('344', 'the 4 and the 3 beside it have changed places'), ('443', 'the 3 and the 4 beside it have changed places'), ('4434', 'the first 4 stands there twice'), ('4334', 'the 3 stands there twice'), ('4344', 'the second 4 stands there twice')]
    """
    seen = {number}
    for other, words, share in _slips(number):
        if other not in seen:
            seen.add(other)
            yield other, words, share


def _slips(number: str) -> Iterator[tuple[str, str, str]]:
    for i, c in enumerate(number):
        for other in dict.fromkeys(o for group in CONFUSED if c in group for o in group if o != c):
            yield number[:i] + other + number[i + 1 :], f"the {_which(number, i)} is {_named(other)}", SINGLE
    for i in range(len(number) - 1):
        a, b = number[i], number[i + 1]
        yield number[:i] + b + a + number[i + 2 :], f"the {a} and the {b} beside it have changed places", NEIGHBOURS
    for i in range(len(number) - 1):
        if number[i] == number[i + 1]:
            yield number[:i] + number[i + 1 :], f"one {number[i]} is too many", COUNT
    for i, c in enumerate(number):
        yield number[:i] + c + number[i:], f"the {_which(number, i)} stands there twice", COUNT
    for i in range(len(number) - 2):
        a, b, c = number[i], number[i + 1], number[i + 2]
        yield number[:i] + c + b + a + number[i + 3 :], f"the {a} and the {c} on either side of the {b} have changed places", OVER_A_THIRD


def _which(number: str, i: int) -> str:
    """A character, told from its like by its place where it occurs more than once."""
    c = number[i]
    if number.count(c) == 1:
        return c
    return f"{('first', 'second', 'third', 'fourth', 'fifth', 'sixth')[min(number[: i + 1].count(c), 6) - 1]} {c}"


def _named(c: str) -> str:
    return _SPOKEN.get(c) or f"{'an' if c in _AN else 'a'} {c}"


def misreadings(claim: Claim, packs: Sequence[Pack], named: Iterable[str], models: Collection[str] = ()) -> tuple[Misreading, ...]:
    """The slips that would make a number read, the commonest first; none where it reads as it stands."""
    number, families = compact(claim.value or ""), set(named)
    if len(number) > LONGEST_NUMBER or "?" in number or any(d.readings for d in decode(claim, packs, families, models)):
        return ()
    out: list[Misreading] = []
    for other, words, share in slips(number):
        read = [d for d in decode(dataclasses.replace(claim, value=other), packs, families, models) if d.spans and not d.repaired]
        out += [Misreading(other, words, share, d) for d in read[:1]]
        if len(out) == MOST_OFFERED:
            break
    return tuple(out)
