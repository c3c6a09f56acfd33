"""A number lies in a block that was never used, outside every known range, or does not go with its own prefix.

Outside the tables is a doubt, since tables have gaps; it is a contradiction only where the pack calls the range closed
or the block never used. On a part that is easily exchanged it stays a doubt unless the seller vouches for it.
"""

from collections.abc import Iterator

from auditor.case import Case
from auditor.finding import CONTRADICTION, DOUBT, Finding
from claims.claim import STATED
from claims.reading_of_number import CHECK_FAILS, NO_SCHEME, OUTSIDE, Decoding

ASK = "Please copy the {part} number exactly as it is marked, with every letter and space, and photograph it."
ABOUT = "number"


def check(case: Case) -> Iterator[Finding]:
    """One finding for each number that no reading fits, other than for its check character."""
    seen: set[tuple[str, str]] = set()
    for decoding in case.decodings:
        if not decoding.failure or decoding.failure == CHECK_FAILS or (decoding.part, decoding.number) in seen:
            continue
        seen.add((decoding.part, decoding.number))
        part = case.part_name(decoding.part)
        yield Finding(
            "number_never_issued",
            _grade(case, decoding),
            f"{part.capitalize()} number {decoding.claim.quote.text}: {decoding.detail}.",
            decoding.part,
            (decoding.claim,),
            decoding.rule,
            decoding.sources,
            False,
            case.innocent("number_never_issued", decoding.part) or ("A figure misread or mistyped; a gap in the table.",),
            f"A photograph of the stamped {part} number, lit from the side.",
        )


def _grade(case: Case, decoding: Decoding) -> str:
    if decoding.failure == NO_SCHEME or decoding.claim.stance != STATED:
        return DOUBT
    if decoding.failure == OUTSIDE and not (decoding.scheme and decoding.scheme.closed):
        return DOUBT
    firm = case.carries_identity(decoding) or case.is_held_original(decoding.part)
    return CONTRADICTION if firm else DOUBT
