"""The phrases of a language, read into a lexicon; an unknown key is an error that names file and key.

A language is a folder of files (`en/stance.toml`, …) or one file with the same names as tables (`it.toml`); what a
language leaves out is simply not read in it.
"""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from claims.lexicon import Entry, Lexicon

FOLDER = Path(__file__).parent / "phrases"
NAMES_ONLY = {"makers", "models"}
"""The files in the folder that are no language."""
ENGLISH = "en"
_CUE_KEYS = {"stance", "direction", "reach", "say", "headline_only", "kinds"}
_LISTS = {
    "stance": {"end": "ends", "question": "questions", "no": "noes"},
    "numbers": {"weak": "weak_labels", "mark_words": "mark_words"},
    "things": {"not_a_model": "not_a_model"},
}
"""Tables with nothing but a list of words, by file: the name that readers use for it."""
_WORD_KINDS = ("fuel", "steering", "body_style", "owners", "vehicle_type")


class BadPhrases(Exception):
    """A phrase file with an unknown key; the message names file and key."""


@dataclass(frozen=True, slots=True)
class Cue:
    """How a stance is said: which way it reaches, and how far."""

    stance: str
    direction: str
    reach: str
    headline_only: bool = False
    kinds: tuple[str, ...] = ()
    """The kinds of claim that it governs; empty for all."""


class WordLists(dict[str, frozenset[str]]):
    """Lists of words by name; one that no language gives is empty."""

    def __init__(self, lists: Mapping[str, frozenset[str]] | None = None) -> None:
        super().__init__(lists or {})
        self._united: dict[tuple[str, ...], frozenset[str]] = {}

    def __missing__(self, name: str) -> frozenset[str]:
        return frozenset()

    def any_of(self, *names: str) -> frozenset[str]:
        """The words of several lists together, united when first asked for: readers ask, and by then no list grows any more."""
        words = self._united.get(names)
        if words is None:
            words = self._united[names] = frozenset().union(*(self[name] for name in names))
        return words


@dataclass(frozen=True)
class Language:
    """The phrases of one or several languages that are no lexicon entries."""

    cues: dict[str, Cue] = field(default_factory=dict)
    lists: WordLists = field(default_factory=WordLists)
    fields: dict[str, str] = field(default_factory=dict)
    """What a form's entry is (kind or part) by its name in lower case."""
    cautions: dict[str, str] = field(default_factory=dict)
    """A warning by the name of its hazard."""
    glossary: dict[str, str] = field(default_factory=dict)
    """The English words of a feature's word in this language: materials, fasteners, places, counts."""
    words: frozenset[str] = frozenset()
    """Words by which a sentence of this language is known."""

    def with_also(self, other: "Language") -> "Language":
        """Both languages together: lists united, the first one's entries kept where both have one."""
        lists = WordLists({name: self.lists[name] | other.lists[name] for name in {*self.lists, *other.lists}})
        return Language(
            {**other.cues, **self.cues}, lists, {**other.fields, **self.fields},
            {**other.cautions, **self.cautions}, {**other.glossary, **self.glossary}, self.words | other.words,
        )  # fmt: skip


@cache
def languages() -> tuple[str, ...]:
    """The languages that have phrases, English first."""
    found = {p.stem for p in FOLDER.iterdir() if (p.is_dir() and any(p.glob("*.toml"))) or p.suffix == ".toml"} - NAMES_ONLY
    return tuple(sorted(found, key=lambda name: (name != ENGLISH, name)))


@cache
def tables(language: str) -> dict[str, dict[str, Any]]:
    """Every table of a language's files by its name."""
    path = FOLDER / f"{language}.toml"
    if path.is_file():
        return tomllib.loads(path.read_text(encoding="utf-8"))
    return {p.stem: tomllib.loads(p.read_text(encoding="utf-8")) for p in sorted((FOLDER / language).glob("*.toml"))}


@cache
def known_words(language: str) -> frozenset[str]:
    """The words by which a sentence of a language is known; of a file no more is read than its table `language`."""
    path = FOLDER / f"{language}.toml"
    text = (path if path.is_file() else FOLDER / language / "language.toml").read_text(encoding="utf-8")
    if not path.is_file():
        return frozenset(tomllib.loads(text).get("words", ()))
    start = text.index("[language]")
    end = text.find("\n[", start)
    return frozenset(tomllib.loads(text[start : end if end > 0 else len(text)])["language"].get("words", ()))


