"""Every form of number of a set of packs as one pattern set: one pass tells which of them a compact number fits.

Beside each form whose serial has a fixed number of figures stands the same form with one or two figures fewer: what a
number fits when its leading noughts were left out. Patterns run under google-re2, in linear time.
"""

import re
from collections.abc import Sequence, Set
from functools import lru_cache
from typing import NamedTuple

import re2

from claims.pack import Pack
from claims.pack_rows import Scheme

SET_MEMORY = 1 << 26
FEWEST_FIGURES = 3
_NONE: tuple[list[int], list[int]] = ([], [])
_SERIAL_ALONE = re.compile(r"\^([A-Z0-9]*)\(\?P<serial>((?:(?!\(\?P<).)*)\)\$")
_FIXED = re.compile(r"\(\?P<serial>\\d\{(\d)\}\)")


class Form(NamedTuple):
    """One scheme of one pack; its own pattern is compiled when a number first fits it."""

    pack: Pack
    scheme: Scheme
    serial_from: int
    """Where the serial starts in a form that is a few fixed characters and the serial; -1 for any other form."""

    def groups(self, number: str) -> dict[str, str]:
        """The named groups that a compact number gives, which is known to fit the form."""
        return {"serial": number[self.serial_from :]} if self.serial_from >= 0 else self.groups_if_fitting(number) or {}

    def groups_if_fitting(self, number: str) -> dict[str, str] | None:
        """The named groups that a compact number gives, or None where it does not fit.

        Bytes go in, since the library's offsets in text cost more than the match.
        """
        found = self.pack.patterns[self.scheme.scheme].search(number.encode())
        return {name: text.decode() for name, text in found.groupdict().items() if text} if found else None


class FormIndex:
    """The forms of some packs in their order, and the pattern set over all of them."""

    def __init__(self, packs: Sequence[Pack]) -> None:
        self.forms = tuple(Form(p, s, _serial_from(s.pattern)) for p in packs for s in p.schemes.values())
        options = re2.Options()
        options.log_errors = False
        options.max_mem = SET_MEMORY
        patterns = re2.Set.SearchSet(options)
        for pack, scheme, _ in self.forms:
            try:
                patterns.Add(scheme.pattern)
            except re2.error:
                pack.patterns  # noqa: B018  names the pattern that is none
                raise
        self._short: list[int] = []
        for n, form in enumerate(self.forms):
            if short := _with_fewer_figures(form.scheme):
                patterns.Add(short)
                self._short.append(n)
        self._match = (patterns.Compile(), patterns.Match)[1] if self.forms else lambda number: []

    def fitting(self, number: str, tried: Set[int]) -> tuple[list[int], list[int]]:
        """(forms that a compact number fits, forms that it fits but for noughts left out), of those that are tried, in order."""
        found = self._match(number.encode())
        if not found:
            return _NONE
        plain = [n for n in found if n in tried]
        if len(plain) > 1:
            plain.sort()
        if len(plain) == len(found):
            return plain, []
        count = len(self.forms)
        return plain, sorted(short for n in found if n >= count and (short := self._short[n - count]) in tried)


@lru_cache(maxsize=8)
def form_index(packs: tuple[Pack, ...]) -> FormIndex:
    """The index of these packs."""
    return FormIndex(packs)


def _serial_from(pattern: str) -> int:
    """The place of the serial where a form is fixed characters, the serial and nothing else; -1 for any other form.

    >>> _serial_from(r"^U22(?P<serial>\\d{1,4})$"), _serial_from(r"^(?P<serial>1|2(?:3))$"), _serial_from(r"^(?P<serial>1)|(2)$")
    (3, 0, -1)
    """
    found = _SERIAL_ALONE.fullmatch(pattern)
    if not found:
        return -1
    depth = 0
    for c in found[2].replace(r"\(", "").replace(r"\)", ""):
        depth += (c == "(") - (c == ")")
        if depth < 0:
            return -1
    return len(found[1])


def _with_fewer_figures(scheme: Scheme) -> str:
    """A form with one or two figures fewer in its serial; empty where the serial has no fixed number, or noughts always stand."""
    fixed = _FIXED.search(scheme.pattern)
    if scheme.all_figures or not fixed or int(fixed[1]) < FEWEST_FIGURES:
        return ""
    figures = int(fixed[1])
    return scheme.pattern.replace(fixed[0], rf"(?P<serial>\d{{{max(1, figures - 2)},{figures - 1}}})")
