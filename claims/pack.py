"""The only reader of rule packs: a folder with `pack.toml` and its CSV tables becomes a `Pack`.

A pack that cannot be read raises `BadPack`, whose message names file, line and key; nothing is run, patterns are
compiled by google-re2 (linear time on any text) with a bound on their size.
"""

import csv
import dataclasses
import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from pathlib import Path
from typing import Any

import re2

from claims.pack_rows import (
    BLOCKS,
    NEVER_ALONE,
    STANDINGS,
    Block,
    Caution,
    Equality,
    Example,
    Feature,
    FeatureSpan,
    Innocent,
    Mark,
    Name,
    Part,
    Place,
    Scheme,
    Source,
    Trap,
    Variant,
)  # fmt: skip
from claims.period import Period, period
from claims.standards import edtf

SHIPPED = Path(__file__).parent / "packs"
LIST_MARK = " | "
FEWEST_WORDS, FEWEST_CAR_WORDS = 2, 1
"""Words for another type of vehicle that rule a pack out; those for cars are particular enough to count alone."""
DESIGNATION = "designation"
TABLE_NAME = re.compile(r"[A-Za-z0-9_-]{1,64}")
LONGEST_PATTERN = 500
PATTERN_MEMORY = 1 << 20
HEAD = {
    "id", "family", "title", "invented", "strength", "slack_years", "period_kind", "season_start", "default_source",
    "identity", "identity_source", "production", "period_means", "forms", "vehicle", "extends",
}  # fmt: skip
"""The keys of `pack.toml` before its first block."""
_RENAMED = {"from": "from_"}


