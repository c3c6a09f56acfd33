"""Registration marks of the United Kingdom: dateless, suffix, prefix, current, Q; Northern Ireland, Isle of Man.

Sources: layouts SI 2001/561 schedule 3 (legislation.gov.uk); age identifiers by their rule, seen in three sources; year
letters as collected with the project's facts (uk_registration_years, which names no publication), each row with its
standing; dateless forms "Car registration and number plates 1903 to 2003" (studylib.net/doc/18493429); Northern Ireland
and Ireland an encyclopaedia in three copies that agree, autokennzeichen.de for codes, Irish Times; Isle of Man the Public
Record Office, record S29; Q marks and marks given late DVLA guidance and the same book. Sources differ on the first
month of suffix A: both spans are given.

What it cannot tell: the build year, or the first registration. `issue` is the period that the mark stands for; an
age-related mark may be given out later, and a mark may pass from vehicle to vehicle, so that a dated mark may make
a vehicle look older than it is, never newer. A dateless mark may be on any vehicle. Councils' own series; marks of the
Channel Islands, military and trade marks; a misread character.

>>> decode("ABC 123E").form, [str(s) for s in decode("ABC 123E").issue], decode("ABC 123E").is_dated
('suffix', ['1967-01/1967-07'], True)
>>> [str(s) for s in decode("ABC 123A").issue]
['1963', '1963-02/1963-12']
>>> decode("AXI 2541").form, decode("AXI 2541").is_dated, str(decode("AXI 2541").issue[0])
('Northern Ireland', False, '1966-01/..')
>>> validate("ABC 123Z")
Traceback (most recent call last):
ValueError: letter Z was never a year letter at the end of a mark
"""

import re
from dataclasses import dataclass

from claims.standards.edtf import Span
from claims.standards.edtf import decode as span

CURRENT, PREFIX, SUFFIX, DATELESS, Q_MARK = "current", "prefix", "suffix", "dateless", "Q"
NORTH, IRELAND, MAN = "Northern Ireland", "Ireland", "Isle of Man"
SUFFIX_LETTERS = (
    ("A", "1963-01/1963-12", "seen conflict"), ("A", "1963-02/1963-12", "seen conflict"), ("B", "1964", "seen"),
    ("C", "1965", "seen"), ("D", "1966", "by rule seen"), ("E", "1967-01/1967-07", "seen x2"), ("F", "1967-08/1968-07", "seen x2"),
    *((letter, f"{year}-08/{year + 1}-07", "by rule seen") for year, letter in enumerate("GHJKLMNPRSTVWXY", 1968)),
)  # fmt: skip
"""Letter, months, standing; from August 1967 a year runs August to July."""
PREFIX_LETTERS = (
    *((letter, f"{year}-08/{year + 1}-07", "seen") for year, letter in enumerate("ABCDEFGHJKLMNPR", 1983)),
    ("S", "1998-08/1999-02", "seen x2"), ("T", "1999-03/1999-08", "seen x2"), ("V", "1999-09/2000-02", "by rule seen"),
    ("W", "2000-03/2000-08", "by rule seen"), ("X", "2000-09/2001-02", "by rule seen"), ("Y", "2001-03/2001-08", "seen start"),
)  # fmt: skip
AGE_IDENTIFIERS = (
    *((f"{n + 50}", f"{2000 + n}-09/{2001 + n}-02", "rule seen x3") for n in range(1, 27)),
    *((f"{n:02d}", f"{2000 + n}-03/{2000 + n}-08", "rule seen x3") for n in range(2, 27)),
)
"""Two figures, months, standing: the year from March, the year and 50 from September; collected as far as 76."""
MANX = (
    (r"MN\d{1,4}", "1906-01/1935-03 1971-11/1974-05"), (r"MAN\d{1,3}", "1935-03/1936-04"), (r"[B-HJ-PRT-Y]MN\d{1,3}", "1936-04/1959-05"),
    (r"\d{1,4}MN", "1959-05/1964-05 1959-05/1964-10"), (r"\d{1,3}MAN", "1964-05/1964-10"), (r"\d{1,3}[B-HJ-PRT-Y]MN", "1964-10/1971-11"),
    (r"MAN\d{1,3}[A-HJ-NPRT-Y]", "1974-05/1979-01"), (r"[A-HJ-PRT-Y]\d{1,3}MAN", "1979-01/1983-05"), (r"MAN\d{4}", "1983-05/1985-07"),
    (r"\d{4}MAN", "1985-07/1987-08"), (r"[B-HJ-PRT-Y]MN\d{1,3}[A-HJ-NPRT-Y]", "1987-08/"),
)  # fmt: skip
"""Forms of the Isle of Man; letters here are serials and no years. MN 1 to MN 9999 was given out twice."""
DATELESS_SERIES = {
    "letters first": ("1903/1935~", "1903/1938"), "figures first": ("/1963", "195X/196X"), "three letters": ("1932/1963", "1932/1965"),
}  # fmt: skip
"""Both spans of each: the book's and one council's, the layout's and the book's, the usual and that of some councils."""
NORTHERN_CODES = re.compile("[A-HJ-PR-Y]Z|I[ABGJLW]|[JOUX]I")
GIVEN_LATE = re.compile(r"SV[89]\d{3}|[A-Z]SK\d{1,3}|[A-Z]VS\d{1,3}")
"""Series seen given to older vehicles long after their age: SV 8000-9999 (never issued before), xSK, xVS (one mark each)."""
_BREAKS = re.compile(r"[\s./\-\u2010-\u2015]+")
_LEADING_ZERO = re.compile(r"(?<!\d)0")
_CURRENT = re.compile(r"[A-Z]{2}(\d{2})[A-Z]{3}", re.ASCII)
_PREFIX = re.compile(r"([A-Z])\d{1,3}([A-Z]{3})", re.ASCII)
_SUFFIX = re.compile(r"([A-Z]{3})\d{1,3}([A-Z])", re.ASCII)
_PLAIN = re.compile(r"([A-Z]{1,3})(\d{1,4})|(\d{1,4})([A-Z]{1,3})", re.ASCII)


