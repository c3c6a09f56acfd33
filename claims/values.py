"""Figures as written to values: years, dates and periods as EDTF, and what is no year at all."""

import re
from datetime import date

FIRST_YEAR = 1885
CENTURY = 1900
WRITTEN = 2026
"""When this was written: for an earlier year the clock need not be asked."""
_ORDINAL = re.compile(r"(\d{1,2})(?:st|nd|rd|th|er)?")


def last_year() -> int:
    """The latest year that a listing can speak of: the next model year."""
    return date.today().year + 1


def is_year(token: str) -> bool:
    """Whether a token is a four-figure year that a vehicle can have.

    >>> is_year("1931"), is_year("2002"), is_year("1850"), is_year("750")
    (True, True, False, False)
    """
    return len(token) == 4 and token.isascii() and token.isdigit() and (year := int(token)) >= FIRST_YEAR and (year < WRITTEN or year <= last_year())


def two_figure_year(token: str) -> str:
    """A two-figure year in its century: to this year's figures the present one, else the last; empty for none.

    >>> two_figure_year("67"), two_figure_year("98"), two_figure_year("7")
    ('1967', '1998', '')
    """
    if len(token) != 2 or not (token.isascii() and token.isdigit()):
        return ""
    year = CENTURY + int(token)
    return str(year + 100 if int(token) < 26 and year + 100 <= last_year() else year)


def day_of(token: str) -> int:
    """A day of the month, with or without its ordinal ending; 0 for none.

    >>> day_of("12th"), day_of("1st"), day_of("40")
    (12, 1, 0)
    """
    found = _ORDINAL.fullmatch(token)
    return int(found[1]) if found and 1 <= int(found[1]) <= 31 else 0


def month_date(year: str, month: int, day: int = 0) -> str:
    """Year, month and perhaps day as EDTF."""
    return f"{year}-{month:02d}-{day:02d}" if day else f"{year}-{month:02d}"


def numeric_date(first: int, second: int, year: str, *, month_first: bool = False) -> str:
    """A date in figures as EDTF, in European order (or the month first, for adverts in dollars); where only the other order is possible, that one; empty for none.

    >>> numeric_date(12, 1, "1939"), numeric_date(3, 25, "1967"), numeric_date(30, 30, "1967")
    ('1939-01-12', '1967-03-25', '')
    >>> numeric_date(5, 12, "1931", month_first=True)
    '1931-05-12'
    """
    if month_first and 1 <= first <= 12 and 1 <= second <= 31:
        return month_date(year, first, second)
    if 1 <= second <= 12 and 1 <= first <= 31:
        return month_date(year, second, first)
    if 1 <= first <= 12 and 1 <= second <= 31:
        return month_date(year, first, second)
    return ""
