"""The model of `pack.toml`: one pydantic model a block, made of the row classes of `claims/pack_rows.py`.

It finds every fault of a file at once, and gives the JSON Schema with which an editor completes the keys.
"""

import ast
import dataclasses
import inspect
from functools import cache
from itertools import pairwise
from typing import Annotated, Any, Literal, get_type_hints

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, create_model

from claims import pack, pack_rows
from claims.decoders import NAMES as DECODERS
from claims.pack_rows import BLOCKS, STANDINGS

YES_NO = ("yes", "no", "unknown")
CHOICES: dict[tuple[str, str], tuple[str, ...]] = {
    ("source", "standing"): STANDINGS,
    ("part", "exchange"): ("hard", "moderate", "easy", ""),
    ("part", "carries_identity"): YES_NO,
    ("block", "kind"): ("never_used", "reallotted", "rolled_over", "equal_to_frame"),
    ("feature_span", "axis"): ("date", "serial"),
    ("example", "expected"): ("decodes", "fails"),
    ("pack", "strength"): ("full", "weak"),
    ("pack", "forms"): ("open", "closed"),
}
"""Keys that take one of a few words."""
SHARES = ("share", "changed_share", "misnamed_share")
"""Keys that hold a share, 0 to 1."""
TEXT_HEAD = {
    "title": "What the pack is about, as reports name it.",
    "family": "The same as `title`.",
    "id": "The pack's name where it is not the folder's.",
    "invented": "Whether everything in it is invented.",
    "strength": "`weak`: never more than a doubt.",
    "slack_years": "How many years the tables may be off.",
    "period_kind": "What a year of the tables means: calendar year, model year, factory season, month.",
    "season_start": "Month (1-12) in which a factory season starts.",
    "default_source": "The `source_id` of rows that name none.",
}
"""Words for an editor, for the keys of the head that have none in `Pack`."""
ALIASES = {"from_": "from"}


def _as_text(value: Any) -> Any:
    """Figures and dates that were written without quotes, as text."""
    return value if isinstance(value, str | list | dict | bool) else str(value)


Text = Annotated[str, BeforeValidator(_as_text)]


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid")


class Decoder(_Strict):
    """How a named group of a scheme's pattern is read."""

    decoder: Literal[DECODERS]  # type: ignore[valid-type]
    tables: list[str] = Field(default=[], description="`range`: dating tables (names of CSV files without .csv), the best first.")
    keys: list[str] = Field(default=[], description="`range`: groups that must agree with the column of the same name.")
    where: dict[str, list[str]] = Field(default={}, description="`range`: only rows that hold one of these values in that column.")
    table: str = Field(default="", description="`lookup`: a CSV file without .csv.")
    by: str = Field(default="", description="`lookup`: the column that holds the code.")
    gives: str = Field(default="", description="`lookup`: the column that holds the meaning (year, month, season, or any fact).")
    aim: str = Field(default="", description="What the figures stand for, where the group's name does not say it.")
    start: int = Field(default=8, ge=1, le=12, description="`season`: the month in which a season starts.")
    over: list[str] = Field(default=[], description="`check`: groups whose figures are summed.")
    weights: list[int] = Field(default=[], description="`check`: one weight a figure.")
    modulus: int = Field(default=0, description="`check`: the sum is divided by it.")
    alphabet: str = Field(default="", description="`check`: the remainder's place in it is the check letter.")


class Lag(_Strict):
    """Months between the date of the number and the vehicle's."""

    table: str
    lag: str
    sense: Literal["after", "before"]


@cache
def block_model(name: str) -> type[BaseModel]:
    """The model of one row of a block."""
    made = BLOCKS[name]
    hints, described = get_type_hints(made), _described(made)  # type: ignore[arg-type]
    fields: dict[str, Any] = {}
    for f in dataclasses.fields(made):
        kind = _kind(name, f.name, hints[f.name])
        required = f.default is dataclasses.MISSING and f.default_factory is dataclasses.MISSING
        default: Any = ... if required else [] if f.default == () else None if f.name == "lag" else {} if f.name == "decode" else f.default
        limits: dict[str, Any] = {"ge": 0, "le": 1} if f.name in SHARES else {"ge": 0} if kind in (int, float) else {}
        fields[f.name] = (kind, Field(default, alias=ALIASES.get(f.name), description=described.get(f.name), **limits))
    return create_model(made.__name__, __config__=ConfigDict(extra="forbid"), __doc__=inspect.cleandoc(made.__doc__ or ""), **fields)


@cache
def head_model() -> type[BaseModel]:
    """The model of the keys that stand before the first block."""
    return create_model("Head", __config__=ConfigDict(extra="forbid"), **_head_fields())


@cache
def pack_model() -> type[BaseModel]:
    """The model of a whole `pack.toml`."""
    blocks: dict[str, Any] = {name: (list[block_model(name)], Field(default=[])) for name in BLOCKS}  # type: ignore[misc]
    doc = "A rule pack of the listing auditor: one family's names, numbers, features and sources."
    return create_model("Pack", __config__=ConfigDict(extra="forbid"), __doc__=doc, **_head_fields(), **blocks)


def json_schema() -> dict[str, Any]:
    """The JSON Schema of `pack.toml`."""
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **pack_model().model_json_schema()}


def _head_fields() -> dict[str, Any]:
    hints, described = get_type_hints(pack.Pack), _described(pack.Pack) | TEXT_HEAD
    defaults = {f.name: f.default for f in dataclasses.fields(pack.Pack)}
    fields: dict[str, Any] = {}
    for key in sorted(pack.HEAD):
        kind = _kind("pack", key, hints.get(key, str))
        default = defaults.get(key, "")
        limits: dict[str, Any] = {"ge": 1, "le": 12} if key == "season_start" else {"ge": 0, "le": 20} if key == "slack_years" else {}
        fields[key] = (kind, Field("" if default is dataclasses.MISSING else default, description=described.get(key), **limits))
    return fields


def _kind(block: str, key: str, hint: Any) -> Any:
    if choices := CHOICES.get((block, key)):
        return Literal[choices]
    if key == "decode":
        return dict[str, Decoder]
    if key == "lag":
        return Annotated[Lag | None, BeforeValidator(lambda value: value or None)]
    if hint == tuple[str, ...]:
        return list[Text]
    return Text if hint is str else hint


@cache
def _described(made: Any) -> dict[str, str]:
    """The docstrings under a class's fields, which are no part of the class when it runs."""
    tree = ast.parse(inspect.getsource(pack_rows if made.__module__ == pack_rows.__name__ else pack))
    body = next(node.body for node in tree.body if isinstance(node, ast.ClassDef) and node.name == made.__name__)
    out: dict[str, str] = {}
    for before, node in pairwise(body):
        if isinstance(before, ast.AnnAssign) and isinstance(before.target, ast.Name) and isinstance(node, ast.Expr):
            text = ast.literal_eval(node.value)
            out[before.target.id] = " ".join(text.split())
    return out
