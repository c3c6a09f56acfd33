"""What a format is given: a name and bounded bytes, and those bytes as text in the encoding they are in."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass

from extractors.errors import NothingThere, NotText

CONTROL_SHARE = 0.05
"""Share of control characters above which bytes are taken for binary (common practice, no source)."""
MOSTLY = 10
"""So many good characters beyond ASCII to a broken one make bytes UTF-8 (common practice, no source)."""
SIGNATURES = (
    (b"\x89PNG", "a PNG picture"), (b"\xff\xd8\xff", "a JPEG picture"), (b"GIF8", "a GIF picture"),
    (b"%PDF", "a PDF file"), (b"PK\x03\x04", "a ZIP archive or office file"), (b"\x1f\x8b", "a gzip archive"),
    (b"\x7fELF", "a program"), (b"MZ\x90", "a program"),
)  # fmt: skip
_CONTROLS = bytes(set(range(32)) - {9, 10, 12, 13, 27} | {127})


_KNOWN_CHARSET = re.compile(
    r"utf-?8|us-ascii|(?:iso-?8859|windows|cp)-?\d{1,4}(?:-\d{1,2})?|latin-?[1-9]|koi8-[ru]|macintosh|"
    r"shift[-_]jis|euc-(?:jp|kr)|gb2312|gbk|gb18030|big5",
    re.IGNORECASE,
)
"""Labels of character sets that pages and mails come in; a label may not name any other codec of Python's."""
_LATIN = frozenset({"iso-8859-1", "iso8859-1", "latin1", "latin-1", "us-ascii"})
"""Read as Windows-1252, which holds them, as the HTML standard asks (encoding.spec.whatwg.org, names and labels)."""


@dataclass(frozen=True, slots=True)
class Source:
    """A name (file name or `-`), the bytes, and a bounded way to the files beside it (a saved page's folder)."""

    name: str
    data: bytes
    sibling: Callable[[str], bytes | None] = lambda name: None
    """The bytes of a file beside this one by its relative name; None where there is none that may be read."""
    entries: tuple[str, ...] | None = None
    """The relative names of a folder's files, in order; None for anything but a folder."""
    nested: int = 0
    """How many mails and archives this was taken out of."""
    until: float = math.inf
    """The moment (`time.monotonic`) by which what was taken out of a mail must be read."""

    @property
    def suffix(self) -> str:
        """The file name's ending in lower case, with its dot; empty where there is none."""
        stem, dot, ending = self.name.rpartition(".")
        return dot + ending.lower() if stem else ""


def decoded(source: Source, charset: str = "") -> str:
    """The source's bytes as text: UTF-8 or UTF-16 where they are that, else `charset` (as declared), else Windows-1252.

    Line ends become `\\n`. Raises `NotText` for binary data and `NothingThere` for nothing but white space.
    """
    text = _decode(source, codec(charset)).replace("\r\n", "\n").replace("\r", "\n")
    if not text.strip():
        raise NothingThere(f"{source.name}: empty; give a listing as text, JSON or a saved page")
    return text


def codec(charset: str) -> str:
    """The codec to try where bytes are no UTF: the declared one; Windows-1252 for unknown ones and those it holds.

    >>> codec("ISO-8859-1"), codec("koi8-r"), codec("punycode")
    ('cp1252', 'koi8-r', 'cp1252')
    """
    label = charset.strip().strip("\"'").lower()
    if not _KNOWN_CHARSET.fullmatch(label) or label in _LATIN or label.startswith("utf"):
        return "cp1252"
    label = label.replace("windows-", "cp").replace("macintosh", "mac_roman")
    try:
        b"".decode(label)
    except LookupError:
        return "cp1252"
    return label


def _decode(source: Source, otherwise: str) -> str:
    data = source.data
    for signature, what in SIGNATURES:
        if data.startswith(signature):
            raise NotText(f"{source.name}: {what}, not text; paste or save the listing's text")
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return _strict(source, data, "utf-16")
    head = data[:4096]
    if head.count(0) > len(head) // 4:
        even, odd = head[::2].count(0), head[1::2].count(0)
        return _strict(source, data, "utf-16-le" if odd > even else "utf-16-be")
    if len(data) - len(data.translate(None, _CONTROLS)) > CONTROL_SHARE * len(data):
        raise NotText(f"{source.name}: binary data, not text; paste or save the listing's text")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return _nearly_utf8(data) or data.decode(otherwise, errors="replace")


def _nearly_utf8(data: bytes) -> str:
    """UTF-8 with a few broken bytes (a file cut short, a stray byte), its bad places as U+FFFD; empty for any other."""
    text = data.decode("utf-8-sig", errors="replace")
    foreign = len(text) - len(text.encode("ascii", errors="ignore"))
    return text if text.count("\ufffd") * MOSTLY < foreign else ""


def _strict(source: Source, data: bytes, encoding: str) -> str:
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        raise NotText(f"{source.name}: bytes in no encoding known here; save it as UTF-8") from None
    if sum(c < " " and c not in "\t\n\r\f" for c in text) > CONTROL_SHARE * len(text):
        raise NotText(f"{source.name}: binary data, not text; paste or save the listing's text")
    return text.removeprefix("\ufeff")
