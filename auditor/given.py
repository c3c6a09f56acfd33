"""What a command line gives: listings, letters and packs, and one harmless line where one of them cannot be used.

Heavy imports stand inside the functions, so that `--help` answers at once.
"""

import sys
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from claims.pack import Pack
    from extractors.document import Document

UNREADABLE = 2
"""Exit status where an input could not be read."""


def documents_of(inputs: Sequence[str]) -> "Iterator[Document | None]":
    """Each listing of each input; None (and one line on standard error) for what could not be read."""
    from extractors.errors import UnreadableListing
    from extractors.intake import documents

    for path in inputs:
        try:
            yield from documents(path)
        except UnreadableListing as error:
            complain(str(error))
            yield None


def one_listing(found: "Iterator[Document | None]") -> "Iterator[Document | None]":
    """The listing that letters belong to; ends with status 2 where there are several."""
    listings = list(found)
    if len(listings) > 1:
        complain("a reply or notes belong to one listing; give that one alone")
        sys.exit(UNREADABLE)
    yield from listings


def letters_of(paths: Sequence[str]) -> "list[Document]":
    """The letters in files; ends with status 2 where one cannot be read, since an audit without it would mislead."""
    from extractors.errors import UnreadableListing
    from extractors.letters import letter

    try:
        return [letter(path) for path in paths]
    except UnreadableListing as error:
        complain(str(error))
        sys.exit(UNREADABLE)


def packs_of(ids: Sequence[str], *, for_others: bool = False) -> "tuple[Pack, ...]":
    """The shipped packs with the user's own, or those named; without private rows where others will read what comes of them.

    A pack of the user's that cannot be used is named on standard error; ends with status 2 where there is no pack of a name.
    """
    from claims.own_packs import known_packs
    from claims.pack import BadPack
    from claims.pack_extension import public

    try:
        known = known_packs()
    except BadPack as error:
        complain(str(error))
        sys.exit(UNREADABLE)
    for left in known.left_out:
        complain(f"pack {left.name} left out: {left.why}")
    chosen = tuple(p for p in known.packs if not ids or p.id in ids)
    for name in ids:
        if name not in {p.id for p in known.packs}:
            complain(f"{name}: no such pack; `auditor packs` lists them")
            sys.exit(UNREADABLE)
    return public(chosen) if for_others and known.has_own else chosen


def complain(message: str) -> None:
    """One harmless line on standard error."""
    from auditor.render.plain import one_line

    click.echo(f"auditor: {one_line(message)[:500]}", err=True)
