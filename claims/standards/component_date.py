"""Source-date codes on components (radios, valves, controls): maker three figures, year one or two figures, week.

Sources: the form and three worked codes as collected with the project's facts, which name no publication:
secondary.
Six figures hold one figure of the year, seven hold two. One figure leaves the decade open: every year that ends in
it is kept, from 1920 (before any broadcast receiver, from memory) to this year.

What it cannot tell: the maker's name (no list was read); the decade of a one-figure year; whether six or seven figures
are a source-date code at all and no part number; codes with a maker of four figures. The date is the component's:
the earliest date for it, and never a date of the vehicle, since a component may have come at any time later.

>>> [str(w) for w in decode("190-7215").readings]
['week 15 of 1972']
>>> decode("137634").maker_code, [w.year for w in decode("137634").readings if 1950 <= w.year < 1980]
('137', [1956, 1966, 1976])
>>> str(decode("190-7215").readings[0].span)
'1972-04'
>>> validate("606-4-54")
Traceback (most recent call last):
ValueError: week 54, where a year has weeks 01 to 53
"""

import re
from dataclasses import dataclass
from datetime import date, timedelta

from claims.standards.edtf import Span, month_number

FIRST_YEAR = 1920
LAST_WEEK = 53
_BREAKS = re.compile(r"[\s./\-\u2010-\u2015]+")
_CODE = re.compile(r"([0-9]{3})([0-9]{1,2})([0-9]{2})")


@dataclass(frozen=True, slots=True)
class Week:
    """A week (1-53) of a calendar year."""

    year: int
    week: int

    @property
    def span(self) -> Span:
        """The months that the week touches, whichever of the usual ways weeks are counted.

        Counted from the earliest first week (it begins on 29 December) to the latest (it ends on 13 January).

        >>> str(Week(1997, 31).span), str(Week(2001, 1).span)
        ('1997-07/1997-08', '2000-12/2001-01')
        """
        new_year = date(self.year, 1, 1) + timedelta(weeks=self.week - 1)
        first, last = new_year - timedelta(days=3), new_year + timedelta(days=12)
        return Span(month_number(first.year, first.month), month_number(last.year, last.month))

    def __str__(self) -> str:
        return f"week {self.week} of {self.year}"


@dataclass(frozen=True, slots=True)
class ComponentDate:
    """Maker code and every week that the code can mean, in order; the decade is known where there is one."""

    maker_code: str
    year_figures: str
    readings: tuple[Week, ...]


def week_number(figures: str) -> int:
    """Two figures as a week; raises `ValueError` outside 01 to 53."""
    if not 1 <= int(figures) <= LAST_WEEK:
        raise ValueError(f"week {figures}, where a year has weeks 01 to {LAST_WEEK}")
    return int(figures)


def compact(text: str) -> str:
    """Upper case without white space, hyphens, dots and slashes; any other character stays, so that it is refused.

    >>> compact("606-4-21")
    '606421'
    """
    bare = _BREAKS.sub("", text)
    return bare.upper() if bare.isascii() else bare


def validate(text: str) -> str:
    """The compact form; raises `ValueError` where it is no source-date code."""
    decode(text)
    return compact(text)


def decode(text: str) -> ComponentDate:
    """Maker code and every week that the code can mean; raises `ValueError` with the reason for what is none."""
    code = compact(text)
    found = _CODE.fullmatch(code)
    if not found:
        raise ValueError("a source-date code has six or seven figures: maker three, year one or two, week two")
    maker, figures, week = found[1], found[2], week_number(found[3])
    years = [y for y in range(FIRST_YEAR, date.today().year + 1) if y % 10 ** len(figures) == int(figures)]
    return ComponentDate(maker, figures, tuple(Week(y, week) for y in years))
