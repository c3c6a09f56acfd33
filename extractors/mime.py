"""A mail or web archive as its parts, bounded before the parser of the standard library sees it.

That parser's cost grows with nesting times lines, and with the length of a header times its quotes.
"""

import binascii
import re
from typing import TYPE_CHECKING

from extractors.errors import TooLarge
from extractors.pictures import file_name
from extractors.source import codec

if TYPE_CHECKING:
    from email.message import Message

MAX_PARTS = 500
MAX_BOUNDARIES = 10_000
"""Lines that could part one part from the next; a ruler of dashes is such a line too."""
MAX_CONTAINERS = 40
MAX_HEADER = 4_000
MAX_HEAD, MAX_HEADERS = 1_000_000, 20_000
MAX_FOLDS = 1_000_000
"""Lines that open with a blank, as the further lines of a header do."""
MAX_TEXT = 20_000_000
"""Bytes of a part that is read as text."""
LONGEST_TITLE = 300
_TYPED = re.compile(rb"^content-(?:type|disposition|transfer-encoding)[ \t]*:[^\n]*(?:\n[ \t][^\n]*)*", re.IGNORECASE | re.MULTILINE)
_HEADER = re.compile(rb"^[!-9;-~]{1,100}:", re.MULTILINE)
_SUBJECT = re.compile(rb"^subject[ \t]*:[ \t]*([^\n]{0,2000}(?:\n[ \t][^\n]{0,2000}){0,9})", re.IGNORECASE | re.MULTILINE)

_DATE = re.compile(rb"^date[ \t]*:[ \t]*([^\n]{0,80})", re.IGNORECASE | re.MULTILINE)


def parsed(name: str, data: bytes) -> "Message[str, str]":
    """The message that bytes are; raises `TooLarge` past a bound of parts, nesting or headers; `name` is for the message."""
    from email import message_from_bytes, policy

    lines = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    typed = [m.group() for m in _TYPED.finditer(lines)]
    if len(typed) > 3 * MAX_PARTS or lines.count(b"\n--") > MAX_BOUNDARIES:
        raise TooLarge(f"{name}: a mail or archive of over {MAX_PARTS} parts; save the listing's text alone")
    top = head(lines)
    folds = lines.count(b"\n ") + lines.count(b"\n\t")
    if any(len(t) > MAX_HEADER for t in typed) or len(top) > MAX_HEAD or len(_HEADER.findall(top)) > MAX_HEADERS or folds > MAX_FOLDS:
        raise TooLarge(f"{name}: a mail or archive with headers too long to read; save the listing's text alone")
    if sum(b"multipart/" in t.lower() or b"message/" in t.lower() for t in typed) > MAX_CONTAINERS:
        raise TooLarge(f"{name}: a mail or archive nested over {MAX_CONTAINERS} deep; save the listing's text alone")
    return message_from_bytes(data, policy=policy.compat32)


def leaves(name: str, message: "Message[str, str]") -> "list[Message[str, str]]":
    """The parts that hold something, in order; an enclosed message is one part. Raises `TooLarge` for too many."""
    found: list[Message[str, str]] = []
    waiting = [message]
    while waiting:
        part = waiting.pop()
        if part.is_multipart() and part.get_content_maintype() != "message":
            waiting.extend(reversed(_inside(part)))
        else:
            found.append(part)
    if len(found) > MAX_PARTS:
        raise TooLarge(f"{name}: a mail or archive of over {MAX_PARTS} parts; save the listing's text alone")
    return found


def content(part: "Message[str, str]") -> bytes:
    """The bytes of a part, its transfer encoding undone; of an enclosed message, that message."""
    if part.is_multipart():
        return next((_as_bytes(whole) for whole in _inside(part)), b"")
    try:
        found = part.get_payload(decode=True)
    except (ValueError, LookupError, binascii.Error):
        return b""
    return found if isinstance(found, bytes) else b""


def text_of(name: str, part: "Message[str, str]") -> bytes:
    """The bytes of a part that is to be read as text; raises `TooLarge`."""
    data = content(part)
    if len(data) > MAX_TEXT:
        raise TooLarge(f"{name}: over {MAX_TEXT // 1_000_000} MB of text; a listing is far smaller: give its text alone")
    return data


def charset(part: "Message[str, str]") -> str:
    """The character set that a part declares, or an empty string."""
    try:
        return str(part.get_param("charset") or "")
    except (ValueError, LookupError):
        return ""


def name_of(part: "Message[str, str]") -> str:
    """The file name that a part gives itself, or an empty string."""
    try:
        given = part.get_filename() or ""
    except (ValueError, LookupError):
        return ""
    return file_name(_readable(given.encode("utf-8", "surrogateescape"))) if given else ""


def subject(data: bytes) -> str:
    """The subject of a mail, on one line."""
    found = _SUBJECT.search(head(data).replace(b"\r\n", b"\n").replace(b"\r", b"\n"))
    return " ".join(_readable(found[1]).split())[:LONGEST_TITLE] if found else ""


def date(data: bytes) -> str:
    """The day on which a mail was sent, as its header gives it (ISO 8601); empty where it gives none that can be read."""
    from email.utils import parsedate_to_datetime

    found = _DATE.search(head(data).replace(b"\r\n", b"\n").replace(b"\r", b"\n"))
    try:
        return parsedate_to_datetime(found[1].decode("ascii", "replace")).date().isoformat() if found else ""
    except (ValueError, TypeError, IndexError, OverflowError):
        return ""


def head(data: bytes) -> bytes:
    """The headers of a mail: what stands before its first empty line."""
    return re.split(rb"(?>\r\n|\n|\r){2}", data, maxsplit=1)[0]


def _inside(part: "Message[str, str]") -> "list[Message[str, str]]":
    """The parts of a part of several; never asked of another, whose text would be decoded by whatever codec it names."""
    from email.message import Message

    found = part.get_payload()
    return [p for p in found if isinstance(p, Message)] if isinstance(found, list) else []


def _readable(raw: bytes) -> str:
    """A header's words, encoded ones (RFC 2047) undone."""
    text = raw[:MAX_HEADER].decode("utf-8", "replace")
    if "=?" not in text:
        return text
    from email.errors import HeaderParseError
    from email.header import decode_header

    try:
        pieces = decode_header(text)
    except (HeaderParseError, ValueError, binascii.Error):
        return text
    return "".join(_piece(piece, said) for piece, said in pieces)


def _piece(piece: bytes | str, said: str | None) -> str:
    if isinstance(piece, str):
        return piece
    try:
        return piece.decode("utf-8")
    except UnicodeDecodeError:
        return piece.decode(codec(said or ""), "replace")


def _as_bytes(message: "Message[str, str]") -> bytes:
    try:
        return message.as_bytes()
    except (ValueError, LookupError, TypeError, AttributeError):
        return b""
