"""A field as a grid of tokens: what every reader of claims walks on.

The shadow is the field's text with odd quotes, dashes, spaces and digits made plain and zero-width characters taken
out; `span` maps back, so that every claim quotes the text as received.
"""

import itertools
import re
import unicodedata
from bisect import bisect_left
from collections.abc import Iterator

from extractors.document import Field

_TOKEN = re.compile(r"[^\W_]+|[^\w\s]|_")
_ASCII_TOKEN = re.compile(r"[^\W_]+|[^\w\s\x1c-\x1f]|_", re.ASCII)
"""The same tokens, found quicker, in a text of nothing but ASCII."""
_LABELS = "Frame|Engine|Chassis|Gearbox|Reg|Box|Body|Fleet|Year|Make|Model|Colour|Color|VIN|MOT".split("|")
_GLUED = (
    re.compile(r"\d[A-Z][a-z]{2}"),
    re.compile(r"[NVnv](?<!\w.)(?:(?<=[Nn])[OoRr]|(?<=V)IN|(?<=[Vv])in)\d|n(?<!\w.)o[A-Z]"),
    re.compile(rf"[{''.join(word[0] for word in _LABELS)}](?<=[A-Za-z0-9].)(?:{'|'.join(word[1:] for word in _LABELS)})\b"),
)
"""Labels written on to a number or on to the word before them, each form by the letters it may start with (so that a search is quick)."""
_TOKEN_OF_GLUED = re.compile(
    rf"(?:[Nn][oOrR]|VIN|[Vv]in)(?=\d)|(?<!\w)no(?=[A-Z])|[^\W_]+?(?<=\d)(?=[A-Z][a-z]{{2}})|[^\W_]+?(?=(?:{'|'.join(_LABELS)})\b)|[^\W_]+|[^\w\s]|_"
)
_ZERO_WIDTH = re.compile("[\u200b-\u200f\u2060-\u2064\ufeff\u00ad\u202a-\u202e\u2066-\u2069]")
_PLAIN = {
    **dict.fromkeys(map(ord, "‘’‚‛′`´"), "'"), **dict.fromkeys(map(ord, "“”„‟″«»"), '"'),
    **dict.fromkeys(map(ord, "‐‑‒–—―−"), "-"), **dict.fromkeys(map(ord, "\u00a0\u2007\u2009\u202f\u3000\t\x0b\x0c"), " "),
    ord("⁄"): "/", ord("×"): "x",
}  # fmt: skip
_ODD = re.compile(f"[{re.escape(''.join(map(chr, _PLAIN)))}]")
_WIDE = re.compile("[０-ｚ]")
_CAPITAL, _NEW_LINE = re.compile("[A-Z]"), re.compile("\n")
_STOPS = frozenset(".!?;")
_BREAKS = frozenset("()[]|•*~-")
_DIVIDERS = _STOPS | _BREAKS
_ABBREVIATED = frozenset(
    "no nos nr num c ca approx reg regn eng ser st co mr mrs dr ltd inc vs etc eg ie e i jan feb mar apr jun jul aug sep sept oct nov dec "
    "mk vol fig pat max min mod tel ex incl excl orig ch fg km fahrg bj motornr mot châss n° env chas typ type v "
    "lt bzw inkl ez bauj erstzul fahrgestellnr rahmennr fgst ident chassisnr framenr serienr imm immatr".split()
)
_MONTHS_BEHIND_A_POINT = frozenset("januar februar märz april mai juni juli august september oktober november dezember".split())
"""Months before which a day is written with a point ("17. Juni")."""
_ENDINGS = frozenset(".!?;:|")
FEWEST_LINES, CAPITAL_LINES = 5, 4
"""Lines from which a text is judged line by line; one in so many may have capitals where the writer uses none."""
LONGER_LINE = 62
LONG_LINE = 50
"""A line at least this long, followed by one that starts in lower case, is taken for wrapped prose; a longer
one whatever follows."""


