"""What the rule packs know, for the terminal."""

import textwrap
from collections.abc import Sequence

from auditor.render.plain import source_words
from claims.pack import Pack

WIDTH = 80


def listing(packs: Sequence[Pack]) -> str:
    """One entry a pack: its id, family, and counts of schemes, features and sources."""
    lines = []
    for pack in packs:
        lines.append(pack.id)
        counts = f"{len(pack.schemes)} number schemes, {len(pack.features)} features, {len(pack.sources)} sources"
        lines += textwrap.wrap(f"{pack.family}; {counts}", WIDTH, initial_indent="    ", subsequent_indent="    ")
    return "\n".join(lines) + "\n"


def one(pack: Pack) -> str:
    """A pack in full: makers, models, forms of number with an example, identity, features, traps, sources."""
    lines = [*textwrap.wrap(pack.family, WIDTH), ""]
    lines += _block("makers", [n.canonical for n in pack.makers])
    lines += _block("models", [n.canonical for n in pack.models])
    lines += _block("identity", [f"{pack.identity}{f' ({source_words(pack.source(pack.identity_source))})' if pack.identity_source else ''}"])
    lines += _block(
        "forms of number",
        [f"{s.part}: {s.written_like}{f' ({s.maker})' if s.maker else ''}{f', {s.remark}' if s.remark else ''}" for s in pack.schemes.values()],
        one_a_line=True,
    )
    lines += _block(
        "equal when new",
        [f"{e.part_a} and {e.part_b}, {e.maker}, {e.from_month} to {e.to_month}: {e.relation}" for e in pack.equalities],
        one_a_line=True,
    )
    lines += _block("features", [f"{f.part}: {f.name}" for f in pack.features.values()], one_a_line=True)
    lines += _block("traps", [f"{t.what_is_seen}: {t.what_it_is}; {t.what_to_do}" for t in pack.traps], one_a_line=True)
    lines += _block("sources", [f"{s.source_id}: {source_words(s)}" for s in pack.sources.values()], one_a_line=True)
    return "\n".join(lines) + "\n"


def _block(name: str, entries: Sequence[str], *, one_a_line: bool = False) -> list[str]:
    if not entries:
        return []
    out = [name]
    for text in entries if one_a_line else [", ".join(entries)]:
        out += textwrap.wrap(text, WIDTH, initial_indent="  - ", subsequent_indent="    ")
    return [*out, ""]
