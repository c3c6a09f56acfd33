"""A page saved in one file (`.mhtml`, RFC 2557): the page among its parts, with the pictures that it names."""

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from extractors import mime
from extractors.document import Document
from extractors.errors import BrokenRecord
from extractors.formats.saved_page import document
from extractors.source import Source

if TYPE_CHECKING:
    from email.message import Message

ORDER = 15
ENDINGS = frozenset({".mhtml", ".mht"})
LONGEST_ADDRESS = 4_000
_SAVED = re.compile(rb"^(?:Snapshot-Content-Location:|From: <Saved by)", re.MULTILINE | re.IGNORECASE)


def accepts(source: Source) -> bool:
    """By name, or by the headers that browsers write."""
    return source.suffix in ENDINGS or (source.suffix in {"", ".eml", ".txt"} and bool(_SAVED.search(mime.head(source.data[:8192]))))


def documents(source: Source) -> Iterator[Document]:
    """The one listing that the archive's page is."""
    archive = mime.parsed(source.name, source.data)
    found = mime.leaves(source.name, archive)
    page = _page(archive, found)
    if page is None:
        raise BrokenRecord(f"{source.name}: no page in this archive; save it again, or save its text")
    home = _address(page)
    beside = {place: part for part in found for place in _places(part) if part is not page}

    def picture(address: str) -> bytes | None:
        known = beside.get(address) or beside.get(_joined(home, address))
        return mime.content(known) if known is not None else None

    yield document(Source(source.name, mime.text_of(source.name, page), nested=source.nested + 1), picture, mime.charset(page))


def _page(archive: "Message[str, str]", found: list["Message[str, str]"]) -> "Message[str, str] | None":
    """The part that is the page: the one the archive starts with, else the one saved, else the first."""
    pages = [p for p in found if p.get_content_type() in {"text/html", "application/xhtml+xml"}]
    start, saved = str(archive.get_param("start") or ""), str(archive.get("Snapshot-Content-Location") or "").strip()
    for page in pages:
        if (start and str(page.get("Content-ID") or "").strip() == start) or (saved and _address(page) == saved):
            return page
    return pages[0] if pages else None


def _places(part: "Message[str, str]") -> Iterator[str]:
    """The addresses under which a page names a part."""
    if address := _address(part):
        yield address
    if identity := str(part.get("Content-ID") or "")[:LONGEST_ADDRESS].strip().strip("<>"):
        yield f"cid:{identity}"


def _address(part: "Message[str, str]") -> str:
    return "".join(str(part.get("Content-Location") or "")[:LONGEST_ADDRESS].split())


def _joined(home: str, address: str) -> str:
    from urllib.parse import urljoin

    try:
        return urljoin(home, address)
    except ValueError:
        return ""
