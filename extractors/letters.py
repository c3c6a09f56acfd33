"""A letter as one Document: the seller's answer or one's own notes, as a saved mail, a page or pasted text.

Unlike a listing, a letter has no headline and no form: its one field `text` holds every word, what it quotes included
(`extractors/letter.py` says whose words each line is). Its day is that of the mail, or of a first line that is a date.
"""

import re

from extractors import mime
from extractors.document import TEXT, Document, Field
from extractors.errors import TooLarge
from extractors.formats import mail, saved_page
from extractors.intake import source_of
from extractors.letter import MAX_LETTER
from extractors.page.apart import page_of
from extractors.pictures import photos
from extractors.source import Source, decoded

_FIRST_DAY = re.compile(r"\s*(\d{4}-\d{2}-\d{2})\s*(?:\n|$)")


def letter(path: str) -> Document:
    """The letter in a file (`-` for standard input); raises `UnreadableListing` with one line that says what to do."""
    return letter_of(source_of(path))


def letter_of(source: Source) -> Document:
    """The letter that bytes are; raises `UnreadableListing`."""
    if mail.accepts(source):
        text, pictures = mail.words(source)
        _bounded(source.name, text)
        return Document(source.name, (Field(TEXT, text),), source.name, tuple(photos(pictures)), mime.date(source.data))
    text = page_of(source.name, saved_page.page_text(source)).text if saved_page.accepts(source) else decoded(source)
    _bounded(source.name, text)
    day = _FIRST_DAY.match(text)
    return Document(source.name, (Field(TEXT, text),), source.name, (), day[1] if day else "")


def _bounded(name: str, text: str) -> None:
    if len(text) > MAX_LETTER:
        raise TooLarge(f"{name}: over {MAX_LETTER:,} characters; a letter is far shorter: give the answer alone")
