"""What a rule pack is made of: one dataclass a block, whose fields are the keys a row may have.

A block stands in `pack.toml` as `[[name]]` or beside it as `name.csv`; a list inside a cell is parted by ` | `.
Every row has a source, its own (`source_id`) or the pack's `default_source`. Months are `YYYY-MM`, dates `YYYY-MM-DD`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

STANDINGS = ("published", "invented", "secondary", "practice", "memory")
"""How far a source may be trusted, best first; `invented` is the demo world's full strength."""
NEVER_ALONE = ("practice", "memory")
"""Standings that never carry a contradiction."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a row comes from."""

    source_id: str
    title: str
    standing: str
    publisher: str = ""
    year: str = ""
    address: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Name:
    """A maker or model, how it is also written, and when it was made (EDTF, `from`/`to`; open where empty).

    A `designation` is a model of few letters or figures that many makers used ("500"): it names the pack only together
    with its maker, and is no phrase of its own.
    """

    canonical: str
    kind: str
    also_written: tuple[str, ...] = ()
    maker: str = ""
    from_: str = ""
    to: str = ""
    part: str = "vehicle"
    displacement: int = 0
    """Cubic centimetres of a model's engine; 0 where the pack does not say."""
    source_id: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """A part: its name, how easily it moves (hard, moderate, easy), whether it carries the legal identity."""

    part: str
    name: str
    exchange: str = ""
    how_it_moves: str = ""
    carries_identity: str = "unknown"
    numbered: str = ""
    """`yes` where a number is expected on it and asked for."""
    unnumbered: str = ""
    """Period (EDTF) in which the maker did not number this part; empty where it always did, or nothing is known."""
    where: str = ""
    """Where to look for its number, without saying which place is right."""
    source_id: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Scheme:
    """A form of number: a pattern on the compact form, and which decoder reads each named group."""

    scheme: str
    part: str
    pattern: str
    maker: str = ""
    model: str = ""
    models: tuple[str, ...] = ()
    """Models as a listing names them: where it names another model of the pack and none of these, the form is not meant."""
    needs_model: bool = False
    """Read only where one of `models` is named: bare numbers that fit several models."""
    not_models: tuple[str, ...] = ()
    """Models whose naming rules the form out: they had numbers of their own."""
    not_if_older: bool = False
    """Not read where every stated year lies before `from`: an older run, with no letter to tell it, has the same figures."""
    kind: str = ""
    also_parts: tuple[str, ...] = ()
    written_like: str = ""
    method: str = ""
    run: str = ""
    """The form whose blocks and spans hold for its serials too, where several forms write one run of numbers."""
    where: str = ""
    as_written: str = ""
    """A pattern that the number as written (capitals, one space between groups) must fit besides: blanks and strokes that tell."""
    from_: str = ""
    to: str = ""
    figures: int = 0
    all_figures: bool = False
    """Noughts in front are never left out: a number of fewer figures is another's."""
    letter_o: str = ""
    """`never`: an O (or I) among the figures is read as 0 (or 1), and the repair is recorded."""
    stands_alone: bool = False
    """So particular that it is read even where the listing names no maker of the pack."""
    stands_alone_with: str = ""
    """A named group that makes the form so particular where it is present."""
    silent_outside: bool = False
    """A number outside the tables has no reading at all: the form is too plain, or the run too open, to doubt it."""
    closed: bool = False
    """No number outside the tables was ever used: outside is a contradiction, not a doubt."""
    check_compulsory: bool = True
    period_kind: str = ""
    event: str = "built"
    """What the date is of: `built`, or `registered` for an authority's mark, which never dates the vehicle."""
    same_for: str = ""
    """Makers that a part with this number says nothing of (`either`)."""
    earliest: bool = False
    """The date is the part's own (a casting, a component): the vehicle is no older, and may be much younger."""
    later: bool = False
    """A part of a successor or workshop, not of the vehicle's own maker."""
    lag: Mapping[str, str] = field(default_factory=dict)
    """Months between the date that the number says and the vehicle's: `table`, `lag`, `sense` (after or before)."""
    decode: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    source_id: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Block:
    """A block of numbers that needs care: never_used, reallotted, rolled_over, equal_to_frame."""

    block: str
    scheme: str
    first: int
    last: int
    kind: str
    maker: str = ""
    from_month: str = ""
    to_month: str = ""
    source_id: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Equality:
    """Two parts whose numbers were equal when new, for a maker (or `both`) and a period."""

    equality: str
    part_a: str
    part_b: str
    maker: str
    from_month: str = ""
    to_month: str = ""
    relation: str = "same number"
    standing: str = "firm"
    source_id: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Feature:
    """Something to look at; shares are of parts changed later and of people who name a wrong variant."""

    feature: str
    part: str
    name: str
    where: str = ""
    visibility: str = ""
    effort: int = 1
    changed_share: float = 0.1
    misnamed_share: float = 0.03
    common_to_both_from: str = ""
    private: bool = False
    """Stays on this machine: in no letter, `explain`, list of packs or shared report."""
    source_id: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Variant:
    """A variant of a feature and the words for it."""

    feature: str
    variant: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FeatureSpan:
    """Who fitted a variant and when; soft weeks are the half-width of a change-over; axis is `date` or `serial`."""

    feature: str
    variant: str
    maker: str
    from_: str = ""
    from_soft_weeks: float = 0
    to: str = ""
    to_soft_weeks: float = 0
    share: float = 1
    axis: str = "date"
    scheme: str = ""
    models: tuple[str, ...] = ()
    """Models that it is said of; empty for all. Where a listing names another model of the pack, it does not count."""
    private: bool = False
    """Stays on this machine: in no letter, `explain`, list of packs or shared report."""
    source_id: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """A maker's mark: what it looks like, on which parts, how it is made."""

    mark: str
    looks_like: str
    maker: str
    parts: str = ""
    method: str = ""
    from_: str = ""
    to: str = ""
    private: bool = False
    """Stays on this machine: in no letter, `explain`, list of packs or shared report."""
    source_id: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a number is, how it is marked, from when to when; `cast` marks one that is no identity number."""

    part: str
    maker: str
    method: str
    place: str
    scheme: str = ""
    cast_numbers: tuple[str, ...] = ()
    """The raised part numbers that stand there, where the method is `cast`."""
    from_: str = ""
    to: str = ""
    soft_weeks: float = 0
    private: bool = False
    """Stays on this machine: in no letter, `explain`, list of packs or shared report."""
    source_id: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Trap:
    """What misleads; `years` are those that a listing often states for it, `kind` names the trap to the checks."""

    trap: str
    what_is_seen: str
    what_it_is: str
    what_to_do: str
    kind: str = ""
    years: str = ""
    source_id: str = ""


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning, and the words that call for it (`always` for every report)."""

    caution: str
    when: str
    text: str
    words: tuple[str, ...] = ()
    source_id: str = ""


@dataclass(frozen=True, slots=True)
class Innocent:
    """How a conflict may be innocent; `findings` are the checks it answers."""

    explanation: str
    for_conflict: str
    text: str
    how_to_settle: str = ""
    findings: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    schemes: tuple[str, ...] = ()
    """Forms of number it speaks of; empty for any."""
    source_id: str = ""


@dataclass(frozen=True, slots=True)
class Example:
    """A number as written that decodes, or fails with a reason; `months` are all readings, `groups` the named groups."""

    example: str
    as_written: str
    expected: str
    part: str = ""
    scheme: str = ""
    maker: str = ""
    model: str = ""
    """The model that the listing names beside it, where the form asks for one."""
    months: tuple[str, ...] = ()
    groups: str = ""
    reason: str = ""
    source_id: str = ""
    remark: str = ""


BLOCKS: dict[str, type[Any]] = {
    "source": Source, "name": Name, "part": Part, "scheme": Scheme, "block": Block, "equality": Equality,
    "feature": Feature, "variant": Variant, "feature_span": FeatureSpan, "mark": Mark, "place": Place, "trap": Trap,
    "caution": Caution, "innocent": Innocent, "example": Example,
}  # fmt: skip
