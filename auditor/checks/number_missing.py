"""A number that would be needed is not given: one line for all parts that have none.

Most private adverts give no number at all, so that a gap is no mark against a seller; it is the first thing to ask.
"""

from collections.abc import Iterator

from auditor.case import IDENTITY_PARTS, Case
from auditor.finding import GAP, Finding
from claims.standards import vin

ASK = "Could you photograph the {part} number where it is marked ({where}), with a dated note beside it?"
ABOUT = "number"


def check(case: Case) -> Iterator[Finding]:
    """One finding that names every part of the family that is numbered and has no number here."""
    if not case.said("maker", "model", "year", "built", "number"):
        return
    wanted = list(dict.fromkeys(p.part for pack in case.packs for p in pack.parts.values() if p.numbered == "yes"))
    given = set(case.numbers)
    if any(len(c.value or "") == vin.LENGTH for c in (*case.numbers.get("vehicle", []), *case.numbers.get("frame", []))):
        return
    if not wanted:
        missing = [] if given & {*IDENTITY_PARTS, "plate", "engine"} else ["frame"]
    else:
        missing = [part for part in wanted if part not in given and not (part in IDENTITY_PARTS and "vehicle" in given)]
    if not missing:
        return
    none = [c for c in case.said("number", stances=("stated", "hedged", "reported", "denied")) if c.value is None and c.part in {*missing, "vehicle"}]
    names = " and ".join(case.part_name(part) for part in missing)
    yield Finding(
        "number_missing",
        GAP,
        f"No number is given for {names}.",
        missing[0],
        tuple(none[:2]),
        innocent=("Most private adverts give no number.",),
        settle=f"Photographs of the {names} number{'s' if len(missing) > 1 else ''}.",
    )
