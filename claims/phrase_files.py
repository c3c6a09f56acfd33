"""The phrase files of a language, read into a lexicon; an unknown key is an error that names file and key."""

import tomllib
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from claims.lexicon import Entry, Lexicon

FOLDER = Path(__file__).parent / "phrases"
_CUE_KEYS = {"stance", "direction", "reach", "say", "headline_only"}


class BadPhrases(Exception):
    """A phrase file with an unknown key; the message names file and key."""


@dataclass(frozen=True, slots=True)
class Cue:
    """How a stance is said: which way it reaches, and how far."""

    stance: str
    direction: str
    reach: str
    headline_only: bool = False


@dataclass(frozen=True)
class Language:
    """The phrases of one language that are no lexicon entries: lists of words by name, and the lexicon's cues."""

    cues: dict[str, Cue] = field(default_factory=dict)
    lists: dict[str, frozenset[str]] = field(default_factory=dict)
    fields: dict[str, str] = field(default_factory=dict)
    """What a form's entry is (kind or part) by its name in lower case."""
    decades: dict[str, str] = field(default_factory=dict)
    """A decade in words to its EDTF value."""
    cautions: dict[str, str] = field(default_factory=dict)
    """A warning by the name of its hazard."""


def _load(language: str, name: str) -> dict[str, Any]:
    return tomllib.loads((FOLDER / language / f"{name}.toml").read_text(encoding="utf-8"))


def _expect(language: str, name: str, found: dict[str, Any], allowed: set[str]) -> None:
    if unknown := sorted(set(found) - allowed):
        raise BadPhrases(f"phrases/{language}/{name}.toml: unknown key {unknown[0]!r}")


def add_language(lexicon: Lexicon, language: str) -> Language:
    """Put a language's phrases into the lexicon and return the rest of them; raises `BadPhrases`."""
    out = Language()
    _stances(lexicon, language, out)
    _numbers(lexicon, language, out)
    _dates(lexicon, language, out)
    _originality(lexicon, language, out)
    for kind, said in _load(language, "papers").items():
        _expect(language, f"papers.toml [{kind}]", said, {"say", "denied", "not_said"})
        lexicon.extend(said["say"], Entry("papers", kind))
        lexicon.extend(said.get("denied", ()), Entry("papers", kind, more="denied"))
        lexicon.extend(said.get("not_said", ()), Entry("papers", ""))
    _things(lexicon, language, out)
    _particulars(lexicon, language)
    for name, said in _load(language, "cautions").items():
        _expect(language, f"cautions.toml [{name}]", said, {"say", "text"})
        lexicon.extend(said["say"], Entry("hazard", name))
        out.cautions[name] = said["text"]
    return out


def _stances(lexicon: Lexicon, language: str, out: Language) -> None:
    stances = _load(language, "stance")
    _expect(language, "stance", stances, {"cue", "end", "question"})
    for number, cue in enumerate(stances["cue"]):
        _expect(language, f"stance.toml cue {number}", cue, _CUE_KEYS)
        name = f"{language}{number}"
        out.cues[name] = Cue(cue["stance"], cue["direction"], cue["reach"], cue.get("headline_only", False))
        for said in cue["say"]:
            lexicon.add(said, Entry("headcue" if cue.get("headline_only") else f"cue-{cue['direction']}" if cue["stance"] != "none" else "cue-none", name))
    out.lists["questions"] = frozenset(stances["question"]["say"])
    out.lists["ends"] = frozenset(stances["end"]["say"])


