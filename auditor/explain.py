"""What a name means: a check, kind, part, stance, grade, pack, standard or command, from code and data alone.

The manual's generated pages are made of the same entries (`auditor/manual/generate.py`), and CI compares them.
"""

import importlib
import inspect
import pkgutil
import tomllib
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from auditor.audit import known_checks
from claims import standards
from claims.claim import STANCES

if TYPE_CHECKING:
    from claims.pack import Pack

KINDS = Path(__file__).parents[1] / "claims" / "kinds.toml"
GRADE_MEANS = {
    "contradiction": "Two statements cannot both hold.",
    "doubt": "Possible but unlikely, or resting on weak sources or on parts that are easily exchanged.",
    "gap": "Needed, and neither stated nor shown.",
    "note": "Worth knowing; no conflict.",
}
STANCE_MEANS = {
    "stated": "Said plainly.",
    "hedged": "The seller is unsure: “I believe”, “should be”, a question mark.",
    "reported": "Somebody else says so: papers, a previous owner, a consignor.",
    "denied": "The words deny it.",
    "other-item": "It is about something else: a donor, a part for sale, an item wanted, a former number.",
}
SECTIONS = ("checks", "kinds", "packs", "standards", "commands")


def entry(name: str, commands: Mapping[str, str], own: "Sequence[Pack]" = ()) -> str:
    """The entry of a name as Markdown; raises `KeyError` where nothing has that name.

    `commands` are the help texts by command, `own` a user's packs as they may be shown.
    """
    plain = name.strip().lower()
    for pack in own:
        if pack.id == plain:
            return _pack_text(pack)
    for find in (_check, _kind, _pack, _standard):
        if text := find(plain):
            return text
    if plain in commands:
        return f"## auditor {plain}\n\n```\n{commands[plain]}\n```\n"
    if text := _word(plain):
        return text
    raise KeyError(name)


def names(section: str, commands: Mapping[str, str]) -> list[str]:
    """Every name of a section of the manual, in order."""
    makers: dict[str, Callable[[], list[str]]] = {
        "checks": lambda: sorted(known_checks()),
        "kinds": lambda: list(_kinds()),
        "packs": lambda: [p.id for p in _packs()],
        "standards": lambda: sorted(m.name for m in pkgutil.iter_modules(standards.__path__)),
        "commands": lambda: sorted(commands),
    }
    return makers[section]()


def everything(commands: Mapping[str, str]) -> list[str]:
    """Every name that has an entry."""
    return [n for section in SECTIONS for n in names(section, commands)] + [*GRADE_MEANS, *STANCES]


def _check(name: str) -> str:
    if name not in known_checks():
        return ""
    module = known_checks()[name]
    what, _, why = inspect.cleandoc(module.__doc__ or "").partition("\n\n")
    return f"## {name}\n\n{_joined(what)}\n\n{_joined(why)}\n\nIt leads to the question: “{module.ASK}”\n"


def _kinds() -> dict[str, dict[str, str]]:
    return tomllib.loads(KINDS.read_text(encoding="utf-8"))


def _kind(name: str) -> str:
    kind = _kinds().get(name)
    if not kind:
        return ""
    several = "A vehicle can have several." if kind["several"] else "A vehicle has one."
    return f"## {name}\n\nThe words say: {kind['means']}. The value is a {kind['value']}. {several}\n"


def _packs() -> "tuple[Pack, ...]":
    from claims.pack import shipped_packs

    return shipped_packs()


def _pack(name: str) -> str:
    return next((_pack_text(p) for p in _packs() if p.id == name), "")


def _pack_text(pack: "Pack") -> str:
    from auditor.render.packs import one

    return f"## {pack.id}\n\n```\n{one(pack).rstrip()}\n```\n"


def _standard(name: str) -> str:
    if name not in names("standards", {}):
        return ""
    module = importlib.import_module(f"{standards.__name__}.{name}")
    text = inspect.cleandoc(module.__doc__ or "").partition("\n>>>")[0].strip()
    return f"## {name}\n\n{text}\n"


def _word(name: str) -> str:
    meaning = {**GRADE_MEANS, **STANCE_MEANS}.get(name)
    return f"## {name}\n\n{meaning}\n" if meaning else ""


def _joined(text: str) -> str:
    """Paragraphs of a docstring, each on one line."""
    return "\n\n".join(" ".join(p.split()) for p in text.split("\n\n"))
