"""What one form of number makes of one number: its check character, blocks never used, tables and codes."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from claims import decoders
from claims.claim import Claim
from claims.pack import Pack
from claims.pack_rows import Block, Scheme, Source
from claims.reading_of_number import CHECK_FAILS, DISAGREES, NEVER_USED, OUTSIDE, Decoding, Reading

WHOLE = ("vehicle", "unknown")


class Plan(NamedTuple):
    """How a form is read, worked out once: its rule and sources, the part it stands for, its checks, unused blocks and ranges."""

    rule: str
    own: tuple[Source, ...]
    part: str
    """The part that a number of the whole vehicle stands for."""
    checks: tuple[tuple[str, Mapping[str, Any]], ...]
    unused: tuple[Block, ...]
    ranges: tuple[str, ...]


def plan(pack: Pack, scheme: Scheme) -> Plan:
    """The plan of a form, made when first asked for."""
    made = pack.plans.get(scheme.scheme)
    if made is None:
        made = pack.plans[scheme.scheme] = Plan(
            f"{pack.id}/{scheme.scheme}",
            (pack.source(scheme.source_id),),
            pack.identity if pack.identity in scheme.also_parts else scheme.part,
            tuple((name, how) for name, how in scheme.decode.items() if how["decoder"] == "check"),
            tuple(b for b in pack.blocks if b.kind == "never_used" and b.scheme in {scheme.scheme, scheme.run}),
            tuple(name for name, how in scheme.decode.items() if how["decoder"] == "range"),
        )
    return made


def read_form(claim: Claim, number: str, pack: Pack, scheme: Scheme, groups: dict[str, str], repaired: str) -> Decoding:
    """The decoding of a number that fits a form (`groups` are those that it fills), with its readings or the reason why it has none."""
    rule, sources, part, checks, unused, ranges = plan(pack, scheme)
    failure = detail = ""
    readings: tuple[Reading, ...] = ()
    said: tuple[tuple[str, str], ...] = ()
    name = next((n for n in ranges if n in groups), "")
    if checks and (wrong := _wrong_check(checks, groups)):
        failure, detail = CHECK_FAILS, wrong
    elif unused and (block := _unused(unused, groups.get("serial", ""))):
        failure, sources = NEVER_USED, (pack.source(block.source_id),)
        detail = f"{block.first}–{block.last} were never used ({block.remark})" if block.remark else "never used"
    elif name:
        readings, disagreeing, behind = decoders.by_range(pack, scheme, name, groups)
        if not readings:
            failure = f"{disagreeing}{DISAGREES}" if disagreeing else OUTSIDE
            detail = f"{disagreeing} {groups.get(disagreeing)} does not go with {name} {groups[name]}" if disagreeing else "outside every known range"
            sources = (*sources, *behind)
    else:
        readings = decoders.by_code(scheme, pack, groups)
        if not readings:
            failure, detail = OUTSIDE, "no date that this code can mean"
    if scheme.lag:
        readings = tuple(decoders.with_lag(r, scheme, pack) for r in readings)
    if not failure and len(scheme.decode) > 1:
        said = tuple(decoders.further(scheme, pack, groups))
    part = part if claim.part in WHOLE else claim.part
    return Decoding(claim, number, part, rule, scheme, pack, groups, readings, failure, detail, sources, repaired, said, pack.slack_years)


def _wrong_check(checks: tuple[tuple[str, Mapping[str, Any]], ...], groups: dict[str, str]) -> str:
    for name, how in checks:
        if name in groups:
            expected = decoders.check_character(how, groups)
            if groups[name] != expected:
                return f"check letter {groups[name]} where the figures give {expected}"
    return ""


def _unused(blocks: tuple[Block, ...], serial: str) -> Block | None:
    return next((b for b in blocks if serial and b.first <= int(serial) <= b.last), None)
