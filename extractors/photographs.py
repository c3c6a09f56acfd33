"""Pictures given by themselves: a file, or a folder of them."""

from collections.abc import Iterator
from posixpath import splitext

from extractors.document import Photo
from extractors.errors import NothingThere
from extractors.intake import source_at
from extractors.pictures import ENDINGS, photos


def photographs(path: str) -> Iterator[Photo]:
    """The pictures in a file or folder, each content once; raises `UnreadableListing` where there is none."""
    source = source_at(path)
    named = [(n, source.sibling(n)) for n in source.entries or () if splitext(n)[1].lower() in ENDINGS]
    given = [(source.name, source.data)] if source.entries is None else [(n, data) for n, data in named if data is not None]
    found = list(photos(given))
    if not found:
        raise NothingThere(f"{path}: no picture (PNG, JPEG, GIF, TIFF, WebP, BMP, HEIF, AVIF); give photographs or a folder of them")
    yield from found
