"""What a check reports: a conflict, a doubt, a gap or a note; never an accusation."""

from dataclasses import dataclass, field

from claims.claim import Claim
from claims.pack import never_alone
from claims.pack_rows import Source

CONTRADICTION, DOUBT, GAP, NOTE = "contradiction", "doubt", "gap", "note"
GRADES = (CONTRADICTION, DOUBT, GAP, NOTE)
"""contradiction: cannot both hold; doubt: possible but unlikely, or on weak ground; gap: needed, not given; note."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One result of a check. Its grade is capped by the weakest rule it rests on: the only place where that is done."""

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


@dataclass(frozen=True, slots=True)
class Fault:
    """A check or pack that failed: named in the report, which goes on without it."""

    where: str
    message: str
