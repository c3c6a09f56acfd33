"""Numbers that follow a public standard, read before any pack: the 17-character vehicle identification number."""

from datetime import date

from claims.claim import Claim
from claims.pack_rows import Source
from claims.period import model_year
from claims.reading_of_number import CHECK_FAILS, Decoding, Reading
from claims.standards import vin

VIN_SOURCE = Source("49 CFR 565", "49 CFR 565.15 (check digit, year code)", "published", "US Department of Transportation")
VIN_CUSTOM = Source("VIN year, customary", "year code outside North America: customary, from memory", "memory")
VIN_PARTS = ("vehicle", "frame", "unknown", "plate")
YEAR_CODE_USERS = ("WVW", "WV1", "WV2", "WVG", "WAU")
"""Maker codes outside North America that are known to use place 10 for the year (facts, vw_german; WVG and WAU from memory)."""
NEVER_IN_A_VIN = "IOQ"


def decode_standard(claim: Claim) -> Decoding | None:
    """The reading of a number that is well formed by a public standard, or None."""
    number = claim.value or ""
    if len(number) != vin.LENGTH or claim.part not in VIN_PARTS or not any(c.isdigit() for c in number):
        return None
    repaired = ""
    if any(c in NEVER_IN_A_VIN for c in number):
        mended = number.replace("O", "0").replace("Q", "0").replace("I", "1")
        repaired, number = f"read {mended}: I, O and Q are never used in a 17-character number", mended
    if len(set(number)) < 4:
        return None
    try:
        read = vin.decode(number)
    except ValueError:
        return None
    rule = "vin"
    if read.check_required and not read.check_holds:
        detail = f"check digit {number[8]} where the other characters give {vin.check_digit(number)}"
        return Decoding(claim, number, claim.part, rule, failure=CHECK_FAILS, detail=detail, sources=(VIN_SOURCE,), repaired=repaired)
    if not read.check_required and not read.check_holds and number[:3] not in YEAR_CODE_USERS:
        said = (("country", read.country),) if read.country else ()
        return Decoding(
            claim, number, claim.part, rule, readings=(Reading(None, "", "", (VIN_SOURCE,)),), sources=(VIN_SOURCE,), repaired=repaired, said=said
        )
    source = VIN_SOURCE if read.check_required else VIN_CUSTOM
    years = sorted({*read.model_years, *(y + vin.CYCLE for y in read.model_years), *(y - vin.CYCLE for y in read.model_years)})
    possible = [y for y in years if 1980 <= y <= date.today().year + 1]
    readings = tuple(Reading(model_year(y), f"model year {y}", "", (source,), reason=f"year code {number[9]}") for y in possible)
    said = (("country", read.country),) if read.country else ()
    return Decoding(claim, number, claim.part, rule, readings=readings, sources=(source,), repaired=repaired, said=said)
