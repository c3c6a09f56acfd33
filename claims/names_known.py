"""The names that a lexicon knows: makers, models and features of the packs, and the list of makers outside them."""

import re
import tomllib
from collections import Counter
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from claims.grid import first_token
from claims.lexicon import Entry, Lexicon
from claims.pack import Pack

MAKERS = Path(__file__).parent / "phrases" / "makers.toml"
MODELS = Path(__file__).parent / "phrases" / "models.toml"
EVERYDAY, PLAIN, OF_MAKER, HEADLINE = "everyday", "word", "of-maker", "headline"
"""How a model's name may be read: an everyday word needs its maker, a plain word its capital, short or bare figures their maker straight before."""


def add_packs(lexicon: Lexicon, packs: Iterable[Pack]) -> None:
    """Add every pack's makers, models and the words for its features."""
    for pack in packs:
        for name in (*pack.makers, *pack.models):
            entry = Entry(name.kind, name.canonical, name.part, pack.id, _manner(name.canonical))
            for said in (name.canonical, *name.also_written):
                lexicon.add(
                    said,
                    entry
                    if said == name.canonical
                    else Entry(name.kind, name.canonical, name.part, pack.id, _manner(said, alias=name.kind == "model" and " " in name.canonical)),
                )
        for caution in pack.cautions:
            lexicon.extend(caution.words, Entry("hazard", caution.caution, "vehicle", pack.id))
        for variant in pack.variants:
            part = pack.features[variant.feature].part
            lexicon.extend(variant.words, Entry("feature", f"{variant.feature}={variant.variant}", part, pack.id))


def add_makers(lexicon: Lexicon) -> None:
    """Add the makers outside the packs, each with the value that its make is known by; everyday words need their capitals."""
    listed = tomllib.loads(MAKERS.read_text(encoding="utf-8"))
    canonical = {also: group[0] for group in listed["same"] for also in group}
    everyday, shouted, headed = set(listed["words"]), set(listed["capitals"]), set(listed["headline"])
    of_part = {name: part for part, names in listed["of_part"].items() for name in names}
    for name in dict.fromkeys([*listed["names"], *canonical, *listed["headline"]]):
        lexicon.add(
            name,
            Entry(
                "maker",
                canonical.get(name, name),
                of_part.get(name, "vehicle"),
                "",
                "capitals" if name in shouted else HEADLINE if name in headed else "word" if name in everyday else "",
            ),
        )


def add_models(lexicon: Lexicon) -> None:
    """Add the models outside the packs; the entry's part field stays the vehicle, its family is empty."""
    everyday = set(_models_listed()["everyday"])
    lexicon.defer(_models_by_first_token(), lambda name: Entry("model", name, "vehicle", "", _manner_of_model(name, everyday)))


@cache
def _models_by_first_token() -> Mapping[str, list[str]]:
    out: dict[str, list[str]] = {}
    for names in models_of_makers().values():
        for name in names:
            out.setdefault(first_token(name), []).append(name)
    return out


@cache
def maker_of_model() -> Mapping[str, str]:
    """The maker of each model outside the packs, by the model's name in lower case; names of several makers, or of none, are left out."""
    found = [(name.lower(), maker) for maker, names in models_of_makers().items() for name in names]
    once = Counter(name for name, _ in found)
    return {name: maker for name, maker in found if maker and once[name] == 1}


@cache
def without_maker() -> frozenset[str]:
    """The models, in lower case, whose maker a listing names itself."""
    return frozenset(name.lower() for name in models_of_makers().get("", ()))


@cache
def models_of_makers() -> Mapping[str, tuple[str, ...]]:
    """The models outside the packs by maker; those whose maker a listing names itself stand under an empty name."""
    return {maker: tuple(name.strip() for name in names.split(",")) for maker, names in _models_listed()["models"].items()}


@cache
def _models_listed() -> dict[str, Any]:
    """The file of models as it stands: `everyday`, `variants`, and `models` with the names of each maker divided by commas."""
    return tomllib.loads(MODELS.read_text(encoding="utf-8"))


@cache
def variants() -> frozenset[tuple[str, ...]]:
    """Words and codes of a variant that belong to the designation before them, as tokens in lower case ("ex-l" is three)."""
    return frozenset(tuple(re.findall(r"[^\W_]+|[^\w\s]", name.lower())) for name in _models_listed().get("variants", ()))


def _manner_of_model(name: str, everyday: set[str]) -> str:
    if len(name.replace(" ", "")) <= 2 or name.replace("/", "").replace("-", "").replace(" ", "").isdigit():
        return OF_MAKER
    if name in everyday:
        return EVERYDAY
    return PLAIN if name.isalpha() else ""


def _manner(name: str, *, alias: bool = False) -> str:
    """`word` for a single plain word, which is a name only with its capital; `alias` for one that is short for more."""
    return "alias" if alias and name.isalpha() and " " not in name else "word" if name.isalpha() and not name.isupper() and " " not in name else ""
