"""A claim: what words of a listing say, or what decoding a number adds; never whether it is true."""

import re
from dataclasses import dataclass, field

from extractors.document import Quote

SELLER, ATTRIBUTE, PHOTO, REPLY, NOTES = "seller", "attribute", "photo", "reply", "notes"
"""Whose word a claim is; what was decoded has the basis `rule:<pack>/<rule>`."""
RULE = "rule:"

STATED, HEDGED, REPORTED, DENIED, OTHER_ITEM = "stated", "hedged", "reported", "denied", "other-item"
STANCES = (STATED, HEDGED, REPORTED, DENIED, OTHER_ITEM)
"""In rising order: when two fit, the later one wins."""

PARTS = (
    "vehicle", "frame", "engine", "gearbox", "axle", "body", "plate", "registration", "hull", "tyre", "component",
    "unknown",
)  # fmt: skip


_BLOTS = frozenset("*?•…_#")
_NEITHER = re.compile(r"[^0-9A-Z*?_#]")
_ASCII_BLOT = re.compile(r"[*_#]")
_HIDDEN_BY_X = re.compile(r"(?<=\d)X{2,}(?![A-Z0-9])")
_HIDDEN_WITHIN = re.compile(r"(?<=\d)x{2,}(?=\d)")


@dataclass(frozen=True, slots=True)
class Claim:
    """One stated fact and place. Two claims are equal when they mean the same; where they stand does not count."""

    kind: str
    part: str
    value: str | None
    stance: str
    quote: Quote = field(compare=False)
    basis: str = SELLER
    item: int = 1
    """Which of several vehicles or units of one advert."""
    note: str = field(default="", compare=False)
    """A repair of the value or the reason of a reading, in words."""
    family: str = field(default="", compare=False)
    """The pack that knows this name, feature or rule; empty outside any pack."""
    loose: bool = field(default=False, compare=False)
    """Whether words beside a year or date name another thing, so that it may be that thing's: nothing is set against it."""

    @property
    def is_decoded(self) -> bool:
        """Whether a rule gave it, not a person."""
        return self.basis.startswith(RULE)

    @property
    def is_said(self) -> bool:
        """Whether someone says it of this vehicle: stated, hedged or reported, and not decoded."""
        return not self.is_decoded and self.stance in (STATED, HEDGED, REPORTED)


def compact(text: str) -> str:
    """Upper case, letters and figures only; a mark that hides a character becomes `?`.

    >>> compact("33q-O7311-g"), compact("1363**A***")
    ('33QO7311G', '1363??A???')
    >>> compact("DU 44xxx")
    'DU44???'
    >>> compact("YLO 59x")
    'YLO59?'
    """
    if text[-1:] == "x" and text[-2:-1].isdigit() and not any(c.islower() for c in text[:-1]) and any(c.isupper() for c in text):
        text = text[:-1] + "?"
    if "xx" in text:
        text = _HIDDEN_WITHIN.sub(lambda m: "?" * len(m[0]), text)
    upper = text.upper()
    hidden = _HIDDEN_BY_X.sub(lambda m: "?" * len(m[0]), upper) if "XX" in upper else upper
    if hidden.isascii():
        return hidden if hidden.isalnum() else _ASCII_BLOT.sub("?", _NEITHER.sub("", hidden))
    return "".join("?" if c in _BLOTS else c for c in hidden if c.isalnum() or c in _BLOTS)
