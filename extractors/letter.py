"""A letter taken apart: whose words each line is, so that questions, greetings and signatures are no answers.

`passages(text)` cuts a letter into runs of lines: `quoted` (behind `>`, or below a quoted header or "… wrote:"),
`own` (what the writer says) and `aside` (greeting, closing, signature, what a program adds). A passage of the writer's
own may bear the number of the question that it answers ("2) …").
"""

import re
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from extractors import mail_text

QUOTED, OWN, ASIDE = "quoted", "own", "aside"
MAX_LETTER = 100_000
"""Characters of a letter that are read; the longest of the invented exchanges has some 3,000."""
LONGEST_GREETING = 6
LONGEST_CLOSING = 5
LONGEST_SIGNATURE = 6
"""Lines below a closing that are a signature; more are a postscript and read as said."""
_NUMBERED = re.compile(
    r"[ \t]*(?:[(\[]?(?:q(?:uestion)?|re|ad|no|nr)?[ \t.#:]{0,3}(\d{1,2})[ \t]{0,2}[.):\]](?!\d)|#(\d{1,2})\b)[ \t]*(?:[-–:][ \t]+)?", re.IGNORECASE
)
_UNMARKED = re.compile(r"[ \t]*(\d)[ \t]+(?=\S)")
FEWEST_COUNTED = 2
"""Lines counted 1, 2 … without a sign behind the figure that make it a count (common practice, no source)."""
_QUOTE = re.compile(r"(?:[ \t]?>)+[ \t]?")
_DASHES = "-- "
_POSTSCRIPT = re.compile(r"[ \t]*p\.?[ \t]?s\.?\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Passage:
    """Lines of a letter at code points [start, end) that are of one hand."""

    kind: str
    start: int
    end: int
    number: int = 0
    """The number that the writer put before it ("2) …"); 0 for none."""

    def of(self, text: str) -> str:
        """Its words in the letter."""
        return text[self.start : self.end]


@dataclass(frozen=True, slots=True)
class _Line:
    start: int
    text: str

    @property
    def end(self) -> int:
        return self.start + len(self.text)


def passages(text: str) -> list[Passage]:
    """The passages of a letter in order; blank lines part those of the writer's own that are numbered, and no others."""
    lines = _lines(text[:MAX_LETTER])
    kinds = _kinds(lines)
    out: list[Passage] = []
    unmarked = _counted([line.text for line, kind in zip(lines, kinds, strict=True) if kind == OWN and line.text.strip()])
    for line, kind in zip(lines, kinds, strict=True):
        if not line.text.strip():
            continue
        number = _number(line.text, kind) or (unmarked.get(line.text) if kind == OWN else None)
        start = line.start + (number[1] if number else 0)
        if out and out[-1].kind == kind and not number and not _opens_anew(out[-1], kind, text[out[-1].end : line.start]):
            out[-1] = Passage(kind, out[-1].start, line.end, out[-1].number)
        elif start < line.end or kind != OWN:
            out.append(Passage(kind, start, line.end, number[0] if number else 0))
    return out


def own_words(text: str) -> str:
    """The letter with all that is not its writer's own made blank: every offset stays where it was.

    >>> own_words("Hi,\\n> Which number?\\n1) QE 07455\\nCheers\\nTom")
    '   \\n               \\n   QE 07455\\n      \\n   '
    """
    kept = [" " if c != "\n" else c for c in text]
    for passage in passages(text):
        if passage.kind == OWN:
            kept[passage.start : passage.end] = passage.of(text)
    return "".join(kept)


def bare(line: str) -> str:
    """A line without its quote marks and its number.

    >>> bare("> > 2. Which engine?")
    'Which engine?'
    """
    line = _QUOTE.sub("", line, count=1) if _QUOTE.match(line) else line
    return line[found.end() :] if (found := _NUMBERED.match(line)) else line


def number_of(line: str) -> int:
    """The number before a line, quoted or not; 0 for none."""
    found = _NUMBERED.match(_QUOTE.sub("", line, count=1) if _QUOTE.match(line) else line)
    return int(found[1] or found[2]) if found else 0


def _lines(text: str) -> list[_Line]:
    out, start = [], 0
    for line in text.split("\n"):
        out.append(_Line(start, line))
        start += len(line) + 1
    return out


def _number(line: str, kind: str) -> tuple[int, int] | None:
    """(number, characters) of what numbers a line of the writer's own, where words follow it."""
    found = _NUMBERED.match(line) if kind == OWN else None
    return (int(found[1] or found[2]), found.end()) if found and line[found.end() :].strip() else None


def _counted(lines: Sequence[str]) -> dict[str, tuple[int, int]]:
    """(number, characters) of lines that are counted without any sign: "1 K4 62010", "2 K4 62010"."""
    found = {line: (int(m[1]), m.end()) for line in lines if (m := _UNMARKED.match(line))}
    numbers = [n for n, _ in found.values()]
    return found if len(numbers) >= FEWEST_COUNTED and numbers == list(range(1, len(numbers) + 1)) else {}


def _opens_anew(last: Passage, kind: str, between: str) -> bool:
    """Whether an own line below a blank one leaves the numbered answer before it."""
    return kind == OWN and bool(last.number) and "\n\n" in between.replace(" ", "").replace("\t", "")


def _kinds(lines: Sequence[_Line]) -> list[str]:
    kinds = [QUOTED if _QUOTE.match(line.text) else OWN for line in lines]
    for start, end in _quoted_below(lines):
        kinds[start:end] = [ASIDE] * (end - start)
    for i in _asides(lines, kinds):
        kinds[i] = ASIDE
    _close(lines, kinds)
    return kinds


def _quoted_below(lines: Sequence[_Line]) -> Iterator[tuple[int, int]]:
    """Lines [start, end) that are another letter's head; what an unmarked head brings runs to the end.

    Where lines behind the head bear quote marks, or the head stands above everything, only the head is left out: what
    is unmarked between is an answer.
    """
    texts = [line.text for line in lines]
    for start, end in mail_text.heads(texts):
        marked = any(_QUOTE.match(t) for t in texts[end:])
        before = any(t.strip() for t in texts[:start])
        yield start, end if marked or not before else len(texts)


def _asides(lines: Sequence[_Line], kinds: Sequence[str]) -> Iterator[int]:
    greeted = False
    for i, line in enumerate(lines):
        if kinds[i] != OWN or not line.text.strip():
            continue
        words = line.text.strip().lower()
        if not greeted and _is_greeting(words):
            yield i
        greeted = True
        if any(words.startswith(d) for d in _phrases()["devices"]):
            yield i


def _is_greeting(words: str) -> bool:
    """Whether a line is nothing but a greeting: its words, a name, no more."""
    plain = words.strip(" ,.!-–:")
    return len(plain.split()) <= LONGEST_GREETING and not any(c.isdigit() for c in plain) and any(
        plain == g or plain.startswith((g + " ", g + ",")) for g in _phrases()["greetings"]
    ) and not any(c in plain for c in ".;?")  # fmt: skip


def _close(lines: Sequence[_Line], kinds: list[str]) -> None:
    """Make a closing and the signature below it asides."""
    for i, line in enumerate(lines):
        if line.text == _DASHES and kinds[i] == OWN:
            kinds[i:] = [ASIDE if k == OWN else k for k in kinds[i:]]
            return
    said = [i for i, line in enumerate(lines) if kinds[i] == OWN and line.text.strip()]
    for place, i in enumerate(said):
        below = said[place + 1 :]
        if len(below) <= LONGEST_SIGNATURE and _is_closing(lines[i].text) and place:
            end = next((j for j in below if _POSTSCRIPT.match(lines[j].text)), len(lines))
            for j in (i, *(j for j in below if j < end)):
                kinds[j] = ASIDE
            return


def _is_closing(line: str) -> bool:
    """Whether a line closes a letter.

    >>> _is_closing("Many thanks, Tom"), _is_closing("Thanks for asking, the engine is QE 07455")
    (True, False)
    """
    plain = line.strip().lower().strip(" ,.!-–x")
    return len(plain.split()) <= LONGEST_CLOSING and not any(c.isdigit() for c in plain) and any(
        plain == c or plain.startswith((c + ",", c + " ", c + "!")) for c in _phrases()["closings"]
    )  # fmt: skip


@cache
def _phrases() -> dict[str, tuple[str, ...]]:
    read = tomllib.loads((Path(__file__).parent / "letter_phrases.toml").read_text(encoding="utf-8"))
    return {name: tuple(said) for name, said in read.items()}
