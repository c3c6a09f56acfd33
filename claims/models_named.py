"""Which models a listing names, and whether a form or a feature that is said of some models can be meant."""

import re
from collections.abc import Collection, Iterable, Sequence

from claims.claim import OTHER_ITEM, Claim
from claims.pack import Pack
from claims.pack_rows import Scheme

_WORDS = re.compile(r"[^\W\d_]+|\d+")


def named_models(claims: Iterable[Claim]) -> frozenset[str]:
    """The models that a listing names of a vehicle, as their claims have them."""
    return frozenset(c.value for c in claims if c.kind == "model" and c.value and c.part == "vehicle" and c.stance != OTHER_ITEM and not c.is_decoded)


def form_can_be_meant(scheme: Scheme, named: Collection[str], pack: Pack) -> bool:
    """Whether a form of number can be meant where a listing names these models."""
    if any(is_named(model, name) for model in scheme.not_models for name in named):
        return False
    return can_be_meant(scheme.models, scheme.needs_model, named, pack)


def can_be_meant(models: Sequence[str], needed: bool, named: Collection[str], pack: Pack) -> bool:
    """Whether what holds for `models` can be meant: one of them is named, or (where none is needed) no other of the pack.

    A model is named where its words stand together in a named model ("B" in "Model B", "XK 120" in "XK120 roadster").
    """
    if not models:
        return True
    if any(is_named(model, name) for model in models for name in named):
        return True
    return not needed and not any(is_named(model, name) for model in pack.model_names for name in named)


def is_named(model: str, name: str) -> bool:
    """Whether the words of a model stand in a named one, in order and together.

    >>> is_named("B", "Model B"), is_named("XK120", "XK 120 roadster"), is_named("35", "135"), is_named("L", "LA")
    (True, True, False, False)
    """
    sought, words = _words(model), _words(name)
    return any(words[i : i + len(sought)] == sought for i in range(len(words) - len(sought) + 1))


def _words(text: str) -> list[str]:
    return _WORDS.findall(text.upper())
