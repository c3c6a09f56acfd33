"""The structured truth of a simulated advert as evidence, without any reading: what a perfect reader would give."""

from auditor.origin.evidence import CASTING, FEATURE, MAKER, NUMBER, SILENCE, STATEMENT, YEAR, Evidence
from claims.claim import compact
from claims.pack import Pack
from tests.simulated.sellers import Told
from tests.simulated.vehicles import QF

_MONTHS = "ABCDEFGHJKLM"


def as_evidence(told: Told, pack: Pack) -> list[Evidence]:
    """The evidence of an advert."""
    out = [Evidence(NUMBER, part, compact(number).replace("X", "?"), part in told.hedged) for part, number in told.numbers.items()]
    out += [Evidence(FEATURE, pack.features[f].part, f"{f}={v}") for f, v in told.features.items()]
    out += [Evidence(CASTING, part, *_cast(part, code)) for part, code in told.castings.items()]
    out += [Evidence(STATEMENT, part, what) for what, part in sorted(told.statements)]
    if told.year:
        out.append(Evidence(YEAR, "vehicle", f"{told.year}/{told.year}"))
    if told.maker:
        out.append(Evidence(MAKER, "vehicle", told.maker))
    return [*out, Evidence(STATEMENT, "vehicle", SILENCE)]


def _cast(part: str, code: str) -> tuple[str, bool, bool, bool, tuple[()], str]:
    from tests.simulated.vehicles import OP, _thursday

    if part == "axle":
        month, year = code.split(".")
        return f"19{year}-{int(month):02d}", False, False, False, (), ""
    if "/" in code:
        week, year = code.split("/")
        return _thursday(1900 + int(year), int(week)), False, False, False, (), QF
    decade = "192" if code[1] in "89" else "193"
    return f"{decade}{code[1]}-{_MONTHS.index(code[0]) + 1:02d}", False, False, False, (), OP
