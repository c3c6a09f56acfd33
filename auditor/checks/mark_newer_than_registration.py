"""A registration mark was issued later than the stated first registration.

A mark may lawfully make a vehicle look older, never newer: one whose year begins after the vehicle was first registered
in that country cannot be its first mark, and dated marks are not put on older vehicles. A registration that is not said
to be the first is a doubt, and where a private or transferred mark is spoken of the check is silent.
"""

import re
from collections.abc import Iterator

from auditor.case import Case, stated_span
from auditor.finding import CONTRADICTION, DOUBT, Finding
from auditor.marks import issued
from claims.claim import STATED, Claim

ASK = "Which dates of registration do the papers show, and has the mark ever been changed?"
ABOUT = "papers"
ROOM_MONTHS = 1
BEFORE = 45
_FIRST = re.compile(r"\b(?:first|1st|new|originally)\b", re.IGNORECASE)
_TRANSFERRED = re.compile(
    r"\b(?:private|cherished|personal(?:ised)?|transferred|age[- ]related|re-?registered|number plate is off|dateless|import(?:ed)?|came (?:over|here|back)|shipped (?:back|over)|(?:mark|plate) (?:that )?was sold|new mark|original mark)\b",
    re.IGNORECASE,
)


def check(case: Case) -> Iterator[Finding]:
    """Compare each dated mark with each stated date of registration."""
    if any(_TRANSFERRED.search(f.text) for f in case.document.fields):
        return
    for mark in case.numbers.get("registration", []):
        found = issued(case, mark)
        if found is None:
            continue
        period, source = found
        for claim in case.said("registered"):
            stated = stated_span(claim)
            if claim.part != "vehicle" or stated is None or period.first - stated.last <= ROOM_MONTHS:
                continue
            sure = claim.stance == STATED and mark.stance == STATED and is_first(case, claim)
            yield Finding(
                "mark_newer_than_registration",
                CONTRADICTION if sure else DOUBT,
                f"Mark {mark.quote.text} is of {period}, but “{claim.quote.text}” is stated as registration.",
                "registration",
                (mark, claim),
                "uk_mark",
                (source,),
                False,
                ("The vehicle may have been re-registered or imported; the date may be of another paper.",),
                "The registration document with all dates.",
            )
            return


def is_first(case: Case, claim: Claim) -> bool:
    """Whether a date is said to be that of the first registration: by the form's label or the words before it."""
    field = case.document.field(claim.quote.field)
    before = field.text[max(0, claim.quote.start - BEFORE) : claim.quote.start] if field else ""
    return bool(_FIRST.search(before) or (field and field.is_attribute and _FIRST.search(field.label)))
