"""What rules make of one number: every reading with its sources, or the reason why it has none."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from claims.claim import Claim
from claims.pack import Pack
from claims.pack_rows import Scheme, Source
from claims.standards.edtf import Span

CHECK_FAILS = "check_letter"
NEVER_USED = "never_used"
OUTSIDE = "outside_table"
DISAGREES = "_disagrees"
NO_SCHEME = "no_scheme"


@dataclass(frozen=True, slots=True)
class Reading:
    """One meaning of a number: when the part was made (None where the number does not say), by whom."""

    span: Span | None
    period: str
    """The period as its table names it ("season 1967", "1931-04")."""
    maker: str
    sources: tuple[Source, ...]
    weak: bool = False
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Decoding:
    """A number claim read by one scheme of one pack, or by a public standard."""

    claim: Claim
    number: str
    """The compact form that was read, after repairs."""
    part: str
    rule: str
    scheme: Scheme | None = None
    pack: Pack | None = None
    groups: dict[str, str] = field(default_factory=dict)
    readings: tuple[Reading, ...] = ()
    failure: str = ""
    detail: str = ""
    """A failure in words."""
    sources: tuple[Source, ...] = ()
    repaired: str = ""
    said: tuple[tuple[str, str], ...] = ()
    """Further things that the number says, as (what, value): a district, a model."""
    slack_years: int = 0
    also_fits: tuple[str, ...] = ()
    """Other families whose forms and tables read the same number."""

    def beside(self, families: Sequence[str]) -> "Decoding":
        """The same decoding, saying which of these families read the number too."""
        others = tuple(f for f in families if self.pack and f != self.pack.family)
        return Decoding(
            self.claim, self.number, self.part, self.rule, self.scheme, self.pack, self.groups, self.readings, self.failure, self.detail, self.sources,
            self.repaired, self.said, self.slack_years, others,
        )  # fmt: skip

    @property
    def spans(self) -> tuple[Span, ...]:
        """The span of every dated reading."""
        return tuple(r.span for r in self.readings if r.span)

    @property
    def makers(self) -> frozenset[str]:
        """Every maker that a reading names; empty where the number does not tell."""
        return frozenset(r.maker for r in self.readings if r.maker) if all(r.maker for r in self.readings) else frozenset()

    @property
    def is_later_part(self) -> bool:
        """Whether the number is of a successor's or workshop's part."""
        return self.scheme is not None and self.scheme.later


def readings_words(decoding: Decoding) -> str:
    """What a number says, in one line; the reason where no reading fits."""
    if decoding.failure:
        return decoding.detail
    out = []
    for reading in decoding.readings:
        out.append(
            " ".join(
                filter(
                    None,
                    (reading.period if reading.span is None or not decoding.scheme or not decoding.scheme.lag else str(reading.span), reading.maker),
                )
            )
        )
    text = " or ".join(dict.fromkeys(filter(None, out))) or "read, but it tells no date"
    extra = [f"{what}: {value}" for what, value in decoding.said]
    reasons = [r.reason for r in decoding.readings[:1] if len(decoding.readings) > 1 and r.reason]
    others = f"the number also fits: {', '.join(decoding.also_fits)}" if decoding.also_fits else ""
    return "; ".join(filter(None, (text, *extra, *reasons, decoding.repaired, others)))
