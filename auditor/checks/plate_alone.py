"""The plate is the only witness of the identity number, although the number is also stamped elsewhere.

A riveted plate moves easily and is sold new. It is said only where the pack knows another place where the number is.
"""

from collections.abc import Iterator

from auditor.case import Case
from auditor.finding import GAP, Finding

ASK = "Besides the plate, where is the number marked on the {part}? Please photograph it there ({where})."
ABOUT = "number"
PLATE = "plate"


def check(case: Case) -> Iterator[Finding]:
    """One finding where a plate number is given, the part that carries the identity has none, and it is stamped."""
    plates = case.numbers.get(PLATE, [])
    for pack in case.packs:
        identity = pack.parts.get(pack.identity)
        if not plates or identity is None or pack.identity in {PLATE, "unknown"} or pack.identity in case.numbers or "vehicle" in case.numbers:
            continue
        stamped = [p for p in pack.places if p.part == pack.identity and p.method != "cast"]
        if not stamped:
            continue
        yield Finding(
            "plate_alone",
            GAP,
            f"{plates[0].quote.text} is read off the plate; the {identity.name} bears the number too, and none is given.",
            pack.identity,
            (plates[0],),
            f"{pack.id}/place",
            (pack.source(stamped[0].source_id),),
            False,
            ("The plate is what a seller sees first.",),
            f"A photograph of the number on the {identity.name}.",
        )
        return
