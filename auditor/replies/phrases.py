"""The phrases of answers (`phrases.toml`), and whether a text says one of them."""

import re
import tomllib
from functools import cache
from pathlib import Path

ABOUT = "about."


def says(name: str, text: str) -> bool:
    """Whether a text holds a phrase of that table, as whole words.

    >>> says("slip", "Sorry, a typo."), says("slip", "She slipped"), says("about.number", "Which engine number?")
    (True, False, True)
    """
    return bool(_pattern(name).search(text.lower().replace("’", "'")))


@cache
def _pattern(name: str) -> "re.Pattern[str]":
    found = sorted(_tables()[name], key=len, reverse=True)
    return re.compile("|".join(rf"(?<!\w){re.escape(said)}(?!\w)" for said in found))


@cache
def _tables() -> dict[str, tuple[str, ...]]:
    read = tomllib.loads((Path(__file__).parent / "phrases.toml").read_text(encoding="utf-8"))
    about = read.pop("about")
    return {name: tuple(t["say"]) for name, t in read.items()} | {ABOUT + name: tuple(t["say"]) for name, t in about.items()}
