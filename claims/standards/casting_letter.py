"""Year letters cast into parts of International Harvester tractors: place in the alphabet plus 1930.

Source: antiquetractorblog.com, "How to find your tractor's birthday" (6 July 2015), which gives the rule; published.
Its letters hold to about 1950 (T); for U to Z (1951-56) the rule is only carried on: secondary.

What it cannot tell: the day and month (no source read says how they stand beside the letter); years before 1931 and
after 1956, where a letter may come again; whether I, O and Q, which the rule counts, were ever cast. A casting is
about a month older than its tractor, and any age where it came from another machine or as a spare: the letter is
the earliest date of the part, never by itself the year of the tractor. Raised figures beside it may be part numbers.

>>> str(decode("H").cast), decode("H").standing
('1938', 'published')
>>> decode("V").standing
'secondary'
>>> validate("12")
Traceback (most recent call last):
ValueError: a year letter is one letter from A to Z
"""

import re
from dataclasses import dataclass

from claims.standards.edtf import Span

BASE_YEAR = 1930
LAST_SURE_YEAR = 1950
"""To about this year the source vouches for the letters."""
_BREAKS = re.compile(r"[\s./\-\u2010-\u2015]+")


@dataclass(frozen=True, slots=True)
class CastingLetter:
    """The year in which the part was cast, which is the earliest that its tractor can have had it when new."""

    letter: str
    cast: Span
    standing: str


def compact(text: str) -> str:
    """Upper case without white space, hyphens, dots and slashes; any other character stays, so that it is refused."""
    bare = _BREAKS.sub("", text)
    return bare.upper() if bare.isascii() else bare


def validate(text: str) -> str:
    """The letter; raises `ValueError` where it is none."""
    return decode(text).letter


def decode(text: str) -> CastingLetter:
    """The year of a casting letter; raises `ValueError` for anything but one letter."""
    letter = compact(text)
    if not re.fullmatch("[A-Z]", letter):
        raise ValueError("a year letter is one letter from A to Z")
    year = BASE_YEAR + ord(letter) - ord("A") + 1
    return CastingLetter(letter, Span(year * 12, year * 12 + 11), "published" if year <= LAST_SURE_YEAR else "secondary")
