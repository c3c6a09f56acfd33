"""A mail (`.eml`): its text or page is a listing, its attachments come in again as files of their own.

The subject is the headline. Who wrote to whom is not kept. Pictures are recorded; what cannot be read is refused in one
line after the rest has been given.
"""

import dataclasses
import re
import time
from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from extractors import mime
from extractors.document import ATTRIBUTE, TEXT, TITLE, Document, Field
from extractors.errors import NothingThere, UnreadableListing
from extractors.formats.plain_text import parts
from extractors.formats.saved_page import page_text
from extractors.intake import read
from extractors.mail_text import HEADERS, SUBJECT, is_header, listing, unflowed
from extractors.page.apart import page_of
from extractors.page.record import Entry, Page
from extractors.pictures import is_picture, photos
from extractors.source import Source, decoded

if TYPE_CHECKING:
    from email.message import Message

ORDER = 16
FULLER = 3
"""A mail's page is read instead of its plain text where it says so many times more (a stub: "see this in a browser")."""
MAX_ATTACHED = 50
"""Bound on attachments that come in again; pictures are not counted."""
ATTACHMENT_SECONDS = 30.0
"""All the time that a mail's attachments get together."""
_OPENING = re.compile(
    rb"(?:Return-Path|Received|Delivered-To|From|To|Subject|Date|Message-ID|MIME-Version|DKIM-Signature|(?:X|ARC)-[\w-]{1,60}):", re.IGNORECASE
)
_LETTER = (
    re.compile(rb"^From:", re.MULTILINE | re.IGNORECASE),
    re.compile(rb"^(?:Message-ID|MIME-Version|Received):", re.MULTILINE | re.IGNORECASE),
)
_UNSAID = frozenset({
    "application/pgp-signature", "application/pkcs7-signature", "application/x-pkcs7-signature", "application/ms-tnef",
    "text/calendar", "text/vcard", "text/x-vcard", "message/delivery-status", "message/disposition-notification", "text/rfc822-headers",
})  # fmt: skip
"""Parts that mail programs add by themselves; none says anything of a listing."""
_ENDINGS = {"message/rfc822": ".eml", "text/html": ".html", "text/plain": ".txt", "application/json": ".json"}


class Letter(NamedTuple):
    """A mail taken apart: its plain texts, its pages, its attachments with their names."""

    texts: list["Message[str, str]"]
    pages: list["Message[str, str]"]
    attached: list[tuple[str, bytes]]


def accepts(source: Source) -> bool:
    """By name, or headers of a mail at the top."""
    if source.suffix == ".eml":
        return True
    head = source.data[:8192]
    return source.suffix in {"", ".txt", ".mbox"} and bool(_OPENING.match(head)) and all(p.search(mime.head(head)) for p in _LETTER)


def documents(source: Source) -> Iterator[Document]:
    """The mail's own listing, then those of its attachments; raises at the end for attachments that cannot be read."""
    letter = _taken_apart(source)
    pictures = tuple(photos((name, data) for name, data in letter.attached if is_picture(data)))
    files = [(name, data) for name, data in letter.attached if data.strip() and not is_picture(data)]
    fields = _fields(source, letter)
    if not fields and not files:
        raise NothingThere(f"{source.name}: a mail without text; paste the listing's words")
    if fields:
        yield Document(source.name, fields, source.name, pictures, mime.date(source.data))
    refused: list[str] = []
    for found in _attached(source, files, refused):
        yield found if fields or len(files) > 1 else dataclasses.replace(found, photos=(*found.photos, *pictures))
    if refused:
        more = f" (and {len(refused) - 1} more)" if len(refused) > 1 else ""
        raise UnreadableListing(f"{source.name}: attachment {refused[0]}{more}")


def words(source: Source) -> tuple[str, list[tuple[str, bytes]]]:
    """(all words of a mail with what it quotes, its pictures by name): a letter is read whole, not as a listing.

    Raises `NothingThere` for a mail without words.
    """
    letter = _taken_apart(source)
    plain = "\n\n".join(t.strip("\n") for part in letter.texts if (t := _plain(source.name, part)).strip())
    text = plain or _page(source.name, letter.pages).text
    if not text.strip():
        raise NothingThere(f"{source.name}: a mail without text; paste its words")
    return text, [(name, data) for name, data in letter.attached if is_picture(data)]


