"""The words of a pack's features as sets of word stems, so that sellers may say them in their own order.

A variant is said when all stems of one of its phrases stand close together, or when the stems that tell it from its
siblings stand beside a word of the feature ("nine fins", "brass plate"), as long as no other feature could be meant.
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from claims.grid import words
from claims.pack import Pack

_EMPTY = frozenset("the a an on in of at to with is are has have its by it that and under below".split()) - {"under", "below"}
_DENYING = frozenset({"no", "without", "miss", "missing"})
_OPTIONAL = frozenset({"data", "front", "main"})
_SAME = {
    "leaves": "leaf", "twin": "two", "double": "two", "webbed": "web", "fastened": "fix", "push": "press", "pressed": "press", "pushed": "press", "planks": "plank",
    "number": "number", "stamped": "number", "5": "five", "6": "six", "7": "seven", "9": "nine", "11": "eleven", "2": "two", "3": "three", "4": "four",
    "feather": "quill", "underneath": "below", "beneath": "below", "covered": "enclosed", "name": "name",
}  # fmt: skip
"""Words that sellers use for one another (common practice, no source)."""


class Form(NamedTuple):
    """One way to say a variant: its stems, the feature and variant, its part."""

    stems: frozenset[str]
    feature: str
    variant: str
    part: str


@lru_cache(maxsize=1 << 14)
def stem(word: str) -> str:
    """A word without plural and participle endings.

    >>> stem("rivets"), stem("riveted"), stem("leaves"), stem("planked"), stem("brass")
    ('rivet', 'rivet', 'leaf', 'plank', 'brass')
    """
    if word in _SAME:
        return _SAME[word]
    for ending in ("ed", "es", "s"):
        if word.endswith(ending) and len(word) - len(ending) >= 3 and not word.endswith("ss"):
            word = word.removesuffix(ending)
            break
    return _SAME.get(word, word)


def _content(phrase: str) -> frozenset[str]:
    return frozenset(stem(w) for w in words(phrase) if w.isalnum() and w not in _EMPTY and w not in _OPTIONAL and w != "s")


@lru_cache(maxsize=64)
def forms(pack: Pack) -> dict[str, list[Form]]:
    """Every form of a pack's features, by one of its stems."""
    said: dict[str, dict[str, list[frozenset[str]]]] = {}
    for variant in pack.variants:
        said.setdefault(variant.feature, {})[variant.variant] = [_content(p) for p in variant.words]
    out: dict[str, list[Form]] = {}
    for form in dict.fromkeys((*_whole(pack, said), *_short(pack, said))):
        out.setdefault(max(sorted(form.stems), key=len), []).append(form)
    return out


def _whole(pack: Pack, said: dict[str, dict[str, list[frozenset[str]]]]) -> Iterator[Form]:
    for feature, variants in said.items():
        for variant, phrases in variants.items():
            for stems in phrases:
                if len(stems) > 1:
                    yield Form(stems, feature, variant, pack.features[feature].part)


def _short(pack: Pack, said: dict[str, dict[str, list[frozenset[str]]]]) -> Iterator[Form]:
    """What tells a variant from its siblings, with one word of the feature, unless another phrase holds both."""
    everything = [(f, v, stems) for f, variants in said.items() for v, phrases in variants.items() for stems in phrases]
    for feature, variants in said.items():
        shared = frozenset.intersection(*(frozenset().union(*phrases) for phrases in variants.values()))
        for variant, phrases in variants.items():
            for stems in phrases:
                for noun in sorted(stems & shared):
                    short = (stems - shared) | {noun}
                    telling = stems - shared - _DENYING
                    if telling and len(short) > 1 and not any(short <= other for f, v, other in everything if (f, v) != (feature, variant)):
                        yield Form(frozenset(short), feature, variant, pack.features[feature].part)
