"""A new pack: its folder, a commented `pack.toml`, and beside it the schema by which an editor completes the keys."""

import json
import re
import shutil
from functools import cache
from pathlib import Path

from jinja2 import Environment, PackageLoader, StrictUndefined, Template

from auditor.keeper.errors import KeeperError
from claims.pack_files import PACK_FILE

NAME = re.compile(r"[a-z][a-z0-9_]{1,39}")
SCHEMA = Path(__file__).parents[1] / "manual" / "pack.schema.json"


def new_pack(folder: Path, name: str, values: dict[str, str]) -> Path:
    """Make the folder of a new pack in `folder` and return it; raises `KeeperError`."""
    if not NAME.fullmatch(name):
        raise KeeperError(f"{name}: a pack's name is 2 to 40 small letters, figures and _, a letter first")
    if bad := next((key for key, text in values.items() if not text.isprintable()), ""):
        raise KeeperError(f"--{bad}: one line of ordinary letters only")
    made = folder / name
    if made.exists():
        raise KeeperError(f"{made}: is there already; nothing was changed")
    try:
        made.mkdir(parents=True)
        shutil.copyfile(SCHEMA, folder / SCHEMA.name)
        (made / PACK_FILE).write_text(_page().render(name=name, **values), encoding="utf-8")
    except OSError as error:
        raise KeeperError(f"{made}: {error.strerror}") from None
    return made


@cache
def _page() -> Template:
    environment = Environment(
        loader=PackageLoader("auditor.keeper", "."), autoescape=False, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True,
        keep_trailing_newline=True,
    )  # fmt: skip
    environment.filters["toml"] = toml_text
    return environment.get_template("skeleton.toml.j2")


def toml_text(text: str) -> str:
    r"""A text as TOML writes it, in quotes.

    >>> print(toml_text('the "blue" book'))
    "the \"blue\" book"
    """
    return json.dumps(text, ensure_ascii=False)
