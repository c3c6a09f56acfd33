"""The words of a pack's features as sets of word stems, so that sellers may say them in their own order.

A variant is said when all stems of one of its phrases stand close together, or when the stems that tell it from its
siblings stand beside a word of the feature ("nine fins", "brass plate"), as long as no other feature could be meant.
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from claims.grid import words
from claims.pack import Pack
from claims.pack_rows import Variant

_EMPTY = frozenset("the a an on in of at to with is are has have its by it that and under below".split()) - {"under", "below"}
_DENYING = frozenset({"no", "without", "miss", "missing"})
GENERIC = frozenset("top side left right front rear open round flat square one two three four five six seven nine eleven no".split())
"""Stems that tell nothing by themselves."""
_OPTIONAL = frozenset({"data", "front", "main"})
_SAME = {
    "leaves": "leaf", "twin": "two", "double": "two", "webbed": "web", "fastened": "fix", "push": "press", "pressed": "press", "pushed": "press", "planks": "plank",
    "number": "number", "stamped": "number", "5": "five", "6": "six", "7": "seven", "9": "nine", "11": "eleven", "2": "two", "3": "three", "4": "four",
    "feather": "quill", "underneath": "below", "beneath": "below", "covered": "enclos", "name": "name",
}  # fmt: skip
"""Words that sellers use for one another (common practice, no source)."""


_Said = dict[str, dict[str, list[frozenset[str]]]]
"""Feature to variant to the stems of each of its phrases."""


class Form(NamedTuple):
    """One way to say a variant of a feature."""

    feature: str
    variant: str
    part: str
    telling: frozenset[str]
    """The stems that tell the variant from its siblings."""
    nouns: frozenset[str]
    """The other stems of the phrase: words of the feature."""
    own: frozenset[str]
    """Every stem of the variant's phrases and of the feature's common words."""
    alone: bool
    """Whether one telling stem is enough beside a word of the feature named before: no other feature of its part has it."""
    unique: bool
    """Whether the telling stems, two or more, say it by themselves: no other feature of the pack has them."""


class Forms(NamedTuple):
    """The forms of a pack: by one of their telling stems, all stems, and the common words of its features."""

    by_stem: dict[str, list[Form]]
    known: frozenset[str]
    nouns: dict[str, frozenset[str]]
    """The common words of the features, with the parts that have them."""


@lru_cache(maxsize=1 << 14)
def stem(word: str) -> str:
    """A word without plural and participle endings.

    >>> stem("rivets"), stem("riveted"), stem("leaves"), stem("planked"), stem("brass"), stem("sides"), stem("boxes")
    ('rivet', 'rivet', 'leaf', 'plank', 'brass', 'side', 'box')
    """
    if word in _SAME:
        return _SAME[word]
    for ending in ("ed", "ses", "xes", "zes", "ches", "shes", "s"):
        if word.endswith(ending) and len(word) - len(ending) >= 2 + (ending in {"ed", "s"}) and not word.endswith("ss"):
            word = word.removesuffix(ending[-2:] if len(ending) > 1 else ending)
            break
    return _SAME.get(word, word)


@lru_cache(maxsize=1 << 14)
def stems_of(word: str, english: str = "") -> frozenset[str]:
    """The stems of a word as written, or of the English words that its language gives for it.

    >>> sorted(stems_of("rivets")), sorted(stems_of("radkappen", "hub caps"))
    (['rivet'], ['cap', 'hub'])
    """
    return frozenset(map(stem, english.split())) if english else frozenset({stem(word)})


def _content(phrase: str, optional: frozenset[str] = _OPTIONAL) -> frozenset[str]:
    return frozenset(stem(w) for w in words(phrase) if w.isalnum() and w not in _EMPTY and w not in optional and w != "s")


@lru_cache(maxsize=64)
def forms(pack: Pack) -> Forms:
    """Every form of a pack's features."""
    said: _Said = {}
    for variant in pack.variants:
        said.setdefault(variant.feature, {})[variant.variant] = [_content(p) for p in variant.words]
    shared = {f: frozenset.intersection(*(frozenset().union(*phrases) for phrases in variants.values())) for f, variants in said.items()}
    by_stem: dict[str, list[Form]] = {}
    for form in dict.fromkeys(form for v in pack.variants for form in _of_variant(pack, said, shared[v.feature], v)):
        by_stem.setdefault(max(sorted(form.telling), key=len), []).append(form)
    known = frozenset().union(*(stems for variants in said.values() for phrases in variants.values() for stems in phrases))
    nouns: dict[str, frozenset[str]] = {}
    for feature, stems in shared.items():
        for noun in stems - GENERIC:
            nouns[noun] = nouns.get(noun, frozenset()) | {pack.features[feature].part}
    return Forms(by_stem, known, nouns)


def _of_variant(pack: Pack, said: _Said, shared: frozenset[str], variant: Variant) -> Iterator[Form]:
    feature, name, phrases = variant.feature, variant.variant, said[variant.feature][variant.variant]
    part = pack.features[feature].part
    own = frozenset().union(*phrases) | shared | {stem(word) for word in name.split("_")}
    elsewhere = frozenset().union(
        *(stems for f, others in said.items() if f != feature and pack.features[f].part == part for ps in others.values() for stems in ps)
    )
    others = frozenset().union(*(stems for f, vs in said.items() if f != feature for ps in vs.values() for stems in ps))
    siblings = frozenset().union(*(stems for v, ps in said[feature].items() if v != name for stems in ps))
    for phrase, stems in zip(variant.words, phrases, strict=True):
        telling = stems - shared or _content(phrase, frozenset()) - shared or stems
        nouns = (stems & shared) - telling
        alone = bool(telling - GENERIC - _DENYING - elsewhere)
        unique = len(telling) > 1 and not telling & (GENERIC | _DENYING | others)
        if len(stems) > 1:
            yield Form(feature, name, part, telling, nouns, own, alone, unique)
        for noun in sorted(nouns):
            if telling - _DENYING and not _is_of_another(said, telling | {noun}, feature, name):
                yield Form(feature, name, part, telling, frozenset({noun}), own, alone, unique)
        if len(telling) > 1 and not telling & _DENYING:
            for one in sorted(telling - GENERIC - elsewhere - siblings):
                for noun in sorted(n for n in nouns - GENERIC if not _is_of_another(said, frozenset({one, n}), feature, name)):
                    yield Form(feature, name, part, frozenset({one}), frozenset({noun}), own, alone=False, unique=False)


def _is_of_another(said: _Said, stems: frozenset[str], feature: str, variant: str) -> bool:
    """Whether another phrase holds all of these stems."""
    return any(stems <= other for f, variants in said.items() for v, phrases in variants.items() if (f, v) != (feature, variant) for other in phrases)
