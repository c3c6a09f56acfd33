"""Pictures that come with a listing, known by their first bytes and their hash; none is decoded here."""

import re
from collections.abc import Iterable, Iterator

from extractors.document import Photo

MAX_PHOTOS = 500
"""Bound on the pictures of one listing; further ones are left unread."""
LONGEST_NAME = 120
ENDINGS = frozenset({".jpg", ".jpeg", ".png", ".gif", ".webp", ".tif", ".tiff", ".heic", ".heif", ".avif", ".bmp"})
"""File endings worth opening in a folder; what a file is, its first bytes decide."""
_OPENINGS = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"GIF87a", b"GIF89a", b"II*\x00", b"MM\x00*")
_HEIF_BRANDS = frozenset({b"heic", b"heix", b"hevc", b"mif1", b"msf1", b"avif"})


def is_picture(data: bytes) -> bool:
    """Whether bytes open as a picture does: PNG, JPEG, GIF, TIFF, WebP, BMP, HEIF or AVIF.

    >>> is_picture(b"GIF89a..."), is_picture(b"<html>")
    (True, False)
    """
    return (
        data.startswith(_OPENINGS)
        or (data[:4] == b"RIFF" and data[8:12] == b"WEBP")
        or (data[4:8] == b"ftyp" and data[8:12] in _HEIF_BRANDS)
        or (data[:2] == b"BM" and data[6:10] == b"\0\0\0\0")
    )


def photos(pictures: Iterable[tuple[str, bytes]]) -> Iterator[Photo]:
    """Records of those (name, bytes) that are pictures, each content once, as they come."""
    from hashlib import sha256

    seen: set[str] = set()
    for name, data in pictures:
        if not is_picture(data):
            continue
        digest = sha256(data).hexdigest()
        if digest not in seen:
            seen.add(digest)
            yield Photo(file_name(name), digest, len(data), data)
        if len(seen) == MAX_PHOTOS:
            return


def file_name(path: str) -> str:
    """The last step of a path or address, without control characters and bounded.

    >>> file_name("../../etc/a.jpg?size=2"), file_name("C:\\\\pictures\\\\b.png")
    ('a.jpg', 'b.png')
    """
    last = re.split(r"[\\/]", re.split(r"[?#]", path, maxsplit=1)[0])[-1]
    return "".join(c for c in last if c.isprintable())[-LONGEST_NAME:] or "picture"
