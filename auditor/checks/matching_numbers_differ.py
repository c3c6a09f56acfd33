"""Numbers are said to match, but differ where the maker made them equal.

"Matching numbers" has no agreed meaning, so a difference counts only for parts and years in which the maker gave both
parts one number. Without the claim, such a difference is a note: the part was probably not first fitted.
"""

from collections.abc import Iterator

from auditor.case import Case
from auditor.checks.numbers_of_one_part_differ import may_be_same, same_as_read
from auditor.finding import CONTRADICTION, DOUBT, NOTE, Finding
from claims.claim import STATED, Claim
from claims.pack import Pack
from claims.pack_rows import Equality

ASK = "What exactly is marked on the {part}, and where on it? A photograph of the place would help."
ABOUT = "number"


def check(case: Case) -> Iterator[Finding]:
    """Compare the numbers of every pair of parts that a named pack calls equal when new."""
    for pack in case.packs:
        for equality in pack.equalities:
            if case.is_owned_up(equality.part_a) or case.is_owned_up(equality.part_b):
                continue
            ones, others = case.numbers.get(equality.part_a, []), case.numbers.get(equality.part_b, [])
            if ones and others and case.equality_holds(pack, equality) and not any(_equal(case, equality, a, b) for a in ones for b in others):
                yield _finding(case, pack, equality, ones[0], others[0])


def _equal(case: Case, equality: Equality, a: Claim, b: Claim) -> bool:
    if equality.relation == "same serial":
        serials = [{s for d in case.decodings if d.claim is c and (s := d.groups.get("serial"))} for c in (a, b)]
        if serials[0] and serials[1]:
            return bool(serials[0] & serials[1])
    return may_be_same(a.value or "", b.value or "") or same_as_read(case, a, b)


def _finding(case: Case, pack: Pack, equality: Equality, a: Claim, b: Claim) -> Finding:
    vouched = [c for c in case.originality("matching_numbers") if c.part in {"vehicle", equality.part_a, equality.part_b}]
    sure = any(c.stance == STATED for c in vouched) and a.stance == b.stance == STATED
    plate = "plate" in (equality.part_a, equality.part_b)
    grade = CONTRADICTION if sure else DOUBT if vouched or plate else NOTE
    names = case.part_name(equality.part_a), case.part_name(equality.part_b)
    said = "Numbers are said to match, but" if vouched else "The maker gave both one number when new, but"
    return Finding(
        "matching_numbers_differ",
        grade,
        f"{said} {names[0]} {a.quote.text} and {names[1]} {b.quote.text} differ; new, they bore the {equality.relation} ({equality.from_month} to {equality.to_month}).",
        equality.part_a,
        (*vouched[:1], a, b),
        f"{pack.id}/{equality.equality}",
        (pack.source(equality.source_id),),
        equality.standing != "firm",
        case.innocent("matching_numbers_differ", equality.part_a) or ("The part may have been exchanged in service.",),
        "Photographs of both numbers where they are marked.",
    )
