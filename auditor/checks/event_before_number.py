"""A dated event (sold new, delivered, first registered, raced, served) comes before the number can have been used.

A vehicle cannot be sold, delivered or registered before it was built; the number's earliest date stands against it.
Events with a month may miss by six months, those with a year alone by one calendar year and the table's slack.
"""

from collections.abc import Iterator

from auditor.case import Case, is_dated_to_month, months_before, stated_span
from auditor.checks.number_dates_another_year import CUSTOM_YEARS, EVENT_MONTHS
from auditor.finding import CONTRADICTION, DOUBT, Finding
from claims.claim import STATED

ASK = "What document gives the date {year}, and which number does it name?"
ABOUT = "papers"


def check(case: Case) -> Iterator[Finding]:
    """Compare each event with every reading of each number that stands for the whole."""
    for decoding in case.identity_readings:
        if case.is_owned_up(decoding.part):
            continue
        for claim in case.said("registered", "delivered", "used"):
            event = stated_span(claim)
            if claim.part != "vehicle" or event is None:
                continue
            if is_dated_to_month(claim):
                early = months_before(event, case.spans(decoding)) > EVENT_MONTHS + 12 * decoding.slack_years
            else:
                early = min(s.first_year for s in case.spans(decoding)) - event.last_year > CUSTOM_YEARS + decoding.slack_years
            if not early:
                continue
            part = case.part_name(decoding.part)
            periods = " or ".join(dict.fromkeys(r.period for r in decoding.readings))
            yield Finding(
                "event_before_number",
                CONTRADICTION if claim.stance == STATED and decoding.claim.stance == STATED else DOUBT,
                f"“{claim.quote.text}” ({claim.kind}) lies before {part} number {decoding.claim.quote.text} can have been used: {periods}.",
                decoding.part,
                (claim, decoding.claim),
                decoding.rule,
                tuple(dict.fromkeys(s for r in decoding.readings for s in r.sources)),
                any(r.weak for r in decoding.readings),
                case.innocent("event_before_number", decoding.part)
                or ("The date may be of another vehicle with the same papers; the number may be misread.",),
                "The document with the date, and a photograph of the stamped number.",
            )
            break