class Grid:
    """Tokens of one field with their clauses, sentences and lines (a number for each token)."""

    __slots__ = ("_map", "_no_capitals", "clause", "ends", "field", "figured", "line", "n", "sentence", "shadow", "starts", "toks", "words")

    def __init__(self, field: Field) -> None:
        self.field = field
        self._no_capitals: bool | None = None
        self.shadow, self._map = shadow(field.text)
        text = self.shadow
        lower = text.lower()
        if len(lower) != len(text):
            lower = "".join(c.lower() if len(c.lower()) == 1 else c for c in text)
        if any(glued.search(text) for glued in _GLUED):
            spans = [found.span() for found in _TOKEN_OF_GLUED.finditer(text)]
            self.toks = [lower[start:end] for start, end in spans]
        else:
            self.toks = (_ASCII_TOKEN if text.isascii() else _TOKEN).findall(lower)
        self.words = frozenset(self.toks)
        """The different tokens: they tell at once which rules have none of their words here."""
        self.n = len(self.toks)
        self.starts, self.ends = self._places(lower)
        self.line = self._lines()
        self.clause, self.sentence = self._divided()
        self.figured = [i for i, tok in enumerate(self.toks) if not tok.isalpha() and tok.isalnum() and (tok.isascii() or any(map(str.isdigit, tok)))]
        """The tokens that hold a figure, in order."""

    @property
    def is_shouting(self) -> bool:
        """Whether the writer uses nothing but capitals."""
        return self.shadow.isupper()

    @property
    def has_no_capitals(self) -> bool:
        """Whether the writer uses next to no capitals."""
        if self._no_capitals is None:
            few, text = len(self.shadow) // 100, self.shadow
            capitals = _CAPITAL.finditer(text) if text.isascii() else filter(str.isupper, text)
            self._no_capitals = next(itertools.islice(capitals, few, None), None) is None or self._has_few_lines_with_capitals()
        return self._no_capitals

    def figure_from(self, i: int) -> int:
        """The first token from i on that holds a figure; `n` where none does."""
        at = bisect_left(self.figured, i)
        return self.figured[at] if at < len(self.figured) else self.n

    def _places(self, lower: str) -> tuple[list[int], list[int]]:
        """Where each token starts and ends: nothing but space stands between two, so the next place that holds its text is its own."""
        starts, ends, end = [], [], 0
        for tok in self.toks:
            start = lower.find(tok, end)
            end = start + len(tok)
            starts.append(start)
            ends.append(end)
        return starts, ends

    def _lines(self) -> list[int]:
        """The line of each token."""
        if "\n" not in self.shadow:
            return [0] * self.n
        lines: list[int] = []
        for number, found in enumerate(_NEW_LINE.finditer(self.shadow)):
            lines += [number] * (bisect_left(self.starts, found.start(), len(lines)) - len(lines))
        return lines + [self.shadow.count("\n")] * (self.n - len(lines))

    def _has_few_lines_with_capitals(self) -> bool:
        """Whether nearly all of many lines are without capitals: a dealer's or a site's own line does not make the writer's case."""
        lines = [line for line in self.shadow.split("\n") if line.strip()]
        return len(lines) >= FEWEST_LINES and sum(line.islower() for line in lines) * CAPITAL_LINES >= len(lines) * (CAPITAL_LINES - 1)

    def _divided(self) -> tuple[list[int], list[int]]:
        line = self.line
        turns = {k for k, (one, other) in enumerate(itertools.pairwise(line), 1) if one != other} if line and line[0] != line[-1] else set()
        if not turns and self.words.isdisjoint(_DIVIDERS):
            return [0] * self.n, [0] * self.n
        clauses: list[int] = []
        sentences: list[int] = []
        clause = sentence = 0
        for i in sorted(turns.union([i for i, tok in enumerate(self.toks) if tok in _DIVIDERS])):
            if i in turns and not self._wrapped(i):
                clauses += [clause] * (i - len(clauses))
                sentences += [sentence] * (i - len(sentences))
                clause, sentence = clause + 1, sentence + 1
            ends_sentence = self.toks[i] in _STOPS and self._stops(i)
            if ends_sentence or (self.toks[i] in _BREAKS and (self.toks[i] != "-" or _is_dash(self.shadow, self.starts[i], self.ends[i]))):
                clauses += [clause] * (i + 1 - len(clauses))
                sentences += [sentence] * (i + 1 - len(sentences))
                clause, sentence = clause + 1, sentence + ends_sentence
        return clauses + [clause] * (self.n - len(clauses)), sentences + [sentence] * (self.n - len(sentences))

    def _stops(self, i: int) -> bool:
        """Whether the stop at token i ends a sentence."""
        tok, end, text = self.toks[i], self.ends[i], self.shadow
        if tok == ";":
            return True
        spaced = end == len(text) or text[end].isspace()
        return spaced and not (tok == "." and i > 0 and (_is_short(self.toks[i - 1]) or self._is_day(i)))

    def _is_day(self, i: int) -> bool:
        """Whether the point at token i makes the figures before it a day of the month behind it."""
        return self.toks[i - 1].isdigit() and len(self.toks[i - 1]) <= 2 and i + 1 < len(self.toks) and self.toks[i + 1] in _MONTHS_BEHIND_A_POINT

    def _wrapped(self, i: int) -> bool:
        """Whether the line break before token i only wraps a sentence."""
        text = self.shadow
        length = self.ends[i - 1] - text.rfind("\n", 0, self.ends[i - 1])
        if self.line[i] != self.line[i - 1] + 1 or text[self.ends[i - 1] - 1] in _ENDINGS:
            return False
        return length > LONG_LINE and (text[self.starts[i]].islower() or length > LONGER_LINE)

    def text(self, i: int, j: int) -> str:
        """The shadow's text of tokens [i, j)."""
        return self.shadow[self.starts[i] : self.ends[j - 1]]

    def span(self, i: int, j: int) -> tuple[int, int]:
        """Start and end of tokens [i, j) in the field as received."""
        return self.place(self.starts[i], self.ends[j - 1])

    def place(self, start: int, end: int) -> tuple[int, int]:
        """A span of the shadow in the field as received."""
        if self._map is None:
            return start, end
        return self._map[start], self._map[end - 1] + 1

    def glued(self, i: int) -> bool:
        """Whether token i touches the one before it."""
        return 0 < i < self.n and self.starts[i] == self.ends[i - 1]

    def at(self, i: int) -> str:
        """Token i in lower case, or an empty string outside the grid."""
        return self.toks[i] if 0 <= i < self.n else ""

    def same_line(self, i: int, j: int) -> bool:
        """Whether tokens i and j exist and stand on one line."""
        return 0 <= i < self.n and 0 <= j < self.n and self.line[i] == self.line[j]

    def as_written(self, i: int) -> str:
        """Token i with its capitals."""
        return self.shadow[self.starts[i] : self.ends[i]]


