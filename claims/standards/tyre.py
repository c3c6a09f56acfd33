"""Date codes of tyres: the end of the tyre identification number, 49 CFR 574.5.

Sources: 49 CFR 574.5 (two figures week, two figures year), published; three-figure codes (two figures week, one
figure year) by three vehicle handbooks, with the number in use in the United States since January 1971.
Four figures since 2000. Three figures leave the decade open: every reading from 1971 on is kept. Handbooks differ on
when four figures came, January or July 2000, so a three-figure code of early 2000 is kept too.

What it cannot tell: the decade of three figures; the day (weeks are given as the months they touch); the maker (no list
of plant codes was read). A tyre date is never a vehicle date: it bounds only what is said of the tyres ("original
tyres"). The number is complete on one side of many tyres only. Glass carries a DOT number too, without a date.

>>> [str(w) for w in decode("0301").readings]
['week 3 of 2001']
>>> [w.year for w in decode("317").readings]
[1977, 1987, 1997]
>>> decode("317").is_decade_known, [str(w.span) for w in decode("2501").readings]
(False, ['2001-06'])
>>> validate("5401")
Traceback (most recent call last):
ValueError: week 54, where a year has weeks 01 to 53
"""

import re
from dataclasses import dataclass
from datetime import date

from claims.standards.component_date import Week, week_number
from claims.standards.edtf import month_number

FIRST_YEAR = 1971
"""Tyre identification numbers in the United States since January 1971."""
FOUR_FIGURES_FROM = 2000
THREE_FIGURES_TO = month_number(2000, 7)
"""The later of the two months that handbooks give for the change."""
_BREAKS = re.compile(r"[\s./\-\u2010-\u2015]+")
_BARE = re.compile(r"[0-9]{3,4}")
_WHOLE = (re.compile(r"DOT[A-Z0-9]{4,8}([0-9]{3})"), re.compile(r"DOT[A-Z0-9]{4,9}([0-9]{4})"))
"""The whole number: plant, size and type, then the date (lengths of the first three from memory)."""


@dataclass(frozen=True, slots=True)
class Tyre:
    """Every week that the code can mean, in order."""

    readings: tuple[Week, ...]

    @property
    def is_decade_known(self) -> bool:
        """Whether there is one reading."""
        return len(self.readings) == 1


def compact(text: str) -> str:
    """Upper case without white space, hyphens, dots and slashes; any other character stays, so that it is refused.

    >>> compact("dot u2ll lmlr 0301")
    'DOTU2LLLMLR0301'
    """
    bare = _BREAKS.sub("", text)
    return bare.upper() if bare.isascii() else bare


def validate(text: str) -> str:
    """The compact form; raises `ValueError` where it is no date code and no number that ends in one."""
    decode(text)
    return compact(text)


def decode(text: str) -> Tyre:
    """Every week that a date code, or a whole number beginning with DOT, can mean; raises `ValueError` for what is none.

    A whole number may end in more figures than its date, so that there both lengths are read.

    >>> [w.year for w in decode("DOT U2LL LMLR 0301").readings]
    [2001]
    >>> [str(w) for w in decode("DOT U2LL LM1 317").readings]
    ['week 31 of 1977', 'week 31 of 1987', 'week 31 of 1997', 'week 13 of 2017']
    """
    code = compact(text)
    if _BARE.fullmatch(code):
        return Tyre(_weeks(code))
    dates = [found[1] for pattern in _WHOLE if (found := pattern.fullmatch(code))]
    if not dates:
        raise ValueError("a date code has three or four figures (a whole number begins with DOT and ends in them)")
    readings: list[Week] = []
    failure: ValueError | None = None
    for figures in dates:
        try:
            readings += _weeks(figures)
        except ValueError as error:
            failure = error
    if not readings and failure:
        raise failure
    return Tyre(tuple(readings))


def _weeks(figures: str) -> tuple[Week, ...]:
    week, year = week_number(figures[:2]), int(figures[2:])
    if len(figures) == 4:
        if FOUR_FIGURES_FROM + year > date.today().year:
            raise ValueError(f"year {figures[2:]} is still to come: four figures stand for week and year since {FOUR_FIGURES_FROM}")
        return (Week(FOUR_FIGURES_FROM + year, week),)
    years = [Week(y, week) for y in range(FIRST_YEAR, FOUR_FIGURES_FROM + 1) if y % 10 == year]
    return tuple(w for w in years if w.span.first <= THREE_FIGURES_TO)