def _attached(source: Source, files: list[tuple[str, bytes]], refused: list[str]) -> Iterator[Document]:
    """The listings of attached files, in bounds of number and time; what cannot be read is added to `refused`."""
    left = min(ATTACHMENT_SECONDS, source.until - time.monotonic())
    for name, data in files[:MAX_ATTACHED]:
        begun = time.monotonic()
        found: list[Document] = []
        try:
            for document in read(Source(name, data, nested=source.nested + 1, until=begun + left)):
                found.append(document)
        except UnreadableListing as error:
            refused.append(str(error))
        left -= time.monotonic() - begun
        yield from found
    if len(files) > MAX_ATTACHED:
        refused.append(f"{files[MAX_ATTACHED][0]}: over {MAX_ATTACHED} attachments; save the further ones and give them alone")


def _taken_apart(source: Source) -> Letter:
    letter = Letter([], [], [])
    for part in mime.leaves(source.name, mime.parsed(source.name, source.data)):
        kind, name = part.get_content_type(), mime.name_of(part)
        is_attached = bool(name) or part.get_content_disposition() == "attachment" or kind == "message/rfc822"
        if kind in _UNSAID:
            continue
        if kind == "text/plain" and not is_attached:
            letter.texts.append(part)
        elif kind == "text/html" and not is_attached:
            letter.pages.append(part)
        else:
            letter.attached.append((_file_name(name, kind, len(letter.attached) + 1), mime.content(part)))
    return letter


def _file_name(name: str, kind: str, number: int) -> str:
    """A part's name; one for a part that has none, and the ending that an enclosed mail needs."""
    ending = _ENDINGS.get(kind, "")
    if kind == "message/rfc822" and name:
        return name if name.lower().endswith(ending) else name + ending
    return name or f"part-{number}{ending}"


def _fields(source: Source, letter: Letter) -> tuple[Field, ...]:
    """The fields of the mail's own listing; none where it says nothing."""
    subject = mime.subject(source.data)
    texts = [_plain(source.name, part) for part in letter.texts]
    plain = "\n\n".join(t.strip("\n") for t in texts if t.strip())
    page = _page(source.name, letter.pages) if letter.pages else Page()
    is_fuller = len(page.text) + sum(len(e.name) + len(e.value) for e in page.entries) > FULLER * len(plain)
    if not is_fuller:
        page = Page()
    entries = list(page.entries)
    if is_header({e.name for e in entries}):
        subject = next(e.value for e in entries if e.name.casefold() in SUBJECT)
        entries = [e for e in entries if e.name.casefold() not in HEADERS]
    title, text = listing(subject, page.text if is_fuller else plain)
    title, named, body = _divided(title, text)
    if not (entries or named or body):
        return ()
    taken = {e.name.casefold() for e in entries}
    entries += [Entry(name, value, page.text_locator) for name, value in named.items() if name.casefold() not in taken]
    found = [Field(TITLE, title)] if title else []
    found += [Field(ATTRIBUTE + e.name, e.value, e.locator) for e in entries]
    return (*found, Field(TEXT, body, page.text_locator)) if body else tuple(found)


def _divided(title: str, text: str) -> tuple[str, dict[str, str], str]:
    """(headline, entries, body): as pasted text is divided, under the mail's subject; a headline of the text's own stays in it."""
    if not title:
        return parts(text)
    _, named, body = parts(f"title: {title}\n{text}")
    if not named:
        own, named, rest = parts(text)
        body = "\n\n".join(part for part in (own, rest) if part) if named else body
    return title, named, body


def _plain(name: str, part: "Message[str, str]") -> str:
    data = mime.text_of(name, part)
    if not data.strip():
        return ""
    text = decoded(Source(name, data), mime.charset(part))
    return unflowed(text) if str(part.get_param("format") or "").lower() == "flowed" else text


def _page(name: str, pages: list["Message[str, str]"]) -> Page:
    """The page that a mail's first part of HTML with words in it is."""
    for part in pages:
        data = mime.text_of(name, part)
        if data.strip():
            return page_of(name, page_text(Source(name, data), mime.charset(part)))
    return Page()
