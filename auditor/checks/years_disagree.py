"""The headline, the form and the text give different years.

One year apart, headline against form, is a slip that many adverts carry: a doubt. A bare year up to three years later
than a stated date of building may be that of sale or papers: a doubt. "Built in 1974" in the prose of a listing
that speaks of other machines too, later than a bare year, may be the building of a special: a doubt. What papers say is a doubt at most.
"""

from collections.abc import Iterator

from auditor.case import Case, pairs, stated_span, years_later
from auditor.checks.number_dates_another_year import CUSTOM_YEARS, REBUILT_YEARS, SALE_YEARS
from auditor.finding import CONTRADICTION, DOUBT, Finding
from claims.claim import OTHER_ITEM, STATED, Claim
from extractors.document import ATTRIBUTE, TEXT, TITLE

ASK = "Two years are given, {years}. Where does each come from?"
ABOUT = "statement"
NAMES = frozenset({"maker", "model"})


def check(case: Case) -> Iterator[Finding]:
    """The widest pair of stated years that cannot both hold, one finding at most."""
    stated = [c for c in case.said("year", "built") if c.part == "vehicle" and not case.is_year_of_another(c)]
    mixed = bool(case.originality("composite", "replica")) or any(c.stance == OTHER_ITEM and c.kind in NAMES for c in case.claims)
    worst: tuple[int, Claim, Claim, str] | None = None
    for one, other in pairs(stated):
        apart, grade = _judged(one, other, mixed=mixed)
        if grade and (worst is None or apart > worst[0]):
            worst = (apart, one, other, grade)
    if worst:
        _, one, other, grade = worst
        yield Finding(
            "years_disagree",
            grade,
            f"“{one.quote.text}” in the {one.quote.field.removeprefix('attributes.')}, but “{other.quote.text}” in the {other.quote.field.removeprefix('attributes.')}.",
            "vehicle",
            (one, other),
            "",
            (),
            False,
            ("One may be the year of sale, papers or first registration; one may be a slip.",),
            "Where each year comes from: papers, plate or stamped number.",
        )


def _judged(one: Claim, other: Claim, *, mixed: bool) -> tuple[int, str]:
    """(years apart, grade or '') of two stated dates; `mixed` where the listing speaks of other machines' parts."""
    a, b = stated_span(one), stated_span(other)
    if a is None or b is None:
        return 0, ""
    apart = abs(years_later(a, [b]))
    if apart == 0 or (apart <= CUSTOM_YEARS and one.quote.field == other.quote.field):
        return 0, ""
    if apart <= CUSTOM_YEARS:
        return apart, DOUBT if {one.kind, other.kind} == {"year"} and {one.stance, other.stance} == {STATED} and _headline_and_form(
            one, other
        ) else ""
    if one.stance != STATED or other.stance != STATED:
        return apart, DOUBT
    year, built = (one, other) if one.kind == "year" else (other, one)
    if year.kind == "year" and built.kind == "built":
        later = years_later(stated_span(year) or a, [stated_span(built) or b])
        retold = mixed and later < -SALE_YEARS and built.quote.field == TEXT
        return apart, DOUBT if 0 < later <= SALE_YEARS or later < -REBUILT_YEARS or retold else CONTRADICTION
    return apart, CONTRADICTION


def _headline_and_form(one: Claim, other: Claim) -> bool:
    """Whether one year stands in the headline and the other in the form."""
    fields = sorted((one.quote.field, other.quote.field))
    return fields[1] == TITLE and fields[0].startswith(ATTRIBUTE)
