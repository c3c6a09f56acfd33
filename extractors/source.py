"""What a format is given: a name and bounded bytes, and those bytes as text in the encoding they are in."""

from collections.abc import Callable
from dataclasses import dataclass

from extractors.errors import NothingThere, NotText

CONTROL_SHARE = 0.05
"""Share of control characters above which bytes are taken for binary (common practice, no source)."""
SIGNATURES = (
    (b"\x89PNG", "a PNG picture"), (b"\xff\xd8\xff", "a JPEG picture"), (b"GIF8", "a GIF picture"),
    (b"%PDF", "a PDF file"), (b"PK\x03\x04", "a ZIP archive or office file"), (b"\x1f\x8b", "a gzip archive"),
    (b"\x7fELF", "a program"), (b"MZ\x90", "a program"),
)  # fmt: skip
_CONTROLS = bytes(set(range(32)) - {9, 10, 12, 13, 27} | {127})


@dataclass(frozen=True, slots=True)
class Source:
    """A name (file name or `-`), the bytes, and a bounded way to the files beside it (a saved page's folder)."""

    name: str
    data: bytes
    sibling: Callable[[str], bytes | None] = lambda name: None

    @property
    def suffix(self) -> str:
        """The file name's ending in lower case, with its dot; empty where there is none."""
        stem, dot, ending = self.name.rpartition(".")
        return dot + ending.lower() if stem else ""


def decoded(source: Source) -> str:
    """The source's bytes as text: UTF-8, UTF-16 or Windows-1252, line ends as `\\n`.

    Raises `NotText` for binary data and `NothingThere` for nothing but white space.
    """
    text = _decode(source).replace("\r\n", "\n").replace("\r", "\n")
    if not text.strip():
        raise NothingThere(f"{source.name}: empty; give a listing as text, JSON or a saved page")
    return text


def _decode(source: Source) -> str:
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
        return data.decode("cp1252", errors="replace")


def _strict(source: Source, data: bytes, encoding: str) -> str:
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        raise NotText(f"{source.name}: bytes in no encoding known here; save it as UTF-8") from None
    if sum(c < " " and c not in "\t\n\r\f" for c in text) > CONTROL_SHARE * len(text):
        raise NotText(f"{source.name}: binary data, not text; paste or save the listing's text")
    return text.removeprefix("\ufeff")
