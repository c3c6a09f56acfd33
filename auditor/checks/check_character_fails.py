"""The check digit or letter of a number does not agree with its other characters, where one is compulsory.

A check character finds slips in copying, so the first explanation is always a misreading; but the number as it stands
was never issued.
"""

from collections.abc import Iterator

from auditor.case import Case
from auditor.finding import CONTRADICTION, DOUBT, Finding
from claims.claim import HEDGED
from claims.reading_of_number import CHECK_FAILS

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
        optional = decoding.scheme is not None and not decoding.scheme.check_compulsory
        yield Finding(
            "check_character_fails", DOUBT if optional or decoding.claim.stance == HEDGED else CONTRADICTION,
            f"{part.capitalize()} number {decoding.claim.quote.text}: {decoding.detail}; as written it was never issued.",
            decoding.part, (decoding.claim,), decoding.rule, decoding.sources, False,
            case.innocent("check_character_fails", decoding.part) or ("A figure misread or mistyped.",),
            f"A photograph of the {part} number where it is marked.",
        )  # fmt: skip
