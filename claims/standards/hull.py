"""Hull identification numbers of boats: 33 CFR 181.25 (form since August 1984), the two forms of 1972-84, ISO 10087.

Sources: 33 CFR 181.25 (2024 text) and 48 FR 40718 for the current form, published; the straight-year and the
model-year form of 1 November 1972 to July 1984 by three texts that agree (a class association's summary of the Coast
Guard's guidelines, two surveyors), secondary; ISO 10087 (a country code before the same twelve), secondary.
In the current form place 9 is the month, A January to L December with I September, place 10 the last figure of the
year of certification, places 11-12 the model year; that year is the model year or the one before it.

What it cannot tell: the builder without a date (codes are given out again); the day the boat was finished (the date
may lie anywhere from the start of construction to leaving the works); a number that a state assigned; the model or
length inside the serial, which is the builder's own habit. The older forms say either the date or the model year
outright: a straight-year number has no model year. Some makers counted A as August after 1984 too: `if_from_august`.

>>> str(decode("BOA13579B607").built), decode("BOA13579B607").model_year
('2006-02', 2007)
>>> decode("BOA13579M84E").form, str(decode("BOA13579M84E").built)
('model year', '1983-12')
>>> str(decode("ABC123451272").built), decode("ABC123451272").model_year
('1972-12', None)
>>> decode("GB-ABC00042-A9-99").country
'GB'
>>> validate("GB-ABC00042-A3-99")
Traceback (most recent call last):
ValueError: year figure 3 does not go with model year 99: it would have to be 9, or 8 for the year before
"""

import re
from dataclasses import dataclass
from datetime import date

from claims.standards.edtf import Span, month_number, month_text

LENGTH = 12
FIRST_MONTH = month_number(1972, 11)
"""First month in which a hull number was required."""
CURRENT_FROM = month_number(1984, 8)
MONTHS = "ABCDEFGHIJKL"
"""Month letters of the current form, from January."""
FROM_AUGUST = 8
"""Month of letter A in the model-year form; A-E stand in the year before the model year."""
NEVER_IN_A_SERIAL = "IOQ"
STRAIGHT, MODEL_YEAR, CURRENT = "straight year", "model year", "current"
_BREAKS = re.compile(r"[\s./\-\u2010-\u2015]+")
_HEAD = re.compile(r"([A-Z]{3})([A-Z0-9]{5})")
_TAILS = (
    (STRAIGHT, re.compile(r"(?P<month>0[1-9]|1[0-2])(?P<year>[0-9]{2})")),
    (MODEL_YEAR, re.compile(r"M(?P<year>[0-9]{2})(?P<month>[A-L])")),
    (CURRENT, re.compile(r"(?P<month>[A-L])(?P<figure>[0-9])(?P<year>[0-9]{2})")),
)


@dataclass(frozen=True, slots=True)
class Hull:
    """What the number says: form, country code or empty, maker code, serial, month of certification, model year."""

    form: str
    country: str
    maker_code: str
    serial: str
    built: Span
    """Month of certification or manufacture."""
    model_year: int | None
    if_from_august: Span | None
    """Current form only: the month where the maker is known to have kept A for August; else of no account."""
    standing: str
    doubt: str
    """Why the date sits badly with the form's own period, in words; empty where it does not."""


def compact(text: str) -> str:
    """Upper case without white space, hyphens, dots and slashes; any other character stays, so that it is refused.

    >>> compact("gb-abc00042 a9/99")
    'GBABC00042A999'
    """
    bare = _BREAKS.sub("", text)
    return bare.upper() if bare.isascii() else bare


def validate(text: str) -> str:
    """The compact form; raises `ValueError` for a number that no form allows."""
    decode(text)
    return compact(text)


def decode(text: str) -> Hull:
    """What a hull number of any of the forms says; raises `ValueError` with the reason for what is none."""
    number = compact(text)
    country = ""
    if len(number) == LENGTH + 2:
        country, number = number[:2], number[2:]
        if not re.fullmatch("[A-Z]{2}", country):
            raise ValueError("the two characters before the twelve are no country code")
    if len(number) != LENGTH:
        raise ValueError(f"{len(number)} characters instead of {LENGTH} (or {LENGTH + 2} with a country code)")
    head = _HEAD.fullmatch(number[:8])
    if not head:
        raise ValueError("a hull number begins with three letters and five letters or figures")
    for letter in NEVER_IN_A_SERIAL:
        if letter in head[2]:
            raise ValueError(f"letter {letter} in the serial (places 4 to 8), where I, O and Q are never used")
    for form, pattern in _TAILS:
        if found := pattern.fullmatch(number[8:]):
            if country and form != CURRENT:
                raise ValueError(f"the {form} form has no country code before it")
            return _dated(form, country, head[1], head[2], found.groupdict())
    raise ValueError("the last four characters fit no form of date: month and year, M with model year and letter, or letter and three figures")


def _dated(form: str, country: str, maker: str, serial: str, part: dict[str, str]) -> Hull:
    short = int(part["year"])
    if form == CURRENT:
        month = MONTHS.index(part["month"]) + 1
        year, model_year = _years(part["figure"], short)
        return Hull(
            form, country, maker, serial, _one(year, month), model_year, _one(year, _counted_from_august(month)), "published",
            _doubt(form, month_number(year, month)),
        )  # fmt: skip
    if not 72 <= short <= (84 if form == STRAIGHT else 85):
        raise ValueError(f"year {short:02d} in the {form} form, which was used from November 1972 to July 1984")
    year = 1900 + short
    if form == STRAIGHT:
        built, model = month_number(year, int(part["month"])), None
    else:
        month = _counted_from_august(MONTHS.index(part["month"]) + 1)
        built, model = month_number(year - 1 if month >= FROM_AUGUST else year, month), year
    return Hull(form, country, maker, serial, Span(built, built), model, None, "secondary", _doubt(form, built))


def _years(figure: str, short: int) -> tuple[int, int]:
    """(year of certification, model year) of the current form."""
    model_year = short + (1900 if short >= 84 else 2000)
    year = next((y for y in (model_year, model_year - 1) if y % 10 == int(figure)), None)
    if year is None:
        fits = f"{model_year % 10}, or {(model_year - 1) % 10} for the year before"
        raise ValueError(f"year figure {figure} does not go with model year {short:02d}: it would have to be {fits}")
    if year > date.today().year:
        raise ValueError(f"model year {short:02d} in the current form, which began in August 1984: {year} is still to come")
    return year, model_year


def _counted_from_august(place: int) -> int:
    """The month of the letter in this place (1-12) where A is August."""
    return (place - 1 + FROM_AUGUST - 1) % 12 + 1


def _one(year: int, month: int) -> Span:
    return Span(month_number(year, month), month_number(year, month))


def _doubt(form: str, built: int) -> str:
    if form == CURRENT:
        return f"{month_text(built)} is before August 1984, when the current form began" if built < CURRENT_FROM else ""
    if built < FIRST_MONTH:
        return f"{month_text(built)} is before November 1972, when hull numbers were first required"
    return f"{month_text(built)} is after July 1984, when the {form} form ended" if built >= CURRENT_FROM else ""
