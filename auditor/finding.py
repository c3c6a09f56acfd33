"""What a check reports: a conflict, a doubt, a gap or a note; never an accusation."""

import dataclasses
from collections.abc import Iterable
from dataclasses import dataclass, field

from claims.claim import Claim
from claims.pack import never_alone
from claims.pack_rows import Source
from claims.reading_of_number import Decoding

CONTRADICTION, DOUBT, GAP, NOTE = "contradiction", "doubt", "gap", "note"
GRADES = (CONTRADICTION, DOUBT, GAP, NOTE)
"""contradiction: cannot both hold; doubt: possible but unlikely, or on weak ground; gap: needed, not given; note."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One result of a check. Its grade is capped by the weakest rule it rests on: the only place where that is done.

    A check names the sources of its own rule; the tables by which the numbers in its claims were read are added by
    `resting_on`, which the audit calls for every finding.
    """

    name: str
    grade: str
    message: str
    part: str = "vehicle"
    claims: tuple[Claim, ...] = field(default=(), compare=False)
    rule: str = ""
    sources: tuple[Source, ...] = ()
    weak: bool = False
    """A row or pack called weak or disputed stands behind it."""
    innocent: tuple[str, ...] = ()
    settle: str = ""

    def __post_init__(self) -> None:
        if self.grade == CONTRADICTION and (self.weak or any(never_alone(s) for s in self.sources)):
            object.__setattr__(self, "grade", DOUBT)

    def resting_on(self, decodings: Iterable[Decoding]) -> "Finding":
        """The same finding, capped also by the readings of the numbers that its claims give; only where a rule stands behind it."""
        own = [d for d in decodings if self.rule and any(d.claim is c for c in self.claims)]
        weak = any(r.weak or any(never_alone(s) for s in r.sources) for d in own for r in d.readings)
        return dataclasses.replace(self, weak=True) if weak or any(never_alone(s) for d in own for s in d.sources) else self


@dataclass(frozen=True, slots=True)
class Fault:
    """A check or pack that failed: named in the report, which goes on without it."""

    where: str
    message: str
