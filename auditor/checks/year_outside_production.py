"""The stated year lies outside the years in which the model was built.

A year before the first machine cannot be the year of building. One after the last is often that of papers or sale:
a doubt for three years, and for as long as the pack knows such years to be usual.
"""

from collections.abc import Iterator

from auditor.case import Case, stated_span, years_later
from auditor.checks.number_dates_another_year import ABOUT as ABOUT
from auditor.checks.number_dates_another_year import CUSTOM_YEARS, SALE_YEARS, _is_usual_late_year
from auditor.finding import CONTRADICTION, DOUBT, Finding
from claims.claim import STATED, Claim
from claims.pack import Pack
from claims.standards import edtf
from claims.standards.edtf import Span

ASK = "Where does the year {year} come from: the papers, a plate, or a stamped number?"


def check(case: Case) -> Iterator[Finding]:
    """Compare stated years with the production of the stated model, or of the family where no model has a span."""
    for pack in case.packs:
        span, what, source, named = _production(case, pack)
        if span is None:
            continue
        if any(c.part == "vehicle" for c in case.originality("replica", "composite")):
            continue
        for claim in case.said("year", "built"):
            stated = stated_span(claim)
            if claim.part != "vehicle" or stated is None:
                continue
            later = years_later(stated, [span])
            if abs(later) <= CUSTOM_YEARS + pack.slack_years:
                continue
            soft = claim.stance != STATED or (claim.kind == "year" and 0 < later <= SALE_YEARS) or _is_usual_late_year(case, claim, later)
            yield Finding(
                "year_outside_production",
                DOUBT if soft else CONTRADICTION,
                f"“{claim.quote.text}” is stated, but {what} was built {span}.",
                "vehicle",
                (claim, *sorted(named, key=lambda c: c.quote.field != claim.quote.field)[:1]),
                f"{pack.id}/production",
                (pack.source(source),),
                False,
                case.innocent("year_outside_production", "vehicle") or ("The year of sale, papers or first registration.",),
                "Where the stated year comes from; a photograph of the stamped number.",
            )
            break


def _production(case: Case, pack: Pack) -> tuple[Span | None, str, str, list[Claim]]:
    models: list[Claim] = [c for c in case.said("model") if c.part == "vehicle"]
    known = {n.canonical for n in pack.names}
    named = {c.value for c in models} & {n.canonical for n in pack.models}
    if len(named) > 1:
        return None, "", "", []
    for name in pack.models:
        if (name.from_ or name.to) and name.canonical in named:
            return edtf.decode(f"{name.from_}/{name.to}"), f"the {name.canonical}", name.source_id, [c for c in models if c.value == name.canonical]
    return (
        pack.production_span(),
        f"the {pack.family.partition(' (')[0]}",
        "",
        [c for kind in ("model", "maker") for c in case.said(kind) if c.value in known and c.part == "vehicle"],
    )
