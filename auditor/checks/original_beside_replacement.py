"""A part is called original, or the whole unrestored, beside words that it was restored or replaced.

Said of one part it cannot both hold; "original" of the whole beside one exchanged part is a doubt, since people use
the word loosely.
"""

import re
from collections.abc import Iterator

from auditor.case import Case
from auditor.finding import CONTRADICTION, DOUBT, Finding
from claims.claim import DENIED, STATED, Claim

ASK = "What has been replaced or restored, when, and what is known to be as first fitted?"
ABOUT = "statement"
_EXCEPT = re.compile(r"\b(?:except|apart from|bar|but for|other than|save for|aside from|only|but)\b", re.IGNORECASE)
_KEPT = re.compile(
    r"\b(?:goes with|go with|comes with|included|in the (?:shed|crate|boot|garage)|on a pallet|available|put (?:it )?back|refitted|back in|as a spare)\b",
    re.IGNORECASE,
)
NEAR = 90
CHANGED = ("replaced", "reproduction")
SINGLE = ("engine", "gearbox", "frame", "axle", "plate", "hull")
"""Parts of which a vehicle has one; panels and components may differ among themselves."""


def check(case: Case) -> Iterator[Finding]:
    """Each pair once: unrestored and restored; original and replaced of one part; matching numbers and another engine."""
    restored = list(case.originality("restored", parts=["vehicle"])) + [c for c in case.said("restored") if c.part == "vehicle"]
    denied = [c for c in case.said("originality", stances=("denied",)) if c.value == "restored"]
    for claim in (*case.originality("unrestored"), *denied)[:1]:
        if restored:
            yield _finding(case, claim, max(restored, key=lambda c: (c.kind == "originality", len(c.quote.text))), "vehicle", CONTRADICTION)
    for claim in case.originality("original"):
        changed = case.originality(*CHANGED, parts=[claim.part])
        if claim.part in SINGLE and changed and not _is_kept_beside(case, claim, changed[0]):
            yield _finding(case, claim, changed[0], claim.part, CONTRADICTION)
            break
    changed = case.originality("replaced", "reproduction", parts=["engine", "frame"])
    for claim in case.originality("matching_numbers")[:1]:
        if changed:
            yield _finding(case, claim, changed[0], changed[0].part, CONTRADICTION)
    whole = list(case.originality("original", "unrestored", parts=["vehicle"]))
    major = case.originality(*CHANGED, parts=["engine", "frame", "gearbox", "body"])
    if whole and major and not _is_excepted(case, whole[0], major[0]):
        yield _finding(case, whole[0], major[0], major[0].part, DOUBT)


def _is_kept_beside(case: Case, one: Claim, other: Claim) -> bool:
    """Whether the words around say that the first part goes along, or was put back."""
    for quote in (one.quote, other.quote):
        field = case.document.field(quote.field)
        if field and _KEPT.search(field.text[max(0, quote.start - NEAR) : quote.end + NEAR]):
            return True
    return False


def _is_excepted(case: Case, whole: Claim, part: Claim) -> bool:
    """Whether the words between say "except": original but for what is then named."""
    field = case.document.field(whole.quote.field)
    if field is None or whole.quote.field != part.quote.field:
        return False
    start, end = sorted((whole.quote.end, part.quote.start))
    return bool(_EXCEPT.search(field.text[start:end]))


def _finding(case: Case, one: Claim, other: Claim, part: str, grade: str) -> Finding:
    sure = one.stance in (STATED, DENIED) and other.stance == STATED
    what = "the whole" if part == "vehicle" else f"the {case.part_name(part)}"
    return Finding(
        "original_beside_replacement",
        grade if sure else DOUBT,
        f"“{one.quote.text}” and “{other.quote.text}” are both said of {what}.",
        part,
        (one, other),
        "",
        (),
        False,
        ("“Original” is often used loosely: of the type, or of most parts.",),
        "A list of what was replaced or restored, and when.",
    )
