"""A user's own packs: found in the configuration folder, checked in full, joined to the shipped ones.

A pack that cannot be used is left out and named; it never stops a command. The environment variable `AUDITOR_PACKS`
names another folder.
"""

import os
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from claims.pack import Pack, shipped_packs

FOLDER_VARIABLE = "AUDITOR_PACKS"
APPLICATION = "listing-auditor"
MOST_PACKS = 50
LARGEST_TOGETHER = 20_000
"""Instructions of the patterns of all own packs together: what a pattern set holds besides the shipped ones."""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A pack of the user's that is not used, and why."""

    name: str
    why: str


@dataclass(frozen=True)
class KnownPacks:
    """The shipped packs, with the user's joined to them; those that were left out."""

    packs: tuple[Pack, ...]
    left_out: tuple[LeftOut, ...] = ()

    @property
    def has_own(self) -> bool:
        """Whether a user's rows are among them."""
        return any(p.is_own for p in self.packs)


def own_folder() -> Path:
    """Where a user's packs live; it need not exist."""
    if named := os.environ.get(FOLDER_VARIABLE):
        return Path(named)
    from platformdirs import user_config_path

    return user_config_path(APPLICATION) / "packs"


def own_pack_folders(folder: Path) -> list[Path]:
    """The folders of the user's packs, in order of their names."""
    try:
        return sorted(p for p in folder.iterdir() if p.is_dir() and not p.name.startswith("."))
    except OSError:
        return []


def known_packs() -> KnownPacks:
    """Every pack that can be used; raises `BadPack` only where a shipped one is broken."""
    return _known(own_folder())


@cache
def _known(folder: Path) -> KnownPacks:
    folders = own_pack_folders(folder)
    return joined(shipped_packs(), folders) if folders else KnownPacks(shipped_packs())


def joined(shipped: Sequence[Pack], folders: Sequence[Path]) -> KnownPacks:
    """The shipped packs with those of the folders: beside them, or in place of the one that they extend."""
    from claims.pack_check import check_pack, program_size

    packs = {p.id: p for p in shipped}
    left_out: list[LeftOut] = []
    size = 0
    for number, folder in enumerate(folders):
        if number >= MOST_PACKS:
            left_out.append(LeftOut(folder.name, f"more than {MOST_PACKS} packs of your own"))
            continue
        try:
            pack, files = check_pack(folder, tuple(packs.values()))
            if pack is None:
                errors = [p for p in files.problems if p.grade == "error"]
                more = f" (and {len(errors) - 1} more; run auditor pack check)" if len(errors) > 1 else ""
                left_out.append(LeftOut(folder.name, f"{errors[0]}{more}"))
                continue
            added = program_size(pack) - (program_size(packs[pack.id]) if pack.id in packs else 0)
        except Exception as error:
            left_out.append(LeftOut(folder.name, f"{type(error).__name__}: {error}"))
            continue
        if size + added > LARGEST_TOGETHER:
            left_out.append(LeftOut(folder.name, "the patterns of your packs are too large together"))
            continue
        size += added
        packs[pack.id] = pack
    return KnownPacks(tuple(packs.values()), tuple(left_out))
