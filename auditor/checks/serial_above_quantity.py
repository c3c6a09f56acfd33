"""A serial number is higher than the number of machines that the seller says were built.

Counters seldom start at 1 and often run through several models, so that it is a doubt at most, and silent where the
pack's own table starts far from 1.
"""

from collections.abc import Iterator

from auditor.case import Case
from auditor.finding import DOUBT, Finding
from claims.reading_of_number import Decoding

ASK = "Where does the figure of {quantity} built come from?"
ABOUT = "statement"
NEAR_ONE = 200
"""A counter whose table starts below this is taken to start at 1 (1, 101)."""


def check(case: Case) -> Iterator[Finding]:
    """Compare a stated quantity with the serial of each identity number whose counter starts near 1."""
    for claim in case.said("quantity"):
        if not (claim.value or "").isdigit():
            continue
        built = int(claim.value or 0)
        for decoding in case.identity_readings:
            serial = decoding.groups.get("serial", "")
            first = _first(decoding)
            if not serial.isdigit() or first is None or int(serial) - first < built:
                continue
            part = case.part_name(decoding.part)
            yield Finding(
                "serial_above_quantity",
                DOUBT,
                f"“{claim.quote.text}” built, but {part} number {decoding.claim.quote.text} is number {int(serial)} of its run.",
                decoding.part,
                (claim, decoding.claim),
                decoding.rule,
                decoding.sources,
                False,
                ("The figure may be of one variant, colour or market; several models may share the run.",),
                "Where the figure comes from.",
            )
            return


def _first(decoding: Decoding) -> int | None:
    """The first number of the scheme's first table, where that is near 1."""
    if decoding.pack is None or decoding.scheme is None:
        return None
    how = decoding.scheme.decode.get("serial", {})
    if how.get("decoder") != "range":
        return None
    where = how.get("where", {})
    rows = decoding.pack.dated(how["tables"][0], 0, decoding.scheme.period_kind)
    firsts = [r.first for r in rows if all(r.keys[c] in v for c, v in where.items() if c in r.keys)]
    return min(firsts) if firsts and min(firsts) <= NEAR_ONE else None
