"""A number dates its part to another year than the listing states.

The number's table and the stated year are compared with every reading of either; a miss within the table's slack and
one calendar year is silence. The sides are not alike: a bare year later than the number is often the year of sale,
papers or first registration (doubt for two or three years), one earlier than the number can be is a contradiction.
Engines, gearboxes and plates are exchanged: a conflict on their number alone is a doubt, unless the seller vouches
for the part; a part that dates apart while the frame agrees is a note.
"""

from collections.abc import Iterator

from auditor.case import Case, is_dated_to_month, stated_span, years_later
from auditor.finding import CONTRADICTION, DOUBT, NOTE, Finding
from claims.claim import HEDGED, REPORTED, STATED, Claim
from claims.reading_of_number import Decoding
from claims.standards import vin
from claims.standards.edtf import Span

ASK = "Where does the year {year} come from: the papers, a plate, or a stamped number?"
ABOUT = "statement"

CUSTOM_YEARS = 1
SALE_YEARS = 3
"""Years by which a bare year may be later and still be the year of sale or papers: a doubt, no contradiction."""
EVENT_MONTHS = 6
REBUILT_YEARS = 20
"""Nobody builds so long after a number: "built" then means a special, a rebuilding or a replica."""


def check(case: Case) -> Iterator[Finding]:
    """Compare each dated number with each stated year or date of building of its part or of the vehicle."""
    for decoding in case.decodings:
        if not decoding.spans or decoding.is_later_part or case.alternatives(decoding)[0] is not decoding or case.is_owned_up(decoding.part):
            continue
        for claim in _comparable(case, decoding):
            grade = _grade(case, decoding, claim)
            if grade:
                yield _finding(case, decoding, claim, grade)
                break


def _comparable(case: Case, decoding: Decoding) -> list[Claim]:
    parts = {decoding.part, "vehicle"}
    return [c for c in case.said("year", "built") if c.part in parts and not case.is_year_of_another(c)]


def _grade(case: Case, decoding: Decoding, claim: Claim) -> str:
    """The grade of a conflict between a number and a stated date, or an empty string."""
    stated = stated_span(claim)
    if stated is None:
        return ""
    spans = case.spans(decoding)
    later = years_later(stated, spans)
    grade = _grade_of_miss(later, decoding.slack_years, claim, stated, spans)
    if not grade:
        return ""
    if decoding.rule == "vin" and stated.last_year < vin.FIRST_YEAR:
        grade = DOUBT
    if grade == CONTRADICTION and claim.kind == "built" and later > REBUILT_YEARS:
        grade = DOUBT
    if grade == CONTRADICTION and (claim.stance in (HEDGED, REPORTED) or decoding.claim.stance != STATED or _is_usual_late_year(case, claim, later)):
        grade = DOUBT
    if case.carries_identity(decoding):
        return grade
    if claim.part == decoding.part or case.is_held_original(decoding.part):
        return grade
    agreeing = [d for d in case.identity_readings if years_later(stated, d.spans) == 0]
    return NOTE if agreeing else DOUBT


def _grade_of_miss(later: int, slack: int, claim: Claim, stated: Span, spans: tuple[Span, ...]) -> str:
    if claim.kind == "built" and is_dated_to_month(claim):
        months = min(max(r.first - stated.last, stated.first - r.last, 0) for r in spans)
        return CONTRADICTION if months > EVENT_MONTHS + 12 * slack else ""
    miss = abs(later) - slack
    if miss <= CUSTOM_YEARS:
        return ""
    return DOUBT if claim.kind == "year" and 0 < later <= SALE_YEARS + slack else CONTRADICTION


def _is_usual_late_year(case: Case, claim: Claim, later: int) -> bool:
    """Whether the stated year is one that a pack knows as the usual year of papers."""
    if later <= 0 or claim.kind != "year":
        return False
    span = stated_span(claim)
    known = [
        stated_span(Claim("year", "vehicle", t.years, STATED, claim.quote))
        for p in case.packs
        for t in p.traps
        if t.years and t.kind == "late_registration"
    ]
    return span is not None and any(k and k.first <= span.first and span.last <= k.last for k in known)


def _finding(case: Case, decoding: Decoding, claim: Claim, grade: str) -> Finding:
    periods = " or ".join(dict.fromkeys(r.period for d in case.alternatives(decoding) for r in d.readings))
    part = case.part_name(decoding.part)
    name = "number_dates_another_year"
    innocent = list(case.innocent(name, decoding.part))
    prefix = decoding.groups.get("contract", "")
    if not (prefix and (claim.value or "")[2:4] == prefix):
        innocent = [text for text in innocent if "contract number" not in text]
    if not innocent:
        innocent = ["The stated year may be that of sale, papers or first registration; the number may be misread."]
    vouching = [] if case.carries_identity(decoding) else case.is_held_original(decoding.part)[:1]
    vouched = f", and “{vouching[0].quote.text}” is said" if vouching else ""
    return Finding(
        name,
        grade,
        f"“{claim.quote.text}” is stated, but {part} number {decoding.claim.quote.text} dates to {periods}{vouched}.",
        decoding.part,
        (claim, decoding.claim, *vouching),
        decoding.rule,
        tuple(dict.fromkeys(s for r in decoding.readings for s in r.sources)),
        any(r.weak for r in decoding.readings),
        tuple(innocent),
        f"A photograph of the stamped {part} number, and where the stated year comes from.",
    )