@cache
def field_names() -> Mapping[str, str]:
    """What a form's entry is by its name, in every language."""
    out: dict[str, str] = {}
    for language in languages():
        for kind, said in tables(language).get("things", {}).get("field", {}).items():
            for name in said:
                out.setdefault(name, kind)
    return out


def add_language(lexicon: Lexicon, language: str) -> Language:
    """Put a language's phrases into the lexicon and return the rest of them; raises `BadPhrases`."""
    found = tables(language)
    out = Language(words=known_words(language))
    readers = {
        "stance": _stances, "numbers": _numbers, "dates": _dates, "originality": _originality, "papers": _papers, "things": _things,
        "particulars": _particulars, "cautions": _cautions, "features": _features,
    }  # fmt: skip
    if unknown := sorted(set(found) - {*readers, "language"}):
        raise BadPhrases(f"phrases/{language}: unknown table {unknown[0]!r}")
    for name, read in readers.items():
        if name in found:
            read(_Table(language, name, found[name]), lexicon, out)
    return out


@dataclass(frozen=True)
class _Table:
    """One table of a language: knows its name for errors."""

    language: str
    name: str
    given: dict[str, Any]

    def expect(self, *allowed: str) -> None:
        self.check(self.given, allowed, "")

    def check(self, given: dict[str, Any], allowed: Iterable[str], where: str) -> None:
        if unknown := sorted(set(given) - set(allowed)):
            raise BadPhrases(f"phrases/{self.language}/{self.name}.toml{where}: unknown key {unknown[0]!r}")

    def part(self, key: str) -> dict[str, Any]:
        found: dict[str, Any] = self.given.get(key, {})
        return found

    def say(self, key: str) -> list[str]:
        found: list[str] = self.part(key).get("say", [])
        return found

    def lists(self, out: Language) -> None:
        for key, name in _LISTS.get(self.name, {}).items():
            if key in self.given:
                self.check(self.part(key), {"say"}, f" [{key}]")
                out.lists[name] = frozenset(self.say(key))
        for name, words in self.part("grammar").items():
            out.lists[name] = frozenset(words)


def _stances(table: _Table, lexicon: Lexicon, out: Language) -> None:
    table.expect("cue", "end", "question", "no", "line", "grammar")
    table.lists(out)
    lexicon.extend(table.say("line"), Entry("line", ""))
    for number, cue in enumerate(table.given.get("cue", ())):
        table.check(cue, _CUE_KEYS, f" cue {number}")
        name = f"{table.language}{number}"
        out.cues[name] = Cue(cue["stance"], cue["direction"], cue["reach"], cue.get("headline_only", False), tuple(cue.get("kinds", ())))
        category = "headcue" if cue.get("headline_only") else "cue-none" if cue["stance"] == "none" else f"cue-{cue['direction']}"
        lexicon.extend(cue["say"], Entry(category, name))


def _numbers(table: _Table, lexicon: Lexicon, out: Language) -> None:
    table.expect("number_words", "joiners", "label", "weak", "lost", "mark_words", "part", "none", "not_identity", "tag", "unstamped", "grammar")
    table.lists(out)
    lexicon.extend(table.given.get("number_words", ()), Entry("numword", "no"))
    for part, label in table.part("label").items():
        lexicon.extend(label["say"], Entry("label", part))
    for part, said in table.part("part").items():
        lexicon.extend(said, Entry("numpart", part))
    lexicon.extend(table.say("lost"), Entry("lost", "lost"))
    lexicon.extend(table.say("none"), Entry("none", "none"))
    lexicon.extend(table.part("none").get("denied", ()), Entry("no", "no"))
    lexicon.extend(table.say("not_identity"), Entry("label", ""))
    lexicon.extend(table.say("tag"), Entry("tag", ""))
    lexicon.extend(table.part("tag").get("vehicle", ()), Entry("tag", "vehicle"))
    lexicon.extend(table.say("unstamped"), Entry("unstamped", ""))
    out.lists["fillers"] = frozenset(table.part("none").get("fillers", ()))
    out.lists["joiners"] = frozenset(table.given.get("joiners", ()))


