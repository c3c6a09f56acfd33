"""The check digit or letter of a number does not agree with its other characters, where one is compulsory.

A check character finds slips in copying, so the first explanation is always a misreading; but the number as it stands
was never issued.
"""

from collections.abc import Iterator

from auditor.case import Case, stated_span
from auditor.finding import CONTRADICTION, DOUBT, Finding
from claims.claim import STATED
from claims.reading_of_number import CHECK_FAILS
from claims.standards import vin

ASK = "Please copy the {part} number once more, character by character, and photograph it where it is marked."
ABOUT = "number"


def check(case: Case) -> Iterator[Finding]:
    """One finding for each number whose check character fails."""
    seen: set[str] = set()
    for decoding in case.decodings:
        if decoding.failure != CHECK_FAILS or decoding.number in seen:
            continue
        seen.add(decoding.number)
        part = case.part_name(decoding.part)
        if (decoding.rule == "vin" and is_before_the_rule(case)) or case.is_owned_up(decoding.part):
            continue
        firm = case.carries_identity(decoding) or bool(case.is_held_original(decoding.part))
        optional = decoding.scheme is not None and not decoding.scheme.check_compulsory
        yield Finding(
            "check_character_fails",
            CONTRADICTION if firm and not optional and decoding.claim.stance == STATED else DOUBT,
            f"{part.capitalize()} number {decoding.claim.quote.text}: {decoding.detail}; as written it was never issued.",
            decoding.part,
            (decoding.claim,),
            decoding.rule,
            decoding.sources,
            False,
            case.innocent("check_character_fails", decoding.part) or ("A figure misread or mistyped.",),
            f"A photograph of the {part} number where it is marked.",
        )


def is_before_the_rule(case: Case) -> bool:
    """Whether every stated year lies before the 17-character form was compulsory: its number was then assigned later."""
    spans = [s for c in case.said("year", "built") if c.part == "vehicle" and (s := stated_span(c))]
    return bool(spans) and all(s.last_year < vin.FIRST_YEAR for s in spans)
