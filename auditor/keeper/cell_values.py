"""What a cell of a spreadsheet says: a number with its letters, a range, an open end, a period. No cell is guessed at."""

import re
from dataclasses import dataclass

OPEN = frozenset(
    "- – — ? … ... on onward onwards up present to-present to-date now end to-end open date unknown tbc n/a na ende heute bis-heute offen unbekannt fin "
    "à-ce-jour inconnu heden einde onbekend oggi fine".split()
)
_OPEN_BEHIND = re.compile(r"\s*(?:\+|→|-|–|on|onwards?|up|upwards?|and up|to (?:present|date|end|now)|bis heute|ff\.?)\s*$", re.IGNORECASE)
_ODD_BLANKS = re.compile("[\u00a0\u2007\u2009\u202f]")
_LABEL = re.compile(r"^(?:nos?\.?|nr\.?|n°|№|#|serial)\s*(?=\d|[A-Z]{1,4}[\s\-]?\d)", re.IGNORECASE)
_NUMBER = re.compile(
    r"(?P<prefix>|.*?[^\d.,'’\s\-/]|.*?\d(?=[\s\-/]))[\s\-/]*"
    r"(?P<figures>\d{1,3}(?:(?P<mark>[.,'’ ])\d{3})(?:(?P=mark)\d{3})*|\d+)(?:[.,]0{1,2})?(?P<suffix>[A-Za-z]{0,3})[*†‡]*"
)
_LOOKS_LIKE_FIGURES = re.compile(r"[OoIlL]+")
_NO_PREFIX = re.compile(
    r"(?-i:[a-zäöüéèê]{4,})|(?<!\w)(?:ca|circa|c|approx|about|around|over|under|etwa|env|vers|from|von|to|bis)(?!\w)\.?\s*$", re.IGNORECASE
)
"""Words that are no letters of a number."""
_BETWEEN = re.compile(r"\s+(?:to|bis|thru|through|until|tot|à|au|al|a|-|–|—)\s+|\s*(?:–|—|\.{2,3}|…|→)\s*", re.IGNORECASE)
_HYPHEN = re.compile(r"(\S*\d)\s*[-/]\s*(\S*\d\S*)")
MONTHS = {
    word: n
    for n, words in enumerate(
        (
            "january jan januar januari janvier gennaio genn gen jänner", "february feb februar februari février févr fév fevrier febbraio febb",
            "march mar mär märz marz mars maart mrt marzo", "april apr avril avr aprile", "may mai mei mag maggio", "june jun juni juin giugno giu",
            "july jul juli juillet juil luglio lug", "august aug août aout augustus agosto ago", "september sept sep septembre settembre sett",
            "october oct oktober okt octobre ottobre ott", "november nov novembre", "december dec dezember dez décembre déc decembre dicembre dic",
        ),
        1,
    )
    for word in words.split()
}  # fmt: skip
FIRST_YEAR, LAST_YEAR = 1850, 2040
HALVES = {"early": "01/{y}-06", "mid": "04/{y}-09", "late": "07/{y}-12"}
"""Months that early, mid and late mean here (common practice, no source)."""
SEASON_OR_SPAN = "season or span"
DAY_OR_MONTH = "day or month first"


@dataclass(frozen=True)
class Number:
    """A serial with the letters before and behind it."""

    prefix: str
    serial: int
    suffix: str = ""
    figures: int = 0
    """How many figures were written."""


@dataclass(frozen=True)
class When:
    """A period as EDTF, what kind of cell it was (year, month, span) and what the cell alone cannot tell."""

    text: str
    kind: str
    unclear: str = ""
    other: str = ""
    """The other reading, where it is unclear."""
    said_kind: str = ""
    """The period kind, where the cell says it."""


def is_open(text: str) -> bool:
    """Whether a cell says that there is no end, or none known."""
    return "-".join(text.lower().split()) in OPEN or not text


