"""A number is partly hidden, too short or too long, or given with doubt, so that nothing can rest on it.

Sellers hide figures for privacy; a number may be sent privately. A 17-character number one or two short is a slip.
"""

from collections.abc import Iterator

from auditor.case import IDENTITY_PARTS, Case, stated_span
from auditor.finding import DOUBT, GAP, Finding
from claims.claim import HEDGED, Claim
from claims.decode_standards import VIN_PARTS, VIN_SOURCE
from claims.standards import vin

ASK = "Could you send the whole {part} number (privately, if you prefer) and a photograph of it?"
ABOUT = "number"
NEARLY = (15, 16, 18)


def check(case: Case) -> Iterator[Finding]:
    """One finding for each number with hidden characters or nearly the length of a 17-character one."""
    seen: set[str] = set()
    for claims in case.numbers.values():
        for claim in claims:
            value = claim.value or ""
            if value in seen:
                continue
            seen.add(value)
            name = case.part_name(claim.part)
            if "?" in value:
                yield Finding(
                    "number_incomplete",
                    GAP,
                    f"{name.capitalize()} number {claim.quote.text} is partly hidden; it was not read.",
                    claim.part,
                    (claim,),
                    innocent=("Figures are often hidden for privacy.",),
                    settle=f"The whole {name} number.",
                )
            elif value.isdigit() and _lacks_prefix(case, claim):
                yield Finding(
                    "number_incomplete",
                    GAP,
                    f"{name.capitalize()} number {claim.quote.text} is given without its letters; it was not read.",
                    claim.part,
                    (claim,),
                    innocent=("Sellers often copy the figures alone.",),
                    settle=f"The whole {name} number as marked.",
                )
            elif claim.stance == HEDGED and claim.part in IDENTITY_PARTS:
                yield Finding(
                    "number_incomplete",
                    GAP,
                    f"{name.capitalize()} number {claim.quote.text} is given with doubt.",
                    claim.part,
                    (claim,),
                    innocent=("Worn or painted figures are hard to read.",),
                    settle=f"A photograph of the {name} number, lit from the side.",
                )
            elif _is_nearly_a_vin(case, claim):
                yield Finding(
                    "number_incomplete",
                    DOUBT,
                    f"{name.capitalize()} number {claim.quote.text} has {len(value)} characters, where {vin.LENGTH} are compulsory from model year {vin.FIRST_YEAR}.",
                    claim.part,
                    (claim,),
                    "vin",
                    (VIN_SOURCE,),
                    innocent=("A character left out or typed twice.",),
                    settle=f"A photograph of the {name} number.",
                )


def _is_nearly_a_vin(case: Case, claim: Claim) -> bool:
    if claim.part not in VIN_PARTS or len(claim.value or "") not in NEARLY:
        return False
    spans = [s for c in case.said("year", "built") if (s := stated_span(c))]
    return bool(spans) and all(s.first_year > vin.FIRST_YEAR for s in spans)


def _lacks_prefix(case: Case, claim: Claim) -> bool:
    """Whether every form that a named pack knows for this part carries letters, and none of them reads the number."""
    forms = [s for p in case.packs if p.forms == "closed" for s in p.schemes.values() if claim.part in {s.part, *s.also_parts}]
    return bool(forms) and not any(d.claim is claim for d in case.decodings)