def _numbers(lexicon: Lexicon, language: str, out: Language) -> None:
    numbers = _load(language, "numbers")
    _expect(language, "numbers", numbers, {"number_words", "joiners", "label", "weak", "lost", "mark_words", "part", "none", "denied", "fillers", "not_identity"})
    lexicon.extend(numbers["number_words"], Entry("numword", "no"))
    for part, label in numbers["label"].items():
        lexicon.extend(label["say"], Entry("label", part))
    for part, said in numbers["part"].items():
        lexicon.extend(said, Entry("numpart", part))
    lexicon.extend(numbers["lost"]["say"], Entry("lost", "lost"))
    lexicon.extend(numbers["none"]["say"], Entry("none", "none"))
    lexicon.extend(numbers["none"]["denied"], Entry("no", "no"))
    lexicon.extend(numbers["not_identity"]["say"], Entry("label", ""))
    out.lists["weak_labels"] = frozenset(numbers["weak"]["say"])
    out.lists["mark_words"] = frozenset(numbers["mark_words"]["say"])
    out.lists["fillers"] = frozenset(numbers["none"]["fillers"])
    out.lists["joiners"] = frozenset(numbers["joiners"])


def _dates(lexicon: Lexicon, language: str, out: Language) -> None:
    dates = _load(language, "dates")
    _expect(language, "dates", dates, {"months", "circa", "decade", "event", "fitted", "no_date", "not_a_year"})
    for number, names in enumerate(dates["months"], 1):
        for name in names.split():
            lexicon.add(name, Entry("month", str(number)))
    lexicon.extend(dates["circa"], Entry("circa", "~"))
    out.decades.update(dates["decade"])
    for kind, said in dates["event"].items():
        lexicon.extend(said["say"], Entry("event", kind))
    lexicon.extend(dates["fitted"]["say"], Entry("event", "fitted"))
    lexicon.extend(dates["no_date"]["say"], Entry("event", ""))
    out.lists["before_figure"] = frozenset(dates["not_a_year"]["before"])
    out.lists["behind_figure"] = frozenset(dates["not_a_year"]["behind"])


def _originality(lexicon: Lexicon, language: str, out: Language) -> None:
    said = _load(language, "originality")
    _expect(language, "originality", said, {"word", "original"})
    for number, word in enumerate(said["word"]):
        _expect(language, f"originality.toml word {number}", word, {"value", "of", "only", "say"})
        lexicon.extend(word["say"], Entry("originality", word["value"], word["of"], more=" ".join(word.get("only", ()))))
    original = said["original"]
    lexicon.extend(original["say"], Entry("originality", "original", "original"))
    lexicon.extend(original["false_friends"], Entry("originality", ""))
    lexicon.extend(original["not_said"], Entry("unoriginal", ""))
    lexicon.extend(original["vehicle_nouns"], Entry("vehiclenoun", ""))
    lexicon.extend(original["paint"], Entry("paint", ""))
    out.lists["between"] = frozenset(original["between"])


def _things(lexicon: Lexicon, language: str, out: Language) -> None:
    things = _load(language, "things")
    _expect(language, "things", things, {"part", "field", "not_a_model", "several"})
    lexicon.extend(things["several"]["say"], Entry("several", ""))
    for part, said in things["part"].items():
        lexicon.extend(said, Entry("part", part))
    for kind, said in things["field"].items():
        for name in said:
            out.fields.setdefault(name, kind)
    out.lists["not_a_model"] = frozenset(things["not_a_model"]["say"])


def _particulars(lexicon: Lexicon, language: str) -> None:
    said = _load(language, "particulars")
    _expect(language, "particulars", said, {"fuel", "steering", "body_style", "owners", "vehicle_type", "since_new", "cast", "raised", "quantity"})
    for kind in ("fuel", "steering", "body_style", "owners", "vehicle_type"):
        for value, phrases in said[kind].items():
            lexicon.extend(phrases, Entry(kind, value))
    for kind in ("since_new", "cast", "raised"):
        lexicon.extend(said[kind]["say"], Entry(kind, kind))
    for place in ("before", "behind"):
        lexicon.extend(said["quantity"][place], Entry(f"quantity-{place}", ""))


@cache
def languages() -> tuple[str, ...]:
    """The languages that have phrase files, English first."""
    found = sorted(p.name for p in FOLDER.iterdir() if p.is_dir())
    return tuple(sorted(found, key=lambda name: name != "en"))
