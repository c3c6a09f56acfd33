"""Which packs an advert, or one of its vehicles, speaks of: by makers, models, and designations beside their maker."""

from collections.abc import Sequence, Set

from claims.claim import OTHER_ITEM, Claim
from claims.pack import Pack
from claims.standards import edtf
from claims.standards.edtf import Span

ALL = 0
"""The item of what a headline says of several machines together."""


def named_packs(claims: Sequence[Claim], packs: Sequence[Pack], *, narrowed: bool = True) -> list[Pack]:
    """The packs of whose makers or models a listing speaks.

    Where packs share a maker and the listing names a model that only some of them know, the others are left out (unless
    not `narrowed`: component codes are the make's, not the model's); so is a pack for another type of vehicle than the
    one that the words plainly describe.
    """
    said = [c for c in claims if c.kind in {"maker", "model"} and c.stance != OTHER_ITEM and not c.is_decoded]
    values = {c.value for c in said}
    makers, models = ({c.value for c in said if c.kind == kind} for kind in ("maker", "model"))
    years = stated_years(claims)
    types = [c.value or "" for c in claims if c.kind == "vehicle_type"]
    designated = {p.id for p in packs if _is_designated(p, makers, models, years)}
    found = [p for p in packs if (values & p.known_names or p.id in designated) and p.is_for(types)]
    if not narrowed:
        return found
    knowing = [p for p in found if any(n.canonical in models for n in p.models) or p.id in designated]
    known_makers = {n.canonical for p in knowing for n in p.makers}
    return [p for p in found if p in knowing or not known_makers & {n.canonical for n in p.makers}]


def stated_years(claims: Sequence[Claim]) -> list[Span]:
    """The years that someone gives a vehicle, or its building."""
    said = (c for c in claims if c.kind in {"year", "built"} and c.part == "vehicle" and c.is_said)
    return [s for c in said if (s := _span(c.value or ""))]


def names_of_item(claims: Sequence[Claim], item: int) -> list[Claim]:
    """The claims that name one of several vehicles: its own; the whole advert's where it has no maker or no model of its own."""
    own = [c for c in claims if c.item in (item, ALL)]
    named = {c.kind for c in own if c.kind in {"maker", "model"} and c.stance != OTHER_ITEM}
    lent = {"maker", "model", "vehicle_type"} if not named else set() if "maker" in named else {"maker"}
    return [*own, *(c for c in claims if c.kind in lent and c.item not in (item, ALL))]


def _is_designated(pack: Pack, makers: Set[str | None], models: Set[str | None], years: Sequence[Span]) -> bool:
    """Whether a designation of the pack is named together with its maker, and no year outside its span."""
    for name in pack.designations:
        if name.maker in makers and models & {name.canonical, *name.also_written}:
            made = edtf.decode(f"{name.from_ or '..'}/{name.to or '..'}")
            if not years or any(y.first <= made.last and made.first <= y.last for y in years):
                return True
    return False


def _span(text: str) -> Span | None:
    try:
        return edtf.decode(text)
    except ValueError:
        return None
