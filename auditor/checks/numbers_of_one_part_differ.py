"""Two different numbers are given for one part, in the headline, the form or the text.

A number that is only the beginning ("VIN starts JM1"), the tail or the serial of the other agrees with it, and so does one with hidden characters that fit.
Registration marks change lawfully and are left out.
"""

import re
from collections.abc import Iterator

from auditor.case import Case, pairs
from auditor.finding import CONTRADICTION, DOUBT, Finding
from claims.claim import STATED, Claim
from claims.repairs import zeros_and_ones

ASK = "Two {part} numbers are given. Which characters are marked on the {part} itself? Please photograph them."
ABOUT = "number"
SHORTEST = 3
MOST_NUMBERS = 50
"""Different numbers of one part that are compared with one another: an advert has two or three."""
_UNITS = re.compile(r"\b(?:port|starboard|left|right|front|rear|spare|second|no\. ?[12]|#[12])\b")
_LETTERED = re.compile(r"\W*(\w+) ([a-d]|[1-4]|one|two|three)\b")
"""A line that opens with a thing and its letter or figure ("Gearbox A")."""
NEAR = 60
_OTHERS = re.compile(
    r"\b(?:second|another|other|spare|replac\w+|former\w*|original\w*|later|from|comes|came|off|either|old|loose|odd)\b", re.IGNORECASE
)
LEFT_OUT = ("registration", "unknown", "tyre", "component")


def check(case: Case) -> Iterator[Finding]:
    """One finding a part: its first two numbers that cannot be the same."""
    for part, claims in case.numbers_told.items():
        if part in LEFT_OUT:
            continue
        distinct = list({(c.value, c.stance): c for c in reversed(claims)}.values())[::-1][:MOST_NUMBERS]
        for one, other in pairs(distinct):
            if not may_be_same(one.value or "", other.value or "") and not same_as_read(case, one, other) and not _are_two_units(case, one, other):
                yield _finding(case, part, one, other)
                break


def may_be_same(one: str, other: str) -> bool:
    """Whether two compact numbers can be the same number, written in full, in part or with hidden characters.

    >>> may_be_same("T120DU44400", "DU44400"), may_be_same("33Q07???G", "33Q07311G"), may_be_same("P3107", "P3108")
    (True, True, False)
    >>> may_be_same("JM1", "JM1NA3516M0214406"), may_be_same("JM1", "1GNA3516M0214406")
    (True, False)
    """
    a, b = zeros_and_ones(one), zeros_and_ones(other)
    if len(a) == len(b):
        return all(x == y or "?" in (x, y) for x, y in zip(a, b, strict=True))
    short, long = sorted((a, b), key=len)
    if "?" in short + long:
        return True
    figures = short.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    if long.startswith(short):
        return True
    return len(figures) >= SHORTEST and (short in long or long.endswith(figures))


def same_as_read(case: Case, one: Claim, other: Claim) -> bool:
    """Whether two ways of writing are read as one number: the same serial and codes, or only noughts apart."""
    read = [[d for d in case.decodings if d.claim is c and d.scheme] for c in (one, other)]
    for a in read[0]:
        for b in read[1]:
            shared = set(a.groups) & set(b.groups)
            if a.scheme is b.scheme and shared and all(_plain(a.groups[g]) == _plain(b.groups[g]) for g in shared):
                return True
    return _groups(one) == _groups(other)


def _are_two_units(case: Case, one: Claim, other: Claim) -> bool:
    """Whether the words before the numbers tell two units apart: port and starboard, left and right, gearbox A and B."""
    opened = [_LETTERED.match(_line(case, c).lower()) for c in (one, other)]
    if opened[0] and opened[1] and opened[0][1] == opened[1][1] and opened[0][2] != opened[1][2]:
        return True
    places = [
        set(_UNITS.findall(f.text[max(0, c.quote.start - 30) : c.quote.start].lower())) if (f := case.document.field(c.quote.field)) else set()
        for c in (one, other)
    ]
    return bool(places[0] and places[1] and places[0] != places[1])


def _line(case: Case, claim: Claim) -> str:
    """The line of the listing in which a number stands."""
    field = case.document.field(claim.quote.field)
    if field is None:
        return ""
    start = field.text.rfind("\n", 0, claim.quote.start) + 1
    return field.text[start : claim.quote.end]


def _speaks_of_others(case: Case, claim: Claim) -> bool:
    """Whether the words before a number speak of a second, former or donor part, so that two numbers may be two things."""
    field = case.document.field(claim.quote.field)
    return bool(field and _OTHERS.search(field.text[max(0, claim.quote.start - NEAR) : claim.quote.start]))


def _groups(claim: Claim) -> list[str]:
    return [_plain(g) for g in re.findall(r"[A-Z]+|\d+", claim.quote.text.upper())]


def _plain(text: str) -> str:
    return text.lstrip("0") or "0"


def _finding(case: Case, part: str, one: Claim, other: Claim) -> Finding:
    name = case.part_name(part)
    sure = one.stance == STATED and other.stance == STATED and not (_speaks_of_others(case, one) or _speaks_of_others(case, other))
    return Finding(
        "numbers_of_one_part_differ",
        CONTRADICTION if sure else DOUBT,
        f"Two {name} numbers are given: {one.quote.text} and {other.quote.text}.",
        part,
        (one, other),
        "",
        (),
        False,
        case.innocent("numbers_of_one_part_differ", part) or ("A figure misread or mistyped; one of them may be of another part or a former one.",),
        f"A photograph of the stamped {name} number.",
    )
