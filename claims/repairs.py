"""Slips in writing that are undone, each with its reason: letters O and I for figures, noughts left out, a nought for an O."""

import re
from collections.abc import Iterator
from typing import NamedTuple

NEVER, PREFIX = "never", "prefix"
_GROUPS = re.compile(r"[A-Z]+|\d+")
_BESIDE = re.compile(r"[OI](?=[\dOI])|(?<=\d)[OI]")
_LOOKS_ALIKE = {"O": "0", "I": "1"}


class Repair(NamedTuple):
    """A repaired number, how it is said, the manners of the letter O (of a scheme) that allow it, the serial it must give."""

    number: str
    words: str
    manners: tuple[str, ...]
    serial: str


def repairs(written: str, number: str, lettered: str, is_short: bool) -> Iterator[Repair]:
    """Every repair of a number that fits no form: `lettered` is the number with figures for O and I, `is_short` whether
    some form asks for more figures."""
    if lettered != number:
        yield Repair(lettered, f"read {lettered}: a letter O or I among the figures taken for 0 or 1", (NEVER, PREFIX), "")
    if is_short:
        for padded, serial in with_noughts(written):
            yield Repair(padded, f"read {padded}: leading noughts added", (NEVER, PREFIX, ""), serial)
    if number[0] == "0":
        yield Repair("O" + number[1:], f"read O{number[1:]}: a nought typed for the letter O", (PREFIX,), "")


def zeros_and_ones(number: str) -> str:
    """The number with each letter O or I beside a figure read as 0 or 1.

    >>> zeros_and_ones("33QO7311G"), zeros_and_ones("OP31O1872"), zeros_and_ones("OP3101872")
    ('33Q07311G', 'OP3101872', 'OP3101872')
    """
    if not _BESIDE.search(number):
        return number
    out = list(number)
    for i, c in enumerate(number):
        before, after = out[i - 1] if i else "", number[i + 1] if i + 1 < len(number) else ""
        if c in _LOOKS_ALIKE and (before.isdigit() or after.isdigit() or (i and after in _LOOKS_ALIKE)):
            out[i] = _LOOKS_ALIKE[c]
    return "".join(out)


def with_noughts(written: str) -> list[tuple[str, str]]:
    """(compact number, serial) with one or two noughts before its last group of figures, where that stands apart.

    >>> with_noughts("OP31-1872")
    [('OP3101872', '01872'), ('OP31001872', '001872')]
    """
    groups = _GROUPS.findall(written.upper())
    last = next((n for n in range(len(groups) - 1, 0, -1) if groups[n].isdigit()), 0)
    return [("".join((*groups[:last], "0" * n + groups[last], *groups[last + 1 :])), "0" * n + groups[last]) for n in (1, 2)] if last else []
