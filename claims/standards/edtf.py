"""Dates with doubt: the levels of EDTF (ISO 8601-2:2019, Library of Congress specification) that listings need.

A date covers whole months, counted from year 0: `decode` gives the first and last month that it can mean.

>>> decode("1942-03")
Span(first=23306, last=23306, circa=False, uncertain=False)
>>> str(decode("1942/1944")), str(decode("196X")), str(decode("/1970"))
('1942-01/1944-12', '1960-01/1969-12', '../1970-12')
>>> decode("1952~").circa, decode("1964?").uncertain
(True, True)
>>> str(decode("1931-21"))
'1931-03/1931-05'
>>> compact(" 1942-03-15 ")
'1942-03-15'
>>> validate("1942-13")
Traceback (most recent call last):
ValueError: not a date of EDTF: '1942-13'
"""

import re
from dataclasses import dataclass

OPEN_START = 0
OPEN_END = 12 * 10_000 - 1
_DATE = re.compile(r"(\d{3})([\dX])(?:-(\d\d)(?:-(\d\d))?)?([?~%]?)")
_SEASONS = {21: (3, 5), 22: (6, 8), 23: (9, 11), 24: (12, 14)}
"""Spring, summer, autumn, winter as (first, last) month of their year; EDTF leaves the months open (from memory)."""


@dataclass(frozen=True, slots=True)
class Span:
    """First and last month that a date can mean (year * 12 + month - 1), and the qualifiers `~` and `?`."""

    first: int
    last: int
    circa: bool = False
    uncertain: bool = False

    @property
    def first_year(self) -> int:
        """Calendar year of the first month."""
        return self.first // 12

    @property
    def last_year(self) -> int:
        """Calendar year of the last month."""
        return self.last // 12

    def __str__(self) -> str:
        if self.first == self.last:
            return month_text(self.first)
        if self.first % 12 == 0 and self.last == self.first + 11:
            return f"{self.first_year:04d}"
        start = ".." if self.first == OPEN_START else month_text(self.first)
        return f"{start}/{'..' if self.last == OPEN_END else month_text(self.last)}"


def month_text(month: int) -> str:
    """A month number as `YYYY-MM`."""
    return f"{month // 12:04d}-{month % 12 + 1:02d}"


def month_number(year: int, month: int) -> int:
    """Year and month (1-12) as a month number."""
    return year * 12 + month - 1


def compact(text: str) -> str:
    """Without white space around."""
    return text.strip()


def validate(text: str) -> str:
    """The compact form; raises `ValueError` where it is no date."""
    decode(text)
    return compact(text)


def decode(text: str) -> Span:
    """First and last month of a date, a season or an interval; an empty or `..` end is open.

    >>> str(decode("1966-08/1967-07"))
    '1966-08/1967-07'
    """
    start, slash, end = compact(text).partition("/")
    if not slash:
        return _one(start)
    first = _one(start) if start not in {"", ".."} else Span(OPEN_START, OPEN_START)
    last = _one(end) if end not in {"", ".."} else Span(OPEN_END, OPEN_END)
    if last.last < first.first:
        raise ValueError(f"an interval that runs backwards: {text!r}")
    return Span(first.first, last.last, first.circa or last.circa, first.uncertain or last.uncertain)


def _one(text: str) -> Span:
    found = _DATE.fullmatch(text)
    if not found:
        raise ValueError(f"not a date of EDTF: {text!r}")
    century, unit, month, day, mark = found.groups()
    qualifiers = {"circa": mark in {"~", "%"}, "uncertain": mark in {"?", "%"}}
    if unit == "X":
        return Span(int(century) * 120, int(century) * 120 + 119, **qualifiers)
    year = int(century + unit)
    if month is None:
        return Span(year * 12, year * 12 + 11, **qualifiers)
    number = int(month)
    if number in _SEASONS and day is None:
        first, last = _SEASONS[number]
        return Span(month_number(year, first), month_number(year, last), **qualifiers)
    if not 1 <= number <= 12 or (day is not None and not 1 <= int(day) <= 31):
        raise ValueError(f"not a date of EDTF: {text!r}")
    return Span(month_number(year, number), month_number(year, number), **qualifiers)
