"""From a path, standard input or bytes to Documents; the only file access in this package.

Formats are the modules of `extractors/formats`, found by walking the folder, each with `accepts(source)` and
`documents(source)`. A format that holds another (a mail, an archive) hands its parts back to `read`.
"""

import importlib
import pkgutil
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Protocol

from extractors import formats
from extractors.document import Document
from extractors.errors import NothingThere, TooLarge, UnreadableListing
from extractors.source import Source

MAX_BYTES = 20_000_000
"""Bound on one listing; the longest of 4,300 private adverts had 1,900 words (LISTINGS: some 12,000 bytes)."""
STANDARD_INPUT = "-"


class Format(Protocol):
    """What a module in `extractors/formats` offers."""

    ORDER: int

    def accepts(self, source: Source) -> bool: ...
    def documents(self, source: Source) -> Iterator[Document]: ...


@cache
def known_formats() -> tuple[Format, ...]:
    """Every format module in the order it is tried; the plainest comes last."""
    found = [importlib.import_module(m.name) for m in pkgutil.iter_modules(formats.__path__, formats.__name__ + ".")]
    return tuple(sorted(found, key=lambda m: m.ORDER))


def documents(path: str) -> Iterator[Document]:
    """Every listing in a file, or in standard input for `-`; raises `UnreadableListing` with a one-line message."""
    return read(_standard_input() if path == STANDARD_INPUT else _file(Path(path)))


def read(source: Source) -> Iterator[Document]:
    """Every listing in a source, by the first format that accepts it."""
    for form in known_formats():
        if form.accepts(source):
            yield from form.documents(source)
            return
    raise UnreadableListing(f"{source.name}: no known format; paste or save the listing's text")


def lines(path: str) -> Iterator[tuple[int, bytes]]:
    """(number, bytes) of each non-empty line of a JSON-lines file or standard input, one at a time."""
    try:
        stream = sys.stdin.buffer if path == STANDARD_INPUT else Path(path).open("rb")
        with stream:
            number = 0
            while line := stream.readline(MAX_BYTES + 1):
                number += 1
                if len(line) > MAX_BYTES:
                    raise TooLarge(f"{path}: line {number} is over {MAX_BYTES // 1_000_000} MB; split the file")
                if line.strip():
                    yield number, line
    except OSError as error:
        raise _unreachable(path, error) from None


def _standard_input() -> Source:
    return Source(STANDARD_INPUT, _bounded(STANDARD_INPUT, sys.stdin.buffer.read(MAX_BYTES + 1)))


def _file(path: Path) -> Source:
    try:
        with path.open("rb") as stream:
            data = _bounded(str(path), stream.read(MAX_BYTES + 1))
    except OSError as error:
        raise _unreachable(str(path), error) from None
    return Source(path.name, data)


def _bounded(name: str, data: bytes) -> bytes:
    if len(data) > MAX_BYTES:
        raise TooLarge(f"{name}: over {MAX_BYTES // 1_000_000} MB; a listing is far smaller: give its text alone")
    if not data.strip():
        raise NothingThere(f"{name}: empty; give a listing as text, JSON or a saved page")
    return data


def _unreachable(path: str, error: OSError) -> NothingThere:
    reasons = {
        FileNotFoundError: "no such file; check the name, or use - for standard input",
        IsADirectoryError: "a folder; name a file in it",
        PermissionError: "no permission to read it; check its owner and mode",
    }
    return NothingThere(f"{path}: {reasons.get(type(error), error.strerror or 'cannot be read')}")
