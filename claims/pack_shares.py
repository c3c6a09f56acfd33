"""The shares that belief needs from a pack, read on demand: production, part priors, later sources, statements, lags.

Every table is optional; `shares_of(pack)` is None where production or part priors are not known, and then no
probability is given for that family.
"""

from dataclasses import dataclass, field
from functools import lru_cache

from claims.pack import BadPack, Pack


@dataclass(frozen=True, slots=True)
class Production:
    """Machines that a maker completed in a month (`YYYY-MM`)."""

    maker: str
    month: str
    built: int


@dataclass(frozen=True, slots=True)
class PartPrior:
    """Of surviving machines, the shares whose part is original, exchanged and made later; they add to 1."""

    part: str
    original: float
    exchanged: float
    made_later: float


@dataclass(frozen=True, slots=True)
class LaterSource:
    """Who made the later parts of a kind (`share`), and what number they bear: none, a copy of the frame's, any of the
    family, one of the source's own scheme; the four add to 1."""

    part: str
    maker: str
    share: float
    number_none: float
    number_copies_frame: float
    number_any_of_family: float
    number_own_scheme: float


@dataclass(frozen=True, slots=True)
class Statement:
    """How often owners say a thing (`rate`, a share of owners) by what is true of the parts."""

    statement: str
    parts: tuple[str, ...]
    condition: str
    rate: float
    remark: str = ""


@dataclass(frozen=True)
class Shares:
    """The shares of one pack."""

    production: tuple[Production, ...]
    priors: dict[str, PartPrior]
    later: tuple[LaterSource, ...]
    statements: tuple[Statement, ...]
    lags: dict[str, dict[int, float]]
    """Months to share, by the name of the lag."""
    castings: dict[tuple[str, str], tuple[float, ...]]
    """(part, maker) to the shares of parts built into a machine 1, 2, … months after casting."""
    _rates: dict[tuple[str, str, str], float] = field(default_factory=dict, repr=False, compare=False)

    def rate(self, statement: str, part: str, condition: str) -> float:
        """The rate of a statement on a part where a condition begins so; 0 where the pack gives none."""
        key = statement, part, condition
        if key not in self._rates:
            rows = (s for s in self.statements if s.statement == statement and (not part or part in s.parts) and s.condition.startswith(condition))
            self._rates[key] = next((s.rate for s in rows), 0.0)
        return self._rates[key]


@lru_cache(maxsize=64)
def shares_of(pack: Pack) -> Shares | None:
    """The shares of a pack, or None where production or part priors are not known; raises `BadPack`."""
    if not all((pack.folder / f"{name}.csv").is_file() for name in ("production", "part_priors")):
        return None
    try:
        return _read(pack)
    except (KeyError, ValueError) as error:
        raise BadPack(f"{pack.folder.name}: shares: {type(error).__name__} {error}") from None


def _read(pack: Pack) -> Shares:
    priors = {r["part"]: PartPrior(r["part"], float(r["original"]), float(r["exchanged"]), float(r["made_later"])) for r in pack.table("part_priors")}
    for prior in priors.values():
        if abs(prior.original + prior.exchanged + prior.made_later - 1) > 1e-9:
            raise ValueError(f"part_priors: the shares of {prior.part} do not add to 1")
    numbers = ("share", "number_none", "number_copies_frame", "number_any_of_family", "number_own_scheme")
    lags: dict[str, dict[int, float]] = {}
    for row in _optional(pack, "lags"):
        lags.setdefault(row["lag"], {})[int(row["months"])] = float(row["share"])
    return Shares(
        tuple(Production(r["maker"], r["month"], int(r["built"])) for r in pack.table("production") if int(r["built"])),
        priors,
        tuple(LaterSource(r["part"], r["maker"], *(float(r[n]) for n in numbers)) for r in _optional(pack, "later_sources")),
        tuple(
            Statement(r["statement"], tuple(r["part"].split()), r["condition"], float(r["rate"]), r["remark"])
            for r in _optional(pack, "statements")
            if r["rate"]
        ),
        lags,
        {(r["part"], r["maker"]): tuple(float(r[f"lag_{n}"]) for n in range(1, 6)) for r in _optional(pack, "casting_dates")},
    )


def _optional(pack: Pack, name: str) -> tuple[dict[str, str], ...]:
    return pack.table(name) if (pack.folder / f"{name}.csv").is_file() else ()
