"""Bytes to Documents: whatever a listing comes as, its words in fields that can be quoted."""

from extractors.document import Document, Field, Photo, Quote, make_document
from extractors.errors import BrokenRecord, NothingThere, NotText, TooLarge, UnreadableListing

__all__ = [
    "BrokenRecord",
    "Document",
    "Field",
    "NotText",
    "NothingThere",
    "Photo",
    "Quote",
    "TooLarge",
    "UnreadableListing",
    "make_document",
]
