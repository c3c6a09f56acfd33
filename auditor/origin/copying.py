"""How a number is copied: which numbers a person may have had before them who gave this one, and how likely each is.

Shares of kinds of slip: `error_shares.csv`, source A, of the facts on standards; rates of slips by the pack's
`statements`. A number that hides its last figures can be any that begins so.
"""

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import product

from claims import decoders
from claims.pack import Pack
from claims.pack_rows import Scheme
from claims.repairs import zeros_and_ones

ONE_FIGURE, NEIGHBOURS_SWAPPED, NEXT_BUT_ONE_SWAPPED, TWIN = 0.791, 0.102, 0.008, 0.005
ALL_SLIPS = ONE_FIGURE + NEIGHBOURS_SWAPPED + NEXT_BUT_ONE_SWAPPED + TWIN
MOST_HIDDEN = 3
FIGURES = "0123456789"
_HIDDEN_FIGURE = re.compile(r"\?")


class Number:
    """A number that one scheme reads: its serial and further named groups."""

    __slots__ = ("groups", "scheme", "serial")

    def __init__(self, scheme: Scheme, groups: dict[str, str]) -> None:
        self.scheme, self.groups = scheme, groups
        self.serial = int(groups.get("serial") or 0)

    @property
    def key(self) -> tuple[str, str, int]:
        """What tells it from others: scheme, its date code where it has one, serial."""
        return self.scheme.scheme, self.groups.get("year", "") + self.groups.get("month", ""), self.serial


@lru_cache(maxsize=4096)
def meant(pack: Pack, part: str, text: str, slip: float) -> tuple[tuple[Number, float], ...]:
    """(number on the part, probability that it was copied as `text`), the number as it stands first; `slip` is the rate of slips."""
    text = zeros_and_ones(text)
    if "?" in text:
        return tuple((n, 1.0) for variant in _completed(text) for n in _read(pack, part, variant))
    out = [(n, 1 - slip) for n in _read(pack, part, text)]
    for variant, share in _slips(text):
        out += [(n, slip * share) for n in _read(pack, part, variant)]
    return tuple(out)


def _completed(text: str) -> Iterator[str]:
    hidden = len(_HIDDEN_FIGURE.findall(text))
    if hidden > MOST_HIDDEN:
        return
    for figures in product(FIGURES, repeat=hidden):
        chosen = iter(figures)
        whole = _HIDDEN_FIGURE.sub(lambda _: next(chosen), text)  # noqa: B023 (used at once)
        yield whole
        yield from (whole + letter for letter in "ABCDEFGHJKLMNPQRSTUVWXY" if not whole[-1].isalpha())


def _slips(text: str) -> Iterator[tuple[str, float]]:
    """Every text that one slip turns into this one, with the probability of just that slip."""
    places = [i for i, c in enumerate(text) if c in FIGURES]
    if not places:
        return
    for i in places:
        for figure in FIGURES:
            if figure != text[i]:
                yield text[:i] + figure + text[i + 1 :], ONE_FIGURE / ALL_SLIPS / (9 * len(places))
    for step, share in ((1, NEIGHBOURS_SWAPPED), (2, NEXT_BUT_ONE_SWAPPED)):
        pairs = [(i, i + step) for i in places if i + step in places]
        for i, j in pairs:
            if text[i] != text[j]:
                swapped = list(text)
                swapped[i], swapped[j] = text[j], text[i]
                yield "".join(swapped), share / ALL_SLIPS / len(pairs)


@lru_cache(maxsize=20_000)
def _read(pack: Pack, part: str, text: str) -> tuple[Number, ...]:
    out = []
    for scheme in pack.schemes.values():
        if part not in (scheme.part, *scheme.also_parts) or scheme.earliest:
            continue
        if not (found := pack.patterns[scheme.scheme].search(text)):
            continue
        groups = {name: value for name, value in found.groupdict().items() if value}
        check = next(((n, how) for n, how in scheme.decode.items() if how["decoder"] == "check" and n in groups), None)
        if check is None or groups[check[0]] == decoders.check_character(check[1], groups):
            out.append(Number(scheme, groups))
    return tuple(out)
