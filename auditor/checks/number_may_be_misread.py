"""A number that reads in no table would read if one common slip were undone.

The slip is named ("if the O is a zero"), never taken: the number stays as it is written, and nothing is dated by it.
It is a note, since a gap in a table explains such a number as well; only what the named families read is offered.
"""

from collections.abc import Iterator

from auditor.case import Case
from auditor.finding import NOTE, Finding
from claims.decode import is_readable
from claims.misreading import LOOKS, SHARES, misreadings
from claims.models_named import named_models

ASK = "Could you photograph the {part} number so large that every character can be told?"
ABOUT = "number"


def check(case: Case) -> Iterator[Finding]:
    """One note for each number, at its first place, with the slips that would make it read."""
    models, families, seen = named_models(case.claims), [p.id for p in case.packs], set()
    for claim in case.claims:
        if claim.kind != "number" or not is_readable(claim) or (claim.part, claim.value) in seen:
            continue
        seen.add((claim.part, claim.value))
        found = misreadings(claim, case.packs, families, models)
        if not found:
            continue
        part = case.part_name(claim.part)
        yield Finding(
            "number_may_be_misread",
            NOTE,
            f"{part.capitalize()} number {claim.quote.text} reads in no table as it is written; it would read {'; '.join(map(str, found))}.",
            claim.part,
            (claim,),
            found[0].decoding.rule,
            (*dict.fromkeys(s for m in found for s in m.decoding.sources), SHARES, LOOKS),
            False,
            (f"Slips of such a kind are {found[0].share} of those counted; the tables may have a gap, too.",),
            f"A photograph of the {part} number in which every character can be told.",
        )
