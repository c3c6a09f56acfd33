"""How well a dating table is fitted back from sightings drawn from a published one whose truth is known.

`python -m tests.bench.fit` draws sightings from the class's own list of Laser sail numbers (laserinternational.org, in
the pack `laser_dinghy`), dates some a year too late and some years off, and prints: the share of rows whose period
meets the true year, the share of rows that say one year, and how many of the wrong sightings were named, with how many
others. The seed is fixed.
"""

import random
from collections.abc import Sequence

from auditor.keeper.fit import Sighting, fitted
from claims.pack import Row, shipped_packs
from claims.standards import edtf

ROUNDS = 5
CASES = ((60, 0.0, 0.0), (200, 0.0, 0.0), (200, 0.2, 0.0), (200, 0.2, 0.05), (1000, 0.2, 0.05), (40, 0.1, 0.1))
"""(sightings, share a year late, share years off)."""
YEARS_OFF = (-6, -4, 5, 8)


def drawn(rng: random.Random, table: Sequence[Row], count: int, late: float, wrong: float) -> tuple[list[Sighting], set[int]]:
    """Sightings of a table, and the lines of those that are years off."""
    seen, bad = [], set()
    for line in range(count):
        row = rng.choice(table)
        year = row.period.span.first_year + (rng.random() < late)
        if rng.random() < wrong:
            year += rng.choice(YEARS_OFF)
            bad.add(line)
        seen.append(Sighting(line, rng.randint(row.first, row.last), year * 12, year * 12 + 11))
    return seen, bad


def sail_numbers() -> list[Row]:
    """The rows of the class's list from 1977 on."""
    (pack,) = (p for p in shipped_packs() if p.id == "laser_dinghy")
    return [r for r in pack.dated("sail_numbers") if r.period.span.first_year >= 1977 and r.last < 10**6]


def main() -> None:
    """Print one line for each case."""
    table, rng = sail_numbers(), random.Random(5)
    print("sightings  a year late  years off   rows that meet the truth   rows of one year   wrong ones named   others named")
    for count, late, wrong in CASES:
        held = tried = exact = named = others = bad_ones = 0
        for _ in range(ROUNDS):
            seen, bad = drawn(rng, table, count, late, wrong)
            result = fitted(seen)
            lines = {o.line for o in result.outliers}
            named, others, bad_ones = named + len(lines & bad), others + len(lines - bad), bad_ones + len(bad)
            for row in result.made.rows:
                span, middle = edtf.decode(row.period.text), ((row.first or 0) + (row.last or 0)) // 2
                for true in (r.period.span for r in table if r.first <= middle <= r.last):
                    tried, held = tried + 1, held + (span.first <= true.last and true.first <= span.last)
                    exact += span.first_year == span.last_year
        print(
            f"{count:>9}  {late:>11.0%}  {wrong:>9.0%}   {held / tried:>24.1%}   {exact / tried:>16.1%}   {f'{named} of {bad_ones}':>16}   {others:>12}"
        )


if __name__ == "__main__":
    main()