def _dates(table: _Table, lexicon: Lexicon, out: Language) -> None:
    table.expect("months", "circa", "decade", "event", "fitted", "no_date", "not_a_year", "grammar")
    table.lists(out)
    for number, names in enumerate(table.given.get("months", ()), 1):
        lexicon.extend(names.split(), Entry("month", str(number)))
    lexicon.extend(table.given.get("circa", ()), Entry("circa", "~"))
    for value, said in table.part("decade").items():
        lexicon.extend(said, Entry("decade", value))
    for kind, said in table.part("event").items():
        lexicon.extend(said["say"], Entry("event", kind))
    lexicon.extend(table.say("fitted"), Entry("event", "fitted"))
    lexicon.extend(table.say("no_date"), Entry("event", ""))
    out.lists["before_figure"] = frozenset(table.part("not_a_year").get("before", ()))
    out.lists["behind_figure"] = frozenset(table.part("not_a_year").get("behind", ()))


def _originality(table: _Table, lexicon: Lexicon, out: Language) -> None:
    table.expect("word", "original", "grammar")
    table.lists(out)
    for number, word in enumerate(table.given.get("word", ())):
        table.check(word, {"value", "of", "only", "say", "stance", "needs"}, f" word {number}")
        lexicon.extend(
            word["say"],
            Entry("originality", word["value"], word["of"], more=word.get("stance") or word.get("needs") or " ".join(word.get("only", ()))),
        )
    original = table.part("original")
    lexicon.extend(original.get("say", ()), Entry("originality", "original", "original"))
    lexicon.extend(original.get("left", ()), Entry("originality", "original", "original", more="closes"))
    lexicon.extend(original.get("degree", ()), Entry("originality", "original", "original", more="hedged"))
    lexicon.extend(original.get("false_friends", ()), Entry("originality", ""))
    lexicon.extend(original.get("not_said", ()), Entry("unoriginal", ""))
    lexicon.extend(original.get("vehicle_nouns", ()), Entry("vehiclenoun", ""))
    lexicon.extend(original.get("paint", ()), Entry("paint", ""))
    out.lists["between"] = frozenset(original.get("between", ()))
    stead = table.part("grammar")
    lexicon.extend(stead.get("stead_words", ()), Entry("stead", "active"))
    lexicon.extend(stead.get("stead_passive", ()), Entry("stead", "passive"))


def _papers(table: _Table, lexicon: Lexicon, out: Language) -> None:
    table.lists(out)
    lexicon.extend(table.say("holder"), Entry("holder", "holder"))
    lexicon.extend(table.part("holder").get("issued", ()), Entry("holder", "issued"))
    for kind, said in table.given.items():
        if kind in {"grammar", "holder"}:
            continue
        table.check(said, {"say", "denied", "not_said"}, f" [{kind}]")
        lexicon.extend(said.get("denied", ()), Entry("papers", kind, more="denied"))
        lexicon.extend(said.get("say", ()), Entry("papers", kind))
        lexicon.extend(said.get("not_said", ()), Entry("papers", ""))


def _things(table: _Table, lexicon: Lexicon, out: Language) -> None:
    table.expect("part", "field", "not_a_model", "several", "builtby", "grammar")
    table.lists(out)
    lexicon.extend(table.say("several"), Entry("several", ""))
    lexicon.extend(table.say("builtby"), Entry("builtby", ""))
    for part, said in table.part("part").items():
        lexicon.extend(said, Entry("part", part))


def _particulars(table: _Table, lexicon: Lexicon, out: Language) -> None:
    table.expect(*_WORD_KINDS, "since_new", "cast", "raised", "quantity")
    for kind in _WORD_KINDS:
        for value, phrases in table.part(kind).items():
            lexicon.extend(phrases, Entry(kind, value))
    for kind in ("since_new", "cast", "raised"):
        lexicon.extend(table.say(kind), Entry(kind, kind))
    for place in ("before", "behind"):
        lexicon.extend(table.part("quantity").get(place, ()), Entry(f"quantity-{place}", ""))


def _features(table: _Table, lexicon: Lexicon, out: Language) -> None:
    table.expect("words", "grammar")
    table.lists(out)
    out.glossary.update(table.part("words"))


def _cautions(table: _Table, lexicon: Lexicon, out: Language) -> None:
    for name, said in table.given.items():
        table.check(said, {"say", "text"}, f" [{name}]")
        lexicon.extend(said["say"], Entry("hazard", name))
        if "text" in said:
            out.cautions[name] = said["text"]