def shadow(text: str) -> tuple[str, list[int] | None]:
    """(plain text, offsets in the original or None where they are the same)."""
    if text.isascii():
        return text.translate({9: " ", 11: " ", 12: " "}) if "\t" in text or "\f" in text or "\v" in text else text, None
    plain = _ODD.sub(lambda found: _PLAIN[ord(found[0])], text)
    if _WIDE.search(plain):
        plain = _WIDE.sub(lambda found: unicodedata.normalize("NFKC", found[0]), plain)
    if figures := {c: str(unicodedata.digit(c)) for c in set(plain) if c.isdigit() and not c.isascii()}:
        plain = "".join(figures.get(c, c) for c in plain)
    if not _ZERO_WIDTH.search(plain):
        return plain, None
    kept = [i for i, c in enumerate(plain) if not _ZERO_WIDTH.match(c)]
    return "".join(plain[i] for i in kept), kept


def _is_short(tok: str) -> bool:
    return tok in _ABBREVIATED or (len(tok) == 1 and tok.isalpha())


def _is_dash(text: str, start: int, end: int) -> bool:
    return (start == 0 or text[start - 1].isspace()) and (end == len(text) or text[end].isspace())


def first_token(phrase: str) -> str:
    """The first of a phrase's tokens, as `words` has it; nothing where it has none.

    >>> first_token("F-150"), first_token("'Cuda")
    ('f', "'")
    """
    return next((m.group().lower() for m in _TOKEN.finditer(shadow(phrase)[0]) if m.group() != "-"), "")


def words(phrase: str) -> Iterator[str]:
    """A phrase's tokens as a grid has them, without hyphens."""
    tokens = [token.lower() for token in _TOKEN.findall(shadow(phrase)[0])]
    return (t for t in tokens if t != "-") if len(tokens) > 1 else iter(tokens)
