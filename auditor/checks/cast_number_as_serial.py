"""A raised (cast) part number is quoted as the serial, or a number is given for a part that was not numbered.

Stamped figures are the serial; raised ones are drawing or casting numbers, the same on every part. It is an honest
mistake nearly always, and the number then says nothing.
"""

from collections.abc import Iterator

from auditor.case import Case, stated_span
from auditor.finding import DOUBT, Finding
from claims.claim import compact
from claims.standards import edtf

ASK = "Are the figures on the {part} stamped into the metal, or raised with the casting? Please photograph them."
ABOUT = "number"
CAST = "cast"


def check(case: Case) -> Iterator[Finding]:
    """Two ways: the number is one of the pack's cast part numbers; the pack says that the part bore none then."""
    for pack in case.packs:
        cast = {number: place for place in pack.places if place.method == CAST for number in place.cast_numbers}
        for part, claims in case.numbers.items():
            for claim in claims:
                place = next((p for n, p in cast.items() if compact(n) == claim.value), None)
                if place:
                    yield Finding(
                        "cast_number_as_serial",
                        DOUBT,
                        f"{claim.quote.text} is a cast part number ({place.place}), not the {case.part_name(part)}'s own.",
                        part,
                        (claim,),
                        f"{pack.id}/place",
                        (pack.source(place.source_id),),
                        False,
                        ("Raised figures are often taken for the serial.",),
                        f"A photograph of the stamped {case.part_name(part)} number.",
                    )
            row = pack.parts.get(part)
            if row and row.unnumbered and _lies_within(case, row.unnumbered):
                yield Finding(
                    "cast_number_as_serial",
                    DOUBT,
                    f"A {row.name} number is given, but the maker did not number the {row.name} ({row.unnumbered}).",
                    part,
                    (claims[0],),
                    f"{pack.id}/part",
                    (pack.source(row.source_id),),
                    False,
                    ("The number of the engine or of the papers may be meant.",),
                    f"A photograph of the place where the {row.name} number is said to be.",
                )


def _lies_within(case: Case, period: str) -> bool:
    """Whether every stated year and reading lies in the period; False where nothing dates the vehicle."""
    span = edtf.decode(period)
    known = [s for c in case.said("year", "built") if c.part == "vehicle" and (s := stated_span(c))]
    known += [s for d in case.decodings for s in d.spans]
    return bool(known) and all(span.first <= s.first and s.last <= span.last for s in known)
