"""Bytes to Documents: whatever a listing comes as, its words in fields that can be quoted."""

from extractors.document import Document, Field, Quote, make_document
from extractors.errors import BrokenRecord, NothingThere, NotText, TooLarge, UnreadableListing

__all__ = [
    "BrokenRecord",
    "Document",
    "Field",
    "NotText",
    "NothingThere",
    "Quote",
    "TooLarge",
    "UnreadableListing",
    "make_document",
]
