"""A dated event (a race, service, first registration, sale) comes before the stated year of building.

Nothing can be raced, delivered or registered before it exists. A model year may be sold in the autumn before, and a
stated year is often loose, so that only a miss of more than one calendar year counts. Where a number dates the vehicle
the other check speaks; this one compares the seller's own statements.
"""

from collections.abc import Iterator

from auditor.case import Case, stated_span, years_later
from auditor.checks.number_dates_another_year import CUSTOM_YEARS
from auditor.finding import CONTRADICTION, DOUBT, Finding
from claims.claim import STATED

ASK = "What document gives the date {year}, and which vehicle and number does it name?"
ABOUT = "papers"


def check(case: Case) -> Iterator[Finding]:
    """Compare each event of the vehicle with every stated year and date of building."""
    built = [c for c in case.said("year", "built") if c.part == "vehicle" and stated_span(c)]
    if not built or case.identity_readings or case.originality("replica", "composite"):
        return
    for claim in case.said("registered", "delivered", "used"):
        event = stated_span(claim)
        if claim.part != "vehicle" or event is None:
            continue
        misses = [(years_later(event, [span]), c) for c in built if (span := stated_span(c))]
        if not all(miss < -CUSTOM_YEARS for miss, _ in misses):
            continue
        against = misses[0][1]
        sure = claim.stance == STATED and against.stance == STATED
        yield Finding(
            "event_before_build",
            CONTRADICTION if sure else DOUBT,
            f"“{claim.quote.text}” ({claim.kind}) lies before “{against.quote.text}”, the stated year.",
            "vehicle",
            (claim, against),
            "",
            (),
            False,
            ("The event may be another vehicle's; the stated year may be that of papers or sale.",),
            "The document with the date, and the number that it names.",
        )
        return
