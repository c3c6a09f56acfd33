"""A page saved by a browser: `.html`, with the folder of its pictures beside it.

The headline, the entries (tables, lists of definitions, the page's data) and the visible text of the listing; what is
a menu, a footer or about other things stays out. Pictures are looked up among the saved files, never fetched.
"""

import base64
import binascii
import re
from collections.abc import Callable, Iterator
from urllib.parse import unquote

from extractors.document import ATTRIBUTE, TEXT, TITLE, Document, Field
from extractors.errors import NothingThere
from extractors.page.apart import page_of
from extractors.page.record import Page
from extractors.pictures import file_name, photos
from extractors.source import Source, decoded

ORDER = 20
ENDINGS = frozenset({".html", ".htm", ".xhtml", ".xht"})
HEAD_BYTES = 4096
"""How far into a page its character set is looked for; the HTML standard asks for the first 1024."""
_OPENING = re.compile(rb"(?:(?><\?xml[^>]{0,200}>|<!--.{0,900}?-->)\s*+){0,10}+<(?:!doctype\s+html|html)[\s>]", re.IGNORECASE | re.DOTALL)
_CHARSET = re.compile(rb"<meta\b[^>]{0,200}?\bcharset\s*=\s*[\"']?\s*([\w-]{2,40})", re.IGNORECASE)
_ELSEWHERE = re.compile(r"[a-z][a-z0-9+.-]*:|//", re.IGNORECASE)
_EMBEDDED = re.compile(r"data:image/([a-z]{2,8})[^,]{0,100};base64,", re.IGNORECASE)


def accepts(source: Source) -> bool:
    """By name, or a text that opens as HTML does."""
    return source.suffix in ENDINGS or (source.suffix not in {".txt", ".md", ".json"} and opens_as_page(source.data))


def opens_as_page(data: bytes) -> bool:
    """Whether bytes open as HTML does, past comments."""
    return bool(_OPENING.match(data[:HEAD_BYTES].removeprefix(b"\xef\xbb\xbf").lstrip()))


def documents(source: Source) -> Iterator[Document]:
    """The one listing that a page is."""
    yield document(source, lambda address: source.sibling(_beside(address)))


def document(source: Source, picture: Callable[[str], bytes | None], charset: str = "") -> Document:
    """The document of a page; `picture` gives the bytes of an address, `charset` is what came with the page (a mail's header)."""
    page = page_of(source.name, page_text(source, charset))
    if not (page.title or page.entries or page.text):
        raise NothingThere(f"{source.name}: no words in the page (they may be drawn by its scripts); copy the listing's words and paste them")
    return Document(source.name, fields(page), source.name, tuple(photos(_pictures(page, picture))))


def _beside(address: str) -> str:
    """An address of a page as the relative name of a file; empty where it leads elsewhere.

    >>> _beside("./page_files/a%20b.png?x=1"), _beside("https://example.org/a.png")
    ('page_files/a b.png', '')
    """
    return "" if _ELSEWHERE.match(address) else unquote(re.split(r"[?#]", address, maxsplit=1)[0]).removeprefix("./")


def page_text(source: Source, charset: str = "") -> str:
    """The page's characters, by its bytes, else by what is declared beside it or in it."""
    if not charset and (said := _CHARSET.search(source.data[:HEAD_BYTES])):
        charset = said[1].decode("ascii")
    return decoded(source, charset)


def fields(page: Page) -> tuple[Field, ...]:
    """The fields of a page in reading order, each with its place."""
    found = [Field(TITLE, page.title, page.title_locator)] if page.title else []
    found += [Field(ATTRIBUTE + e.name, e.value, e.locator) for e in page.entries]
    if page.text:
        found.append(Field(TEXT, page.text, page.text_locator))
    return tuple(found)


def _pictures(page: Page, picture: Callable[[str], bytes | None]) -> Iterator[tuple[str, bytes]]:
    """(name, bytes) of the pictures among the text that are at hand: beside the page, or embedded in it."""
    embedded = 0
    for address in page.pictures:
        if inside := _EMBEDDED.match(address):
            embedded += 1
            try:
                coded = unquote(address[inside.end() :]).rstrip("=")
                yield f"embedded-{embedded}.{inside[1].lower()}", base64.b64decode(coded + "=" * (-len(coded) % 4))
            except (binascii.Error, ValueError):
                continue
        elif (data := picture(address)) is not None:
            yield file_name(unquote(address)), data