def number(text: str) -> Number | None:
    """A number as written in a cell, or None.

    >>> number("20,895").serial, number("20.895").serial, number("20 895,00").serial, number("GHN3-101")
    (20895, 20895, 20895, Number(prefix='GHN3', serial=101, suffix='', figures=3))
    >>> number("DU 24875").prefix, number("3.5"), number("approx")
    ('DU', None, None)
    >>> number("2OO"), number("about 400")
    (None, None)
    """
    cleaned = _LABEL.sub("", _ODD_BLANKS.sub(" ", text).strip())
    found = _NUMBER.fullmatch(cleaned)
    if not found:
        return None
    prefix = "".join(c for c in found["prefix"].upper() if c.isalnum())
    figures = re.sub(r"\D", "", found["figures"])
    if _LOOKS_LIKE_FIGURES.fullmatch(found["suffix"]) or _NO_PREFIX.search(found["prefix"]):
        return None
    if (found["prefix"] and not any(c.isalpha() for c in prefix)) or len(figures) > 18 or len(prefix) > 20 or not figures.isascii():
        return None
    return Number(prefix, int(figures), found["suffix"].upper(), len(figures))


def number_and_open(text: str) -> tuple[Number | None, bool]:
    """A number, and whether words behind it leave its end open ("111650 on")."""
    if found := number(text):
        return found, False
    cut = _OPEN_BEHIND.sub("", text)
    return (number(cut), True) if cut != text else (None, False)


def number_range(text: str) -> tuple[Number, Number | None] | None:
    """First and last number of one cell ("20895–77772", "DU101 to DU5824", "111650 – present"); None for no range."""
    text = re.sub(r"^(?:from|von|de|van|da)\s+", "", text, flags=re.IGNORECASE)
    parts = _BETWEEN.split(text, maxsplit=1)
    if len(parts) == 2 and (first := number(parts[0])):
        if is_open(parts[1]):
            return first, None
        last = number(parts[1])
        return (first, last) if last else None
    if hyphen := _HYPHEN.fullmatch(text):
        first, last = number(hyphen[1]), number(hyphen[2])
        if first and last and first.prefix == last.prefix and last.serial >= first.serial:
            return first, last
    return None


def when(text: str) -> When | None:
    """A period as written in a cell, or None.

    >>> when("1946").text, when("Sept. 1962").text, when("c. 1950").text, when("1946/48").text, when("3.1.1962").text
    ('1946', '1962-09', '1950~', '1946/1948', '1962-01')
    """
    plain = _ODD_BLANKS.sub(" ", text).strip().lower().rstrip(".,;*†‡ ")
    said = ""
    for words, kind in (
        (r"model ?year|my|modelljahr|millésime", "model year"),
        (r"season|saison", "factory season"),
        (r"calendar year", "calendar year"),
    ):
        plain, count = re.subn(rf"\b(?:{words})\b\s*|(?<=\d)\s*models?$", "", plain)
        said = kind if count else said
    found = _when(plain.strip())
    return When(found.text, found.kind, found.unclear, found.other, said) if found and said else found


def _when(plain: str) -> When | None:
    about = re.match(r"(?:c\.?|ca\.?|circa|about|approx\.?|~|um|vers|env\.?|rond|circa)\s*(?=\d)", plain)
    if about or re.fullmatch(r"\d{4}\s*[?~]", plain):
        year = plain[about.end() :] if about else plain.rstrip("?~ ")
        return When(year + ("?" if plain.endswith("?") else "~"), "year") if _is_year(year) else None
    if _is_year(plain):
        return When(plain, "year")
    if decade := re.fullmatch(r"(1[89]\d|20\d)(?:[?x]|0s|0er)", plain):
        return When(f"{decade[1]}X", "span")
    quarter = re.fullmatch(r"(?:q([1-4])|([1-4])(?:st|nd|rd|th|\.)? quart(?:er|al))[\s/\-]*(\d{4})|(\d{4})[\s/\-]*q([1-4])", plain)
    if quarter:
        year, n = quarter[3] or quarter[4], int(quarter[1] or quarter[2] or quarter[5])
        return When(f"{year}-{3 * n - 2:02d}/{year}-{3 * n:02d}", "span") if _is_year(year) else None
    if half := re.fullmatch(r"(early|mid|late)[\s\-]*(\d{4})", plain):
        return When(f"{half[2]}-{HALVES[half[1]].format(y=half[2])}", "span") if _is_year(half[2]) else None
    return _in_figures(plain) or _in_words(plain)


