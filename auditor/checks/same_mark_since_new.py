"""A mark is said to have been there since new, but was issued later than the vehicle was built.

The mark itself may be lawful; only "since new" cannot hold. A year's grace is given for late sales.
"""

import re
from collections.abc import Iterator

from auditor.case import Case, stated_span
from auditor.checks.number_dates_another_year import CUSTOM_YEARS
from auditor.finding import CONTRADICTION, DOUBT, Finding
from auditor.marks import issued
from claims.claim import STATED, Claim

ASK = "Which dates of registration do the papers show, and has the mark ever been changed?"
ABOUT = "papers"
NEAR = 70


def check(case: Case) -> Iterator[Finding]:
    """Compare the period of a mark with the vehicle's latest date, where the words beside it say since new."""
    for mark in case.numbers.get("registration", []):
        said = next((c for c in case.said("since_new") if _beside(case, mark, c)), None)
        found = issued(case, mark)
        against = _vehicle(case)
        if said is None or found is None or against is None:
            continue
        claim, latest = against
        period, source = found
        if period.first - latest <= 12 * CUSTOM_YEARS:
            continue
        sure = said.stance == STATED and mark.stance == STATED and claim.stance == STATED
        yield Finding(
            "same_mark_since_new",
            CONTRADICTION if sure else DOUBT,
            f"“{said.quote.text}” is said of mark {mark.quote.text}, which is of {period}, later than “{claim.quote.text}”.",
            "registration",
            (said, mark, claim),
            "uk_mark",
            (source,),
            False,
            ("The mark may be that of the first civil registration or of a re-registration.",),
            "The registration document with all dates.",
        )
        return


def _beside(case: Case, mark: Claim, said: Claim) -> bool:
    """Whether the words stand beside the mark, in one sentence."""
    if mark.quote.field != said.quote.field:
        return False
    field = case.document.field(mark.quote.field)
    start, end = sorted((mark.quote.start, said.quote.start))
    between = field.text[start:end] if field else ""
    return end - start <= NEAR and not re.search(r"[.!?]\s", between)


def _vehicle(case: Case) -> tuple[Claim, int] | None:
    """(claim, last month) of the earliest date by which the vehicle was there: its identity number or first registration, else the stated year."""
    there = [(d.claim, max(s.last for s in d.spans)) for d in case.identity_readings] + _stated(case, "registered")
    if there:
        return min(there, key=lambda pair: pair[1])
    return max(_stated(case, "year", "built"), key=lambda pair: pair[1], default=None)


def _stated(case: Case, *kinds: str) -> list[tuple[Claim, int]]:
    return [(c, s.last) for c in case.said(*kinds) if c.part == "vehicle" and (s := stated_span(c))]
