"""From a path, a folder, standard input or bytes to Documents; the only file access in this package.

Formats are the modules of `extractors/formats`, found by walking the folder, each with `accepts(source)` and
`documents(source)`. A format that holds another (a mail, an archive) hands its parts back to `read`.
"""

import importlib
import os
import pkgutil
import stat
import sys
import time
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path, PurePosixPath
from typing import BinaryIO, Protocol

from extractors import formats
from extractors.document import Document
from extractors.errors import NothingThere, TooLarge, UnreadableListing
from extractors.source import Source

MAX_BYTES = 20_000_000
"""Bound on one listing; the longest of 4,300 private adverts had 1,900 words (LISTINGS: some 12,000 bytes)."""
MAX_ARCHIVE_BYTES = 60_000_000
"""Bound on a mail or web archive, which holds pictures too; its parts are bounded again."""
ARCHIVES = frozenset({".eml", ".mhtml", ".mht"})
MAX_FILES, MAX_FOLDER_DEPTH = 2_000, 3
"""Bounds on a folder of one listing."""
MAX_NESTING = 4
"""How many mails, archives and folders may stand inside one another."""
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
    return read(source_at(path))


def source_at(path: str) -> Source:
    """A file, a folder, or standard input for `-`, as a bounded source; raises `UnreadableListing`."""
    return _folder(Path(path)) if path != STANDARD_INPUT and Path(path).is_dir() else source_of(path)


def read(source: Source) -> Iterator[Document]:
    """Every listing in a source, by the first format that accepts it; raises `TooLarge` where it came out of too many others."""
    if source.nested > MAX_NESTING:
        raise TooLarge(f"{source.name}: inside over {MAX_NESTING} mails or archives; save the innermost and give it alone")
    if time.monotonic() > source.until:
        raise TooLarge(f"{source.name}: inside a mail that takes too long to read; save it and give it alone")
    if source.entries is None:
        _bounded(source.name, source.data, MAX_ARCHIVE_BYTES if source.suffix in ARCHIVES else MAX_BYTES)
    for form in known_formats():
        if form.accepts(source):
            yield from form.documents(source)
            return
    raise UnreadableListing(f"{source.name}: no known format; paste or save the listing's text")


def source_of(path: str) -> Source:
    """A file, or standard input for `-`, as bytes in bounds with a name; raises `NothingThere` or `TooLarge`."""
    return _standard_input() if path == STANDARD_INPUT else _file(Path(path))


def lines(path: str) -> Iterator[tuple[int, bytes]]:
    """(number, bytes) of each non-empty line of a JSON-lines file or standard input, one at a time."""
    try:
        with _opened(path) as stream:
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


def _opened(path: str) -> BinaryIO:
    return sys.stdin.buffer if path == STANDARD_INPUT else Path(path).open("rb")


def _file(path: Path) -> Source:
    most = MAX_ARCHIVE_BYTES if path.suffix.lower() in ARCHIVES else MAX_BYTES
    try:
        with path.open("rb") as stream:
            data = _bounded(str(path), stream.read(most + 1), most)
    except OSError as error:
        raise _unreachable(str(path), error) from None
    return Source(path.name, data, _beside(path.parent))


def _folder(path: Path) -> Source:
    """A folder with the names of its plain files; links, hidden files and what lies too deep stay out."""
    found: list[str] = []
    waiting = [(path, PurePosixPath())]
    while waiting:
        here, inside = waiting.pop()
        try:
            entries = sorted(os.scandir(here), key=lambda e: e.name)
        except OSError as error:
            raise _unreachable(str(here), error) from None
        for entry in entries:
            if entry.name.startswith(".") or entry.is_symlink():
                continue
            if entry.is_dir() and len(inside.parts) < MAX_FOLDER_DEPTH:
                waiting.append((here / entry.name, inside / entry.name))
            elif entry.is_file():
                found.append(str(inside / entry.name))
        if len(found) + len(waiting) > MAX_FILES:
            raise TooLarge(f"{path}: over {MAX_FILES:,} files; give the folder of one listing")
    return Source(path.resolve().name or str(path), b"", _beside(path), tuple(sorted(found)))


def _beside(folder: Path) -> Callable[[str], bytes | None]:
    """A way to the files below a folder, and to no others: no way up, no link that leads out, plain files in bounds."""

    def sibling(name: str) -> bytes | None:
        steps = PurePosixPath(name).parts
        if not steps or name.startswith("/") or ".." in steps or any(c in name for c in "\\:\0"):
            return None
        try:
            root = folder.resolve()
            path = root.joinpath(*steps).resolve()
            if not path.is_relative_to(root):
                return None
            with os.fdopen(os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)), "rb") as stream:
                known = os.fstat(stream.fileno())
                return stream.read(MAX_ARCHIVE_BYTES) if stat.S_ISREG(known.st_mode) and known.st_size <= MAX_ARCHIVE_BYTES else None
        except (OSError, ValueError, RuntimeError):
            return None

    return sibling


def _bounded(name: str, data: bytes, most: int = MAX_BYTES) -> bytes:
    if len(data) > most:
        raise TooLarge(f"{name}: over {most // 1_000_000} MB; a listing is far smaller: give its text alone")
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
