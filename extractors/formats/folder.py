"""A folder with a listing's words and pictures.

Every text, page, mail and record in it is read. Its pictures go with the one listing; where the folder holds several,
with the one whose file name begins the picture's, else with none (a picture of another vehicle is a false witness).
"""

import dataclasses
import posixpath
from collections.abc import Iterator

from extractors.document import Document, Photo
from extractors.errors import NothingThere
from extractors.formats.saved_page import ENDINGS as PAGES
from extractors.intake import read
from extractors.pictures import ENDINGS as PICTURES
from extractors.pictures import photos
from extractors.source import Source

ORDER = 0
LISTINGS = PAGES | {".txt", ".md", ".json", ".jsonl", ".ndjson", ".eml", ".mhtml", ".mht"}
OF_A_PAGE = ("_files", "-files", ".files", "_dateien", "-dateien", "_fichiers", "_archivos", "_bestanden", "_file")
"""Endings of the folder that a browser saves beside a page; what it holds is the page's."""

KEPT = ".numbers."
"""In the name of a numbers sheet that is kept beside its listing: it repeats the listing and is none."""


def accepts(source: Source) -> bool:
    """Any folder."""
    return source.entries is not None


def documents(source: Source) -> Iterator[Document]:
    """Every listing of the folder in the order of file names, with its pictures."""
    names = [n for n in source.entries or () if not _is_of_a_page(n)]
    listed = [n for n in names if _ending(n) in LISTINGS and KEPT not in n]
    pictures = [n for n in names if _ending(n) in PICTURES]
    found = [(name, document) for name in listed for document in _read(source, name)]
    if not found:
        raise NothingThere(f"{source.name}: no text, page, mail or record in this folder; put the listing's words in a .txt file beside its pictures")
    for name, document in found:
        own = pictures if len(found) == 1 else [p for p in pictures if _belongs(p, name, listed)]
        beside = photos((p, data) for p in own if (data := source.sibling(p)) is not None)
        yield dataclasses.replace(document, source=f"{source.name}/{name}", photos=_once((*document.photos, *beside)))


def _read(folder: Source, name: str) -> Iterator[Document]:
    data = folder.sibling(name)
    if data is None or not data.strip():
        return
    home = posixpath.dirname(name)
    yield from read(Source(posixpath.basename(name), data, lambda beside: folder.sibling(posixpath.join(home, beside)), nested=folder.nested + 1))


def _belongs(picture: str, listing: str, listed: list[str]) -> bool:
    """Whether, of all the listings, this one's name is the longest that begins the picture's."""
    fitting = [n for n in listed if picture.startswith(n[: -len(_ending(n))])]
    return bool(fitting) and max(fitting, key=len) == listing


def _is_of_a_page(name: str) -> bool:
    return any(step.lower().endswith(OF_A_PAGE) for step in name.split("/")[:-1])


def _ending(name: str) -> str:
    return posixpath.splitext(name)[1].lower()


def _once(found: tuple[Photo, ...]) -> tuple[Photo, ...]:
    return tuple({p.sha256: p for p in found}.values())
