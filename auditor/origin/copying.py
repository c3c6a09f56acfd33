"""How a number is copied: which numbers a person may have had before them who gave this one, and how likely each is.

Shares of kinds of slip: `error_shares.csv`, source A, of the facts on standards; rates of slips by the pack's
`statements`. A number that hides its last figures can be any that begins so.
"""

import re
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, product
from typing import Any

from claims import decoders
from claims.pack import Pack, compiled
from claims.pack_rows import Scheme
from claims.repairs import zeros_and_ones

ONE_FIGURE, NEIGHBOURS_SWAPPED, NEXT_BUT_ONE_SWAPPED, TWIN = 0.791, 0.102, 0.008, 0.005
ALL_SLIPS = ONE_FIGURE + NEIGHBOURS_SWAPPED + NEXT_BUT_ONE_SWAPPED + TWIN
MOST_HIDDEN = 3
FIGURES = "0123456789"
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXY"
_HIDDEN_FIGURE = re.compile(r"\?")


@dataclass(frozen=True, slots=True)
class Number:
    """A number that one scheme reads: its serial, its date code where it has one, its contract."""

    scheme: Scheme
    serial: int
    code: str
    contract: str


@lru_cache(maxsize=4096)
def meant(pack: Pack, part: str, text: str, slip: float) -> tuple[tuple[Number, float], ...]:
    """(number on the part, probability that it was copied as `text`) of every number that it can have been; `slip` is the rate of slips."""
    text = zeros_and_ones(text)
    if "?" in text:
        return tuple((number, 1.0) for scheme in _forms(pack, part) for number in _completed(pack, scheme, text))
    variants = [(text, 1 - slip), *((variant, slip * share) for variant, share in _slips(text))]
    lines = [variant for variant, _ in variants]
    return tuple((number, variants[n][1]) for scheme in _forms(pack, part) for n, number in _read(pack, scheme, lines))


@lru_cache(maxsize=256)
def _forms(pack: Pack, part: str) -> tuple[Scheme, ...]:
    return tuple(s for s in pack.schemes.values() if part in (s.part, *s.also_parts) and not s.earliest)


def _completed(pack: Pack, scheme: Scheme, text: str) -> Iterator[Number]:
    """Every number that begins so: the hidden figures, and a last letter that may have gone with them; a check letter follows from the figures."""
    hidden = len(_HIDDEN_FIGURE.findall(text))
    if hidden > MOST_HIDDEN:
        return
    wholes = [_filled(text, figures) for figures in product(FIGURES, repeat=hidden)]
    yield from (number for _, number in _read(pack, scheme, wholes))
    if not text[-1].isalpha():
        check = _check(scheme)
        letters = check[1]["alphabet"][0] if check else LETTERS
        lines = [whole + letter for letter in letters for whole in wholes]
        yield from (number for _, number in _read(pack, scheme, lines, check is not None))


def _filled(text: str, figures: tuple[str, ...]) -> str:
    chosen = iter(figures)
    return _HIDDEN_FIGURE.sub(lambda _: next(chosen), text)


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


def _read(pack: Pack, scheme: Scheme, lines: Sequence[str], any_letter: bool = False) -> Iterator[tuple[int, Number]]:
    """(place, number) of the lines that a scheme reads; `any_letter` takes any check letter for the right one."""
    check = _check(scheme)
    for place, groups in _groups(pack, scheme, lines):
        if check is None or any_letter or check[0] not in groups or groups[check[0]] == decoders.check_character(check[1], groups):
            code = groups.get("year", "") + groups.get("month", "")
            yield place, Number(scheme, int(groups.get("serial") or 0), code, groups.get("contract", ""))


def _check(scheme: Scheme) -> tuple[str, Mapping[str, Any]] | None:
    return next(((n, how) for n, how in scheme.decode.items() if how["decoder"] == "check"), None)


def _groups(pack: Pack, scheme: Scheme, lines: Sequence[str]) -> Iterator[tuple[int, dict[str, str]]]:
    """(place, named groups) of each line that the scheme's pattern finds: all lines in one run, one by one where a match could span two."""
    text = "\n".join(lines)
    pattern, names = _by_lines(pack, scheme.scheme)
    found = list(pattern.finditer(text.encode())) if text.isascii() else []
    starts = list(accumulate((len(line) + 1 for line in lines), initial=0))
    places = [bisect_right(starts, m.start()) - 1 for m in found]
    if not text.isascii() or any(m.end() >= starts[n + 1] for n, m in zip(places, found, strict=True)):
        for n, line in enumerate(lines):
            if one := pack.patterns[scheme.scheme].search(line):
                yield n, {name: value for name, value in one.groupdict().items() if value}
        return
    before = -1
    for n, m in zip(places, found, strict=True):
        if n != before:
            spans = {name: m.span(i) for name, i in names}
            yield n, {name: text[a:b] for name, (a, b) in spans.items() if b > a}
        before = n


@lru_cache(maxsize=1024)
def _by_lines(pack: Pack, scheme: str) -> tuple[Any, tuple[tuple[str, int], ...]]:
    """A scheme's pattern for many numbers at once, one a line, and its named groups."""
    pattern = compiled(f"(?m)(?:{pack.schemes[scheme].pattern})", f"{pack.folder.name}: scheme {scheme}")
    return pattern, tuple(pattern.groupindex.items())