class BadPack(Exception):
    """A pack that cannot be used; the message names file, line and key."""


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a dating table: numbers `first` to `last` of a period; `keys` are its further columns."""

    first: int
    last: int
    period: Period
    maker: str
    model: str
    turn: int
    source: Source
    weak: bool
    remark: str
    keys: dict[str, str]


@dataclass(frozen=True, eq=False)
class Pack:
    """One family's rules: names, parts, schemes, tables, features, marks, traps, each row with its source."""

    id: str
    family: str
    folder: Path
    invented: bool = False
    strength: str = "full"
    slack_years: int = 0
    period_kind: str = "month"
    season_start: int = 8
    default_source: str = ""
    identity: str = "unknown"
    """Which part carries the legal identity, or `unknown`; `identity_source` says who says so."""
    identity_source: str = ""
    forms: str = "open"
    """`closed` where every form of number that the makers used is known here."""
    vehicle: str = ""
    """The type of vehicle (motorcycle, car, tractor, truck, boat, engine); empty for any."""
    production: str = ""
    """Span in which the family was built (EDTF); empty where the pack does not know."""
    period_means: str = ""
    """What the tables date (completion, season, model year), in words."""
    extends: str = ""
    """A user's pack: the shipped pack to which it adds."""
    is_own: bool = False
    """Whether a user's rows are in it, some of which may be private."""
    sources: dict[str, Source] = field(default_factory=dict)
    names: tuple[Name, ...] = ()
    parts: dict[str, Part] = field(default_factory=dict)
    schemes: dict[str, Scheme] = field(default_factory=dict)
    blocks: tuple[Block, ...] = ()
    equalities: tuple[Equality, ...] = ()
    features: dict[str, Feature] = field(default_factory=dict)
    variants: tuple[Variant, ...] = ()
    spans: tuple[FeatureSpan, ...] = ()
    marks: tuple[Mark, ...] = ()
    places: tuple[Place, ...] = ()
    traps: tuple[Trap, ...] = ()
    cautions: tuple[Caution, ...] = ()
    innocents: tuple[Innocent, ...] = ()
    examples: tuple[Example, ...] = ()

    def source(self, source_id: str) -> Source:
        """A row's source: its own, else the pack's default."""
        return self.sources[source_id or self.default_source]

    def source_of_row(self, row: Mapping[str, str]) -> Source:
        """The source of a table's row, with the weaker of its own standing and the row's."""
        source = self.source(row.get("source_id", ""))
        standing = row_standing(row.get("standing", ""))
        return dataclasses.replace(source, standing=max(source.standing, standing, key=STANDINGS.index)) if standing else source

    @cached_property
    def patterns(self) -> dict[str, Any]:
        """Each scheme's compiled pattern."""
        return {name: compiled(scheme.pattern, f"{self.folder.name}: scheme {name}") for name, scheme in self.schemes.items()}

    @cached_property
    def patterns_as_written(self) -> dict[str, Any]:
        """The compiled pattern on the written form, of the schemes that have one."""
        return {n: compiled(s.as_written, f"{self.folder.name}: scheme {n}: as_written") for n, s in self.schemes.items() if s.as_written}

    @cached_property
    def runs(self) -> dict[str, tuple[Any, ...]]:
        """The runs of numbers by which each scheme is dated, worked out when first asked for (claims/decoders.py)."""
        return {}

    @cached_property
    def plans(self) -> dict[str, Any]:
        """How each form is read, worked out when first asked for (claims/form_reading.py)."""
        return {}

    @cached_property
    def codes(self) -> dict[tuple[str, str, str], dict[str, tuple[str, Source]]]:
        """Tables of codes by (table, column of the code, column it gives)."""
        return {}

    @cached_property
    def tables(self) -> dict[str, tuple[dict[str, str], ...]]:
        """Tables as plain rows, read when first asked for."""
        return {}

    def table(self, name: str) -> tuple[dict[str, str], ...]:
        """The rows of `NAME.csv` as written; raises `BadPack` where there is none."""
        if name not in self.tables:
            if not TABLE_NAME.fullmatch(name):
                raise BadPack(f"{self.folder.name}: table {name!r}: a table's name is letters, figures, - and _")
            path = self.folder / f"{name}.csv"
            self.tables[name] = tuple(row for _, row in _csv_rows(path))
        return self.tables[name]

    @cached_property
    def _dated(self) -> dict[tuple[str, int, str], tuple[Row, ...]]:
        return {}

    def dated(self, name: str, season_start: int = 0, period_kind: str = "") -> tuple[Row, ...]:
        """The rows of a dating table, with periods and standings worked out."""
        key = name, season_start, period_kind
        if key not in self._dated:
            self._dated[key] = tuple(self._dating_row(name, row, season_start, period_kind) for row in self.table(name))
        return self._dated[key]

    def _dating_row(self, name: str, row: dict[str, str], season_start: int, period_kind: str) -> Row:
        kind = row.get("period_kind") or period_kind or self.period_kind
        source = self.source_of_row(row)
        try:
            return Row(
                int(row["first"]), int(row["last"]), period(row["period"], kind, season_start or self.season_start),
                row.get("maker", ""), row.get("model", ""), int(row.get("turn") or 0), source,
                self.strength == "weak" or row.get("weak", "") == "yes", row.get("remark", ""), row,
            )  # fmt: skip
        except (KeyError, ValueError) as error:
            raise BadPack(f"{self.folder.name}/{name}.csv: row {row.get('first')}: {error}") from None

    @cached_property
    def makers(self) -> tuple[Name, ...]:
        """The makers that the pack names."""
        return tuple(n for n in self.names if n.kind == "maker")

    @cached_property
    def models(self) -> tuple[Name, ...]:
        """The models that the pack names."""
        return tuple(n for n in self.names if n.kind == "model")

    @cached_property
    def lone_schemes(self) -> tuple[Scheme, ...]:
        """The schemes whose form may be particular enough to need no maker's name beside it."""
        return tuple(s for s in self.schemes.values() if s.stands_alone or s.stands_alone_with)

    @cached_property
    def known_names(self) -> frozenset[str]:
        """The canonical names of its makers and models."""
        return frozenset(n.canonical for n in self.names if n.kind != DESIGNATION)

    @cached_property
    def designations(self) -> tuple[Name, ...]:
        """The designations that name the pack only together with their maker."""
        return tuple(n for n in self.names if n.kind == DESIGNATION)

    @cached_property
    def model_names(self) -> frozenset[str]:
        """Every model that a name, a form or a span of the pack speaks of."""
        said = {n.canonical for n in self.names if n.kind in {"model", DESIGNATION}}
        return frozenset(said.union(*(s.models for s in self.schemes.values()), *(s.models for s in self.spans)))

    def is_for(self, types: Sequence[str]) -> bool:
        """Whether the types of vehicle that words describe leave room for this pack: words for another and none for its own do not."""
        if not self.vehicle or self.vehicle in types:
            return True
        return not any(types.count(t) >= (FEWEST_CAR_WORDS if t == "car" else FEWEST_WORDS) for t in types)

    def model_maker(self, model: str) -> str:
        """Who made a model; empty where several did, or the pack does not say."""
        return next((n.maker for n in self.models if n.canonical == model), "")

    def production_span(self) -> edtf.Span | None:
        """When the family was built, or None."""
        return edtf.decode(self.production) if self.production else None


def row_standing(text: str) -> str:
    """The standing that a table's own word stands for (facts README, "Into a pack's standings"); empty for none."""
    if not text:
        return ""
    if text in STANDINGS:
        return text
    if "memory" in text or "customary" in text:
        return "memory"
    if any(word in text for word in ("secondary", "given", "conflict", "in part")):
        return "secondary"
    return "published"


