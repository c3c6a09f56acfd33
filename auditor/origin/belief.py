"""What is believed of a vehicle and its parts, as plain records; `auditor/origin/assessment.py` makes them."""

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import accumulate

from claims.claim import Claim
from claims.pack import Pack
from claims.standards import edtf

NOTHING_KNOWN = "nothing known"
SHARE_OF_SPAN = 0.95
DATED_READING = "dated reading"
PART, AS_TOLD = "the part", "whether the number is as told"
"""What an answer settles where it is neither the maker nor the date of building."""
OF_THE_PART = 0.25
"""What a bit about a part's state counts beside one about the vehicle's origin (measured: `tests/bench/questions.py`)."""
NO_OPINION = (
    "Words for weights after the verbal scale of the ENFSI Guideline for Evaluative Reporting (2015). "
    "This is arithmetic on what was said, no forensic opinion."
)


def shortest_span(by_month: Mapping[int, float]) -> tuple[str, str]:
    """First and last month (`YYYY-MM`) of the shortest span that holds 95 % of what belief there is in months; empty for none."""
    months = sorted(by_month)
    sums = list(accumulate(by_month[m] for m in months))
    if not sums or sums[-1] <= 0:
        return "", ""
    best = (0, len(months) - 1)
    for i in range(len(months)):
        j = bisect_left(sums, (sums[i - 1] if i else 0.0) + SHARE_OF_SPAN * sums[-1] - 1e-12)
        if j < len(months) and months[j] - months[i] < months[best[1]] - months[best[0]]:
            best = (i, j)
    return edtf.month_text(months[best[0]]), edtf.month_text(months[best[1]])


@dataclass(frozen=True, slots=True)
class Weight:
    """A row of an account: what was said, its weight for "original" in bits (None without belief) and in words."""

    text: str
    bits: float | None
    words: str
    claims: tuple[Claim, ...] = ()


@dataclass(frozen=True, slots=True)
class PartBelief:
    """What one part probably is; probabilities are None in families without sourced priors."""

    part: str
    name: str
    original: float | None = None
    exchanged: float | None = None
    made_later: float | None = None
    makers: dict[str, float | None] = field(default_factory=dict)
    """Who made it, later sources among them."""
    first: str = ""
    last: str = ""
    """The span of building (`YYYY-MM`) that holds 95 % of the belief, or that the readings allow; empty for unknown."""
    rows: tuple[Weight, ...] = ()
    story: str = NOTHING_KNOWN
    touched: bool = False
    """Whether anything is said of this very part."""
    months: tuple[tuple[int, float], ...] = ()
    """Belief by month of building (month number, probability), for a picture; later parts are in none."""


@dataclass(frozen=True, slots=True)
class Look:
    """Something not yet told that can be looked at: `about` as in a question, effort, what it would settle.

    `bits` are expected about the vehicle's origin and the part's state together, `of_origin` about the origin alone.
    """

    about: str
    part: str
    bits: float
    effort: int
    settles: str
    of_origin: float

    @property
    def worth(self) -> float:
        """What it is ranked by: bits for the effort, those of the part's state alone at a share."""
        return (self.of_origin + OF_THE_PART * (self.bits - self.of_origin)) / self.effort


@dataclass(frozen=True, slots=True)
class Belief:
    """What is believed of one vehicle of an advert."""

    item: int
    pack: Pack | None
    makers: dict[str, float] = field(default_factory=dict)
    months: dict[str, float] = field(default_factory=dict)
    parts: tuple[PartBelief, ...] = ()
    rows: tuple[Weight, ...] = ()
    """The account of the likeliest maker and month."""
    story: str = NOTHING_KNOWN
    looks: tuple[Look, ...] = ()
    """What would tell most, the most informative for its effort first; empty without sourced priors."""

    @property
    def span(self) -> tuple[str, str]:
        """First and last month (`YYYY-MM`) of the shortest span that holds 95 % of the belief; empty where there is none."""
        return shortest_span({edtf.decode(m).first: p for m, p in self.months.items()})

    @property
    def has_probabilities(self) -> bool:
        """Whether the family has sourced priors, so that there is more than readings."""
        return bool(self.months)
