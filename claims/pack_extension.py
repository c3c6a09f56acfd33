"""A user's pack joined to the shipped pack that it extends, and packs without their private rows."""

import dataclasses
from collections.abc import Sequence
from typing import Any

from claims.pack import Pack
from claims.pack_rows import BLOCKS

PRIVATE = "private"
_LISTED = (
    "names", "blocks", "equalities", "variants", "spans", "marks", "places", "traps", "cautions", "innocents", "examples",
)  # fmt: skip
_NAMED = ("parts", "schemes", "features")


def extended(base: Pack, own: Pack) -> Pack:
    """The shipped pack with the user's rows behind its own; neither is changed.

    Rows of the user keep their own sources, whose ids get the user's pack before them so that they meet no shipped one.
    """
    sources = base.sources | {f"{own.id}:{name}": dataclasses.replace(s, source_id=f"{own.id}:{name}") for name, s in own.sources.items()}
    parts: dict[str, Any] = {}
    for name in _LISTED:
        parts[name] = (*getattr(base, name), *(_with_source(row, own) for row in getattr(own, name)))
    for name in _NAMED:
        parts[name] = getattr(base, name) | {key: _with_source(row, own) for key, row in getattr(own, name).items()}
    pack = dataclasses.replace(base, sources=sources, is_own=True, **parts)
    for path in sorted(own.folder.glob("*.csv")):
        if path.stem not in BLOCKS:
            added = tuple({**row, "source_id": _source_id(row.get("source_id", ""), own)} for row in own.table(path.stem))
            shipped = base.table(path.stem) if (base.folder / path.name).is_file() else ()
            pack.tables[path.stem] = (*shipped, *added)
    return pack


def _with_source(row: Any, own: Pack) -> Any:
    return dataclasses.replace(row, source_id=_source_id(row.source_id, own)) if hasattr(row, "source_id") else row


def _source_id(named: str, own: Pack) -> str:
    chosen = named or own.default_source
    return f"{own.id}:{chosen}" if chosen in own.sources else chosen


def public(packs: Sequence[Pack]) -> tuple[Pack, ...]:
    """The packs without the rows that their keeper marked private: for everything that others may read."""
    return tuple(_public(p) if p.is_own else p for p in packs)


def has_private(pack: Pack) -> bool:
    """Whether any row of a pack is private."""
    rows: tuple[Any, ...] = (*pack.features.values(), *pack.spans, *pack.marks, *pack.places)
    return pack.is_own and (any(r.private for r in rows) or any(_is_private(row) for name in _tables(pack) for row in pack.table(name)))


def _public(pack: Pack) -> Pack:
    features = {name: f for name, f in pack.features.items() if not f.private}
    hidden = set(pack.features) - set(features)
    kept = dataclasses.replace(
        pack,
        features=features,
        variants=tuple(v for v in pack.variants if v.feature not in hidden),
        spans=tuple(s for s in pack.spans if s.feature not in hidden and not s.private),
        marks=tuple(m for m in pack.marks if not m.private),
        places=tuple(p for p in pack.places if not p.private),
    )
    for name in _tables(pack):
        kept.tables[name] = tuple(row for row in pack.table(name) if not _is_private(row))
    used = {getattr(r, "source_id", "") for r in _rows(kept)} | {row.get("source_id", "") for name in _tables(pack) for row in kept.table(name)}
    were = {getattr(r, "source_id", "") for r in _rows(pack)} | {row.get("source_id", "") for name in _tables(pack) for row in pack.table(name)}
    sources = {name: s for name, s in kept.sources.items() if name in used or name not in were or name == kept.default_source}
    shown = dataclasses.replace(kept, sources=sources)
    shown.tables.update(kept.tables)
    return shown


def _rows(pack: Pack) -> list[Any]:
    listed = [row for name in _LISTED for row in getattr(pack, name)]
    return [*listed, *(row for name in _NAMED for row in getattr(pack, name).values())]


def _tables(pack: Pack) -> list[str]:
    """Tables of the user's folder, or those already joined to a shipped pack's."""
    return sorted({*pack.tables, *(p.stem for p in pack.folder.glob("*.csv") if p.stem not in BLOCKS)})


def _is_private(row: dict[str, str]) -> bool:
    return row.get(PRIVATE, "") == "yes"