def never_alone(source: Source) -> bool:
    """Whether a source is too weak to carry a contradiction."""
    return source.standing in NEVER_ALONE


def compiled(pattern: str, where: str) -> Any:
    """A pattern under google-re2, bounded in size; raises `BadPack`."""
    if len(pattern) > LONGEST_PATTERN:
        raise BadPack(f"{where}: pattern over {LONGEST_PATTERN} characters")
    options = re2.Options()
    options.log_errors = False
    options.max_mem = PATTERN_MEMORY
    try:
        return re2.compile(pattern, options)
    except re2.error as error:
        raise BadPack(f"{where}: pattern {pattern!r}: {error}") from None


@cache
def shipped_packs() -> tuple[Pack, ...]:
    """Every pack that ships with the tool, in order of its id."""
    return tuple(read_pack(folder) for folder in sorted(SHIPPED.iterdir()) if (folder / "pack.toml").is_file())


def read_pack(folder: Path) -> Pack:
    """The pack in a folder; raises `BadPack`."""
    path = folder / "pack.toml"
    try:
        head = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise BadPack(f"{path}: {error.strerror}") from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BadPack(f"{path}: {error}") from None
    blocks = {name: tuple(_block(folder, name, head.pop(name, None))) for name in BLOCKS}
    if unknown := sorted(set(head) - HEAD):
        raise BadPack(f"{path}: unknown key {unknown[0]!r}")
    sources = {s.source_id: s for s in blocks["source"]}
    for source in sources.values():
        if source.standing not in STANDINGS:
            raise BadPack(f"{path}: source {source.source_id}: standing {source.standing!r} is none of {', '.join(STANDINGS)}")
    head.setdefault("family", head.get("title", folder.name))
    head.pop("title", None)
    return Pack(
        **{"id": folder.name, **head}, folder=folder, sources=sources, names=blocks["name"],
        parts={p.part: p for p in blocks["part"]}, schemes={s.scheme: s for s in blocks["scheme"]}, blocks=blocks["block"],
        equalities=blocks["equality"], features={f.feature: f for f in blocks["feature"]}, variants=blocks["variant"],
        spans=blocks["feature_span"], marks=blocks["mark"], places=blocks["place"], traps=blocks["trap"],
        cautions=blocks["caution"], innocents=blocks["innocent"], examples=blocks["example"],
    )  # fmt: skip


def _block(folder: Path, name: str, inline: list[dict[str, Any]] | None) -> Iterator[Any]:
    made = BLOCKS[name]
    fields = {f.name: f for f in dataclasses.fields(made)}
    rows: Iterable[tuple[str, dict[str, Any]]] = ((f"pack.toml [[{name}]] {i}", row) for i, row in enumerate(inline or (), 1))
    path = folder / f"{name}.csv"
    if path.is_file():
        if inline:
            raise BadPack(f"{path}: [[{name}]] stands in pack.toml too; keep one of them")
        rows = ((f"{path.name} line {i}", dict(row)) for i, row in _csv_rows(path))
    for where, row in rows:
        yield _made(made, fields, row, f"{folder.name}/{where}")


def _made(made: type[Any], fields: dict[str, Any], row: dict[str, Any], where: str) -> Any:
    values: dict[str, Any] = {}
    for key, value in row.items():
        name = _RENAMED.get(key, key)
        if name not in fields:
            raise BadPack(f"{where}: unknown key {key!r}")
        if value != "":
            values[name] = _converted(fields[name].type, value, f"{where}: {key}")
    try:
        return made(**values)
    except TypeError as error:
        raise BadPack(f"{where}: {str(error).partition('() ')[2]}") from None


def _converted(kind: Any, value: Any, where: str) -> Any:
    try:
        if kind in (int, float):
            return kind(value)
        if kind is bool:
            return value if isinstance(value, bool) else {"yes": True, "no": False, "true": True, "false": False}[value.lower()]
        if kind == tuple[str, ...]:
            parts = value.split(LIST_MARK) if isinstance(value, str) else value
            return tuple(str(p).strip() for p in parts)
        return str(value) if kind is str else value
    except (ValueError, KeyError, AttributeError):
        raise BadPack(f"{where}: {value!r} is not of the kind that this column holds") from None


def _csv_rows(path: Path) -> Iterator[tuple[int, dict[str, str]]]:
    try:
        with path.open(encoding="utf-8", newline="") as stream:
            for number, row in enumerate(csv.DictReader(stream), 2):
                if None in row or None in row.values():
                    raise BadPack(f"{path.parent.name}/{path.name} line {number}: wrong number of columns")
                yield number, row
    except OSError as error:
        raise BadPack(f"{path.parent.name}/{path.name}: {error.strerror}") from None