def _in_figures(plain: str) -> When | None:
    if iso := re.fullmatch(r"(\d{4})-(\d\d)-(\d\d)(?:[ t]00:00(?::00)?)?", plain):
        return _month(iso[1], iso[2]) if 1 <= int(iso[3]) <= 31 else None
    if pair := re.fullmatch(r"(\d{4})\s*([\-/–])\s*(\d{2})", plain):
        return _year_pair(pair[1], pair[3])
    if span := re.fullmatch(r"(\d{4})(?:\s*[\-/–]\s*|\s+(?:to|bis|à|tot|a|-)\s+)(\d{4})", plain):
        return When(f"{span[1]}/{span[2]}", "span") if _is_year(span[1]) and _is_year(span[2]) and span[1] < span[2] else None
    if month := re.fullmatch(r"(\d{1,2})\s*[./\-]\s*(\d{4})", plain):
        return _month(month[2], month[1])
    if month := re.fullmatch(r"(\d{4})\s*[./]\s*(\d{1,2})", plain):
        return _month(month[1], month[2])
    if months := re.fullmatch(r"(\d{4}-\d\d)\s*(?:/|to|–)\s*(\d{4}-\d\d)", plain):
        a, b = (_month(m[:4], m[5:]) for m in months.groups())
        return When(f"{a.text}/{b.text}", "span") if a and b and a.text <= b.text else None
    if day := re.fullmatch(r"(\d{1,2})([./\-])(\d{1,2})[./\-](\d{4})", plain):
        return _day(int(day[1]), int(day[3]), day[4], day[2])
    if short := re.fullmatch(r"['’](\d\d)", plain):
        return When(f"19{short[1]}", "year")
    return None


def _year_pair(first: str, ending: str) -> When | None:
    """1946-03 is a month, 1946-48 a span of years, 1946-47 a season or a span; 1910-11 may be a month too."""
    month = _month(first, ending)
    last = first[:2] + ending if ending > first[2:] else str(int(first[:2]) + 1) + ending
    span = When(f"{first}/{last}", "span") if _is_year(first) and _is_year(last) and int(last) - int(first) < 40 else None
    follows = int(last) == int(first) + 1
    if month and follows and span:
        return When(month.text, "month", SEASON_OR_SPAN, span.text)
    if month and not follows:
        return month
    return When(span.text, "span", SEASON_OR_SPAN if follows else "", span.text) if span else month


def _day(one: int, two: int, year: str, mark: str) -> When | None:
    if one > 12 or mark == ".":
        return _month(year, str(two)) if one <= 31 else None
    if two > 12:
        return _month(year, str(one)) if two <= 31 else None
    first, second = _month(year, str(two)), _month(year, str(one))
    if not first or not second or one == two:
        return first
    return When(first.text, "month", DAY_OR_MONTH, second.text)


def _in_words(plain: str) -> When | None:
    words = re.fullmatch(
        r"(?:(?:[0-2]?\d|3[01])\.?(?:st|nd|rd|th)?\s+)?([a-zäéûè]+)\.?[\s,\-/]*(?:\d{1,2}(?:st|nd|rd|th)?,\s*)?['’]?(\d{4}|\d{2})", plain
    )
    if words and words[1] in MONTHS:
        return _month(words[2] if len(words[2]) == 4 else f"19{words[2]}", str(MONTHS[words[1]]))
    turned = re.fullmatch(r"(\d{4})[\s,\-]+([a-zäéûè]+)\.?", plain)
    if turned and turned[2] in MONTHS:
        return _month(turned[1], str(MONTHS[turned[2]]))
    return None


def _month(year: str, month: str) -> When | None:
    return When(f"{year}-{int(month):02d}", "month") if _is_year(year) and 1 <= int(month) <= 12 else None


def _is_year(text: str) -> bool:
    return len(text) == 4 and text.isascii() and text.isdigit() and FIRST_YEAR <= int(text) <= LAST_YEAR
