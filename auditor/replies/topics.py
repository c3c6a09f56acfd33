"""What a question is about, be it of this tool or of the buyer's own letter, so that an answer can be tied to it."""

import difflib
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from auditor.questions import Question
from auditor.replies.phrases import ABOUT, says
from claims.grid import Grid
from claims.languages import usual_language
from claims.pack import Pack
from claims.reader import vocabulary
from extractors.document import Field
from extractors.letter import bare, number_of

KINDS = {
    "number": ("number", "casting"),
    "date": ("year", "built"),
    "maker": ("maker", "model"),
    "originality": ("originality", "restored"),
    "papers": ("papers", "registered", "delivered"),
    "feature": ("feature",),
}
"""The kinds of claims that answer a question, by what it is about."""
ALIKE = 0.75
"""Share of a question's words that a quoted one must have to be the same (common practice, no source)."""
LONGEST_QUESTION = 600
_WORD = re.compile(r"\w+")
_SENTENCE = re.compile(r"[^?]*\?|[^?]+$", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Topic:
    """A question that was put to somebody: its words, its number in the letter (0 for none), the parts and matters it is about."""

    text: str
    number: int
    parts: tuple[str, ...]
    about: frozenset[str]
    question: Question | None = None
    """The question of this tool that it is; None for one of the buyer's own."""

    @property
    def kinds(self) -> frozenset[str]:
        """The kinds of claims that answer it."""
        return frozenset(k for a in self.about for k in KINDS[a])


def topic_of(question: Question, number: int) -> Topic:
    """The topic of a question of this tool, which stands in the letter under that number."""
    return Topic(question.text, number, (question.part,), frozenset(_about(question)), question)


def quoted_topics(text: str, sent: Sequence[Question], packs: Sequence[Pack]) -> list[Topic]:
    """The topics of quoted lines: those questions of this tool that they repeat, else what their own words ask for."""
    out = []
    for number, words in _units(text):
        known = max(sent, key=lambda q: _alike(q.text, words), default=None)
        if known is not None and _alike(known.text, words) >= ALIKE:
            out.append(topic_of(known, number or sent.index(known) + 1))
        elif "?" in words or number:
            out.append(Topic(words, number, tuple(parts_named(words, packs)), frozenset(_asked(words))))
    return out


def _about(question: Question) -> Iterator[str]:
    about = question.about.partition(":")[0]
    if about in {"number", "casting"}:
        yield "number"
    elif about == "mark":
        yield "maker"
    elif about in {"feature", "photo"}:
        yield from ("feature", "maker") if about == "photo" else ("feature",)
    else:
        yield from (a for a in _asked(question.text) if a != "number")


def _asked(words: str) -> list[str]:
    return [a for a in KINDS if says(ABOUT + a, words)]


def _units(text: str) -> Iterator[tuple[int, str]]:
    """(number, words) of every question in quoted lines: at each number, and behind each question mark."""
    found: list[tuple[int, list[str]]] = []
    for line in text.split("\n"):
        number, words = number_of(line), bare(line).strip()
        if number or not found or not words:
            found.append((number, []))
        found[-1][1].append(words)
    for number, lines in found:
        for n, sentence in enumerate(_SENTENCE.findall(" ".join(lines)[:LONGEST_QUESTION])):
            if sentence.strip(" .!,"):
                yield (number if n == 0 else 0), sentence.strip()


def _alike(question: str, words: str) -> float:
    """The share of a question's words that stand in the same order in other words."""
    asked, said = _WORD.findall(question.lower()), _WORD.findall(words.lower())
    if not asked or not said:
        return 0.0
    same = difflib.SequenceMatcher(None, asked, said, autojunk=False).get_matching_blocks()
    return sum(b.size for b in same) / max(len(asked), 1)


def parts_named(words: str, packs: Iterable[Pack]) -> list[str]:
    """The parts that words name, in order."""
    grid = Grid(Field("question", words))
    hits, _ = vocabulary(tuple(packs)).find(grid, usual_language([words]))
    found = sorted((*hits.get("numpart", ()), *hits.get("label", ()), *hits.get("part", ())), key=lambda h: h.i)
    return list(dict.fromkeys(h.entry.value for h in found if h.entry.value and h.entry.value != "none"))
