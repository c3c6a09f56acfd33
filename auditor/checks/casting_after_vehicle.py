"""A casting or component code is younger than the vehicle whose original part it is said to be.

Such a code is an earliest date: the part may be older than the vehicle by months, never younger. Without the word
"original" (or matching numbers) a younger component is no conflict, since components are replaced; then it is a note
(nothing at all for a tyre, unless the tyres themselves are called original).
"""

from collections.abc import Iterator

from auditor.case import Case, stated_span
from auditor.checks.number_dates_another_year import CUSTOM_YEARS, EVENT_MONTHS
from auditor.finding import CONTRADICTION, DOUBT, NOTE, Finding
from claims.claim import STATED, Claim
from claims.reading_of_number import Decoding
from claims.standards.edtf import Span, month_text

ASK = "Could you photograph the cast or stamped code on the {part}?"
ABOUT = "casting"
TYRE = "tyre"


def check(case: Case) -> Iterator[Finding]:
    """Compare each dated code with the vehicle's latest possible date."""
    for decoding in case.castings:
        if decoding.failure or not decoding.spans:
            continue
        against, latest, dated = _vehicle(case)
        if against is None or case.is_owned_up(decoding.part):
            continue
        earliest = min(s.first for s in decoding.spans)
        room = EVENT_MONTHS if dated else 12 * CUSTOM_YEARS
        if earliest - latest <= room + 12 * decoding.slack_years:
            continue
        if decoding.part == TYRE and not case.originality("original", parts=[TYRE]):
            continue
        yield _finding(case, decoding, against, earliest)


def _vehicle(case: Case) -> tuple[Claim | None, int, bool]:
    """(claim, last month it allows, whether it is a number) that dates the vehicle."""
    if case.identity_readings:
        best = case.identity_readings[0]
        return best.claim, max(s.last for d in case.identity_readings for s in d.spans), True
    years: list[tuple[Claim, Span]] = [(c, s) for c in case.said("year", "built") if c.part == "vehicle" and (s := stated_span(c))]
    if not years:
        return None, 0, False
    claim, span = max(years, key=lambda pair: pair[1].last)
    return claim, span.last, False


def _finding(case: Case, decoding: Decoding, against: Claim, earliest: int) -> Finding:
    vouched = [c for c in case.originality("original", "matching_numbers") if c.part in {decoding.part, "vehicle"}]
    sure = any(c.stance == STATED and (c.part == decoding.part or c.value == "matching_numbers") for c in vouched)
    grade = CONTRADICTION if sure and decoding.claim.stance == STATED else DOUBT if vouched else NOTE
    part = case.part_name(decoding.part)
    said = f", while “{vouched[0].quote.text}” is said" if vouched else ""
    return Finding(
        "casting_after_vehicle",
        grade,
        f"The code {decoding.claim.quote.text} on the {part} is of {month_text(earliest)} at the earliest, later than “{against.quote.text}”{said}.",
        decoding.part,
        (decoding.claim, against, *vouched[:1]),
        decoding.rule,
        tuple(dict.fromkeys(s for r in decoding.readings for s in r.sources)),
        False,
        ("Components are replaced in service; the code may be misread.",),
        f"A photograph of the code on the {part}.",
    )
