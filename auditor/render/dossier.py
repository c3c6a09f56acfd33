"""The dossier as files: one page with everything in it, and beside it the parts it is made of.

`files(audit)` gives (relative name, bytes): `dossier.html`, `numbers.csv`, `received/…`, `photographs/…`.
"""

import re
from base64 import b64encode
from collections.abc import Iterator
from dataclasses import dataclass

from auditor.audit import Audit
from auditor.dossier import Dossier, dossier_of
from auditor.render.html import templates
from auditor.render.numbers_sheet import table
from auditor.render.plain import STANDING_CAUTIONS
from auditor.sheet import WITNESSES
from extractors.document import Photo

PAGE = "dossier.html"
MAX_EMBEDDED = 40_000_000
"""Bytes of photographs that the page itself holds; further ones are only beside it."""
_KINDS = ((b"\x89PNG", "png"), (b"\xff\xd8\xff", "jpeg"), (b"GIF8", "gif"), (b"RIFF", "webp"), (b"BM", "bmp"))
"""Pictures that browsers show, by their first bytes; others are handed over beside the page."""
_UNSAFE = re.compile(r"[^\w.\-]+")


@dataclass(frozen=True, slots=True)
class _Shown:
    name: str
    size: int
    sha256: str
    address: str


def files(audit: Audit, photos_left_out: int = 0) -> Iterator[tuple[str, bytes]]:
    """(relative name, bytes) of every file of the dossier; names are made of letters, figures, dots and dashes alone."""
    dossier = dossier_of(audit, photos_left_out)
    yield PAGE, _page(dossier).encode()
    yield "numbers.csv", table(audit).encode("utf-8-sig")
    for n, received in enumerate(dossier.received, 1):
        yield f"received/{n:02}-{_safe(received.name.lower())}.txt", received.text.encode("utf-8", "replace")
    for n, photo in enumerate(dossier.photos, 1):
        if photo.data:
            yield f"photographs/{n:03}-{_safe(photo.name)}", photo.data


def _page(dossier: Dossier) -> str:
    page = templates().get_template("dossier.html.j2")
    return page.render(d=dossier, witnesses=WITNESSES, photos=list(_photos(dossier.photos)), standing=STANDING_CAUTIONS).strip() + "\n"


def _photos(photos: tuple[Photo, ...]) -> Iterator[_Shown]:
    room = MAX_EMBEDDED
    for photo in photos:
        kind = next((k for opening, k in _KINDS if photo.data.startswith(opening)), "")
        embedded = bool(kind) and len(photo.data) <= room
        room -= len(photo.data) if embedded else 0
        address = f"data:image/{kind};base64,{b64encode(photo.data).decode()}" if embedded else ""
        yield _Shown(photo.name, photo.size, photo.sha256, address)


def _safe(name: str) -> str:
    """A file name without anything that leads elsewhere.

    >>> _safe("../rear lug.png"), _safe("the seller's reply")
    ('rear-lug.png', 'the-seller-s-reply')
    """
    return _UNSAFE.sub("-", name).strip(".-")[-80:] or "file"