@dataclass(frozen=True, slots=True)
class UkMark:
    """Form of a mark, its year letter or age identifier, and every span of months in which its series was given out."""

    form: str
    identifier: str
    issue: tuple[Span, ...]
    """Empty where nothing is known of it."""
    is_dated: bool
    """Whether the mark itself says when it was given out; a dateless one may be given to any vehicle at any later time."""
    standing: str
    """`published`, or `secondary` where sources differ or only quote another."""
    note: str = ""


def compact(text: str) -> str:
    """Upper case without white space, hyphens, dots and slashes; any other character stays, so that it is refused."""
    bare = _BREAKS.sub("", text)
    return bare.upper() if bare.isascii() else bare


def validate(text: str) -> str:
    """The compact form; raises `ValueError` for a mark that was never issued or has none of the forms."""
    decode(text)
    return compact(text)


def decode(text: str) -> UkMark:
    """Form and issue of a mark; raises `ValueError` with the reason for what is none. Messages never repeat the mark."""
    mark = compact(text)
    if found := _CURRENT.fullmatch(mark):
        return _lettered(CURRENT, AGE_IDENTIFIERS, found[1], f"{found[1]} is no age identifier (02 to 26, 51 to 76 are known)")
    if _LEADING_ZERO.search(mark):
        raise ValueError("the figures of a mark never begin with 0")
    if manx := [spans for pattern, spans in MANX if re.fullmatch(pattern, mark, re.ASCII)]:
        issue = tuple(span(s) for s in manx[0].split())
        standing = "secondary" if len(issue) > 1 or manx[0] == "1987-08/" else "published"
        return UkMark(MAN, "", issue, not re.fullmatch(r"MN\d+", mark), standing, "letters of this form are serials, no years")
    if found := _SUFFIX.fullmatch(mark):
        _no_code_without_years(found[1])
        return _lettered(SUFFIX, SUFFIX_LETTERS, found[2], f"letter {found[2]} was never a year letter at the end of a mark")
    if found := _PREFIX.fullmatch(mark):
        _no_code_without_years(found[2])
        if found[1] == "Q":
            return UkMark(Q_MARK, "Q", (), False, "published", "age or identity was in doubt when it was given")
        return _lettered(PREFIX, PREFIX_LETTERS, found[1], f"letter {found[1]} was never a year letter at the start of a mark")
    if found := _PLAIN.fullmatch(mark):
        _no_manx(found[1] or found[4])
        return _plain(mark, found[1] or found[4], len(found[2] or found[3]), bool(found[1]))
    raise ValueError("no form of a United Kingdom mark: letters and figures stand in no known order")


def _lettered(form: str, table: tuple[tuple[str, str, str], ...], identifier: str, refusal: str) -> UkMark:
    rows = [(span(months), standing) for key, months, standing in table if key == identifier]
    if not rows:
        raise ValueError(refusal)
    standing = "secondary" if any("conflict" in s for _, s in rows) else "published"
    return UkMark(form, identifier, tuple(s for s, _ in rows), True, standing)


def _no_manx(letters: str) -> None:
    if letters[-2:] == "MN" or letters == "MAN":
        raise ValueError("MN and MAN are of the Isle of Man, which gave out no mark of this form")


def _no_code_without_years(letters: str) -> None:
    _no_manx(letters)
    if set(letters) & set("IZ"):
        raise ValueError("marks with I or Z are of Northern Ireland or Ireland and never had a year letter")


def _plain(mark: str, letters: str, figures: int, letters_first: bool) -> UkMark:
    """A mark of one group of letters and one of figures."""
    if letters == "QNI":
        return UkMark(Q_MARK, "Q", (), False, "published", "Northern Ireland: age or identity was in doubt when it was given")
    if set(letters) & set("IZ"):
        return _irish(letters, figures, letters_first)
    if len(letters) == 3 and figures == 4:
        raise ValueError("three letters with four figures were given out only in Northern Ireland, whose codes have I or Z")
    if "Q" in letters:
        return UkMark(DATELESS, "", (), False, "secondary", "nothing is known of letters with Q outside the Q marks")
    spans = DATELESS_SERIES["three letters" if len(letters) == 3 else "letters first" if letters_first else "figures first"]
    note = "marks of this series were given to older vehicles long after (age-related)" if GIVEN_LATE.fullmatch(mark) else ""
    return UkMark(DATELESS, "", tuple(span(s) for s in spans), False, "secondary", note)


def _irish(letters: str, figures: int, letters_first: bool) -> UkMark:
    northern_form = len(letters) == 3 and figures == 4
    if not northern_form and not NORTHERN_CODES.fullmatch(letters[-2:]):
        return UkMark(IRELAND, "", (span("1903/1986"),), False, "published", "an index mark of Ireland, without a year")
    if len(letters) == 3:
        return UkMark(NORTH, "", (span("1966-01/"),) if letters_first else (), False, "published")
    return UkMark(NORTH, "", (span("1904-01/1957-12" if letters_first else "1958-01/1973-10"),), False, "secondary")
