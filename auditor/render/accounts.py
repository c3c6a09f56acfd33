"""What each part probably is, as every report shows it: words for belief, the rows of an account, a plot over time.

A probability is shown in words of the trade and as a count in a hundred; bits stay in JSON.
"""

import dataclasses
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from auditor.audit import Audit
from auditor.origin.account import words_for
from auditor.origin.belief import AS_TOLD, NO_OPINION, Belief, PartBelief, Weight
from claims.standards.edtf import month_text

HEADING = "What each part probably is"
HOW = (
    "Worked out from what is said, the tables and how such machines survive; it changes with every answer. It is no proof of identity. " + NO_OPINION
)
MOST_ROWS = 6
LEAST_BITS = 1.0
"""Rows that are no support either way stand together in one on screens; JSON has them all."""
REST = "everything else that was said, together"
PLOT_HEIGHT = 30.0
YEARS_BETWEEN_FIGURES = 3


@dataclass(frozen=True, slots=True)
class Line:
    """One thing with its belief: `share` in words, what it probably is, its ledger, its plot."""

    name: str
    share: str
    story: str
    rows: tuple[Weight, ...]
    plot: "Plot | None"
    change: str
    """What would change it most, in words; empty for nothing."""


@dataclass(frozen=True, slots=True)
class Plot:
    """Belief by month as the outline of an area: `path` in units of a month across and 30 upwards; years as (percent, figures)."""

    path: str
    width: int
    years: tuple[tuple[float, int], ...]
    words: str


@dataclass(frozen=True, slots=True)
class Account:
    """The account of one vehicle."""

    item: int
    story: str
    lines: tuple[Line, ...]
    untouched: tuple[str, ...]
    """Parts of which nothing is said."""


def accounts(audit: Audit) -> tuple[Account, ...]:
    """An account of every vehicle whose family has sourced priors."""
    return tuple(_account(b) for b in audit.beliefs if b.has_probabilities)


def _account(belief: Belief) -> Account:
    touched = [p for p in belief.parts if p.touched]
    months = sorted({m for p in belief.parts for m, _ in p.months})
    whole = [(m, belief.months.get(month_text(m), 0.0)) for m in months]
    vehicle = Line("the vehicle", "", belief.story, _ledger(belief.rows), _plot(whole, "the vehicle"), _change(belief, ""))
    lines = [Line(p.name, _in_a_hundred(p), p.story, _ledger(p.rows), _plot(p.months, p.name), _change(belief, p.part)) for p in touched]
    return Account(belief.item, belief.story, (vehicle, *lines), tuple(p.name for p in belief.parts if p not in touched))


def _in_a_hundred(part: PartBelief) -> str:
    if part.original is None:
        return ""
    return f"first fitted in {_count(part.original)}"


def _count(share: float) -> str:
    """A share as a count in a hundred."""
    n = round(100 * share)
    return "fewer than 1 of 100" if n < 1 else "more than 99 of 100" if n > 99 else f"about {n} of 100"


def _ledger(rows: Sequence[Weight]) -> tuple[Weight, ...]:
    """Where the account starts, the rows that weigh most in their order, and one for all the others: together they add up."""
    if not rows:
        return ()
    start = dataclasses.replace(rows[0], words=_count(1 / (1 + 2 ** -(rows[0].bits or 0.0))))
    said = [r for r in rows[1:] if r.claims and abs(r.bits or 0.0) >= LEAST_BITS]
    chosen = sorted(said, key=lambda r: -abs(r.bits or 0.0))[:MOST_ROWS]
    rest = sum(r.bits or 0.0 for r in rows[1:] if r not in chosen)
    others = (Weight(REST, rest, words_for(rest)),) if len(rows) - 1 > len(chosen) else ()
    return (start, *(r for r in said if r in chosen), *others)


def _change(belief: Belief, part: str) -> str:
    look = next((k for k in belief.looks if not part or k.part == part), None)
    if look is None or belief.pack is None:
        return ""
    kind, _, name = look.about.partition(":")
    called = belief.pack.parts[look.part].name if look.part in belief.pack.parts else look.part
    number = f"the {called}" if called.endswith("number") else f"the {called} number"
    shown = f"a photograph of {number}" if look.settles == AS_TOLD else number
    return {"number": shown, "casting": f"the cast date of the {called}"}.get(kind) or belief.pack.features[name].name


def _plot(months: Sequence[tuple[int, float]], name: str) -> Plot | None:
    top = max((p for _, p in months), default=0.0)
    if top <= 0:
        return None
    first, last = months[0][0] // 12 * 12, months[-1][0] // 12 * 12 + 12
    return Plot(" ".join(_outline(months, first, last, top)), last - first, tuple(_years(first, last)), f"{name}: {_peak(months)}")


def _outline(months: Sequence[tuple[int, float]], first: int, last: int, top: float) -> Iterator[str]:
    by_month = dict(months)
    yield f"M0 {PLOT_HEIGHT:g}"
    level = 0.0
    for m in range(first, last):
        height = by_month.get(m, 0.0) / top
        if height != level:
            y = f"{PLOT_HEIGHT * (1 - height):.2f}".rstrip("0").rstrip(".")
            yield f"H{m - first}V{y}"
            level = height
    yield f"H{last - first}V{PLOT_HEIGHT:g}Z"


def _years(first: int, last: int) -> Iterator[tuple[float, int]]:
    for m in range(first, last, 12 * YEARS_BETWEEN_FIGURES):
        yield round(100 * (m - first) / (last - first), 2), m // 12


def _peak(months: Sequence[tuple[int, float]]) -> str:
    total, best = sum(p for _, p in months), max(months, key=lambda m: m[1])
    return f"likeliest {month_text(best[0])}, {round(100 * best[1] / total)} of 100 where it was built by the makers known here"
