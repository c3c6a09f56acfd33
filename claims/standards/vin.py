"""Vehicle identification numbers of 17 characters: 49 CFR 565.15 and ISO 3779, 3780 (secondary copies that agree).

The check digit (place 9) is compulsory for North America (place 1 is 1-5) and often unused elsewhere, so that a
failing digit there is evidence of nothing. It misses some slips: 39 of 512 single substitutions on 1M8GDM9AXKP042788.
Compulsory from model year 1981; before that each maker had its own form.

>>> validate("1M8GDM9AXKP042788")
'1M8GDM9AXKP042788'
>>> decode("1HGCM82633A004352").model_years
(2003,)
>>> decode("WVWZZZ1JZWW100013").model_years, decode("WVWZZZ1JZWW100013").check_required
((1998, 2028), False)
>>> validate("1M8GDM9A1KP042788")
Traceback (most recent call last):
ValueError: check digit 1 where the other characters give X
"""

from dataclasses import dataclass

from claims.standards.vin_areas import area

LENGTH = 17
FIRST_YEAR = 1981
"""First model year in which the 17-character form was compulsory (49 CFR 565)."""
WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
VALUES = dict(zip("ABCDEFGHJKLMNPRSTUVWXYZ0123456789", (*range(1, 9), *range(1, 6), 7, 9, *range(2, 10), *range(10)), strict=True))
YEAR_CODES = "ABCDEFGHJKLMNPRSTVWXY123456789"
"""Place 10: 30 codes from 1980, again from 2010 (49 CFR 565.15)."""
CYCLE = 30


@dataclass(frozen=True, slots=True)
class Vin:
    """What the number says: maker code, country or empty (and how far that is to be trusted), model years, check digit."""

    maker_code: str
    country: str
    country_standing: str
    model_years: tuple[int, ...]
    check_digit: str
    check_required: bool
    check_holds: bool


def compact(text: str) -> str:
    """Upper case, letters and figures only."""
    return "".join(c for c in text.upper() if c.isascii() and c.isalnum())


def check_digit(number: str) -> str:
    """The digit that place 9 should hold, `0`-`9` or `X`; raises `ValueError` for a character that is never used.

    >>> check_digit("11111111111111111")
    '1'
    """
    try:
        total = sum(VALUES[c] * w for c, w in zip(number, WEIGHTS, strict=True)) % 11
    except KeyError as error:
        raise ValueError(f"character {error.args[0]} is never used in a 17-character number") from None
    return "X" if total == 10 else str(total)


def validate(text: str) -> str:
    """The compact form; raises `ValueError` for a wrong length, I, O or Q, or a failing compulsory check digit."""
    number = compact(text)
    if len(number) != LENGTH:
        raise ValueError(f"{len(number)} characters instead of {LENGTH}")
    digit = check_digit(number)
    if number[0] in "12345" and number[8] != digit:
        raise ValueError(f"check digit {number[8]} where the other characters give {digit}")
    return number


def decode(text: str) -> Vin:
    """What a number of 17 legal characters says, whether or not its check digit holds; raises `ValueError`."""
    number = compact(text)
    if len(number) != LENGTH:
        raise ValueError(f"{len(number)} characters instead of {LENGTH}")
    digit = check_digit(number)
    required = number[0] in "12345"
    return Vin(number[:3], *area(number[:2]), _model_years(number, required), digit, required, number[8] == digit)


def _model_years(number: str, required: bool) -> tuple[int, ...]:
    place = YEAR_CODES.find(number[9])
    if place < 0:
        return ()
    first = 1980 + place
    if required:
        return (first,) if number[6].isdigit() else (first + CYCLE,)
    return (first, first + CYCLE)
