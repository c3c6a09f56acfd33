"""Pasted or saved text: a headline, perhaps a block of `Name: value` lines, the body.

The first line is the headline where it is short and more follows (or where it says `title:`). Lines of
`Name: value` straight below it, up to the first empty line, are the form's entries. All else is the body.
"""

import re
from collections.abc import Iterator

from extractors.document import Document, make_document
from extractors.source import Source, decoded

ORDER = 90
LONGEST_HEADLINE = 120
_ENTRY = re.compile(r"([^\W\d_][^\n:|]{0,30}?)[ \t]*:[ \t]*(\S[^\n]*?)[ \t]*")
_TITLE = re.compile(r"title[ \t]*:[ \t]*", re.IGNORECASE)


def accepts(source: Source) -> bool:
    """Any text at all: the last format to be tried."""
    return True


def documents(source: Source) -> Iterator[Document]:
    """The one listing that a text is."""
    text = decoded(source)
    title, entries, body = parts(text)
    yield make_document(body, title=title, attributes=entries, id=source.name, source=source.name)


def parts(text: str) -> tuple[str, dict[str, str], str]:
    """(headline, entries, body) of a listing typed or pasted as text; the body keeps its line structure."""
    first, _, rest = text.lstrip("\n").partition("\n")
    title = ""
    if said := _TITLE.match(first):
        title, text = first[said.end() :].strip(), rest
    elif rest.strip() and len(first) <= LONGEST_HEADLINE and not _ENTRY.fullmatch(first) and first.strip()[-1:] not in ".,;":
        title, text = first.strip(), rest
    block, gap, below = text.partition("\n\n")
    found = [_ENTRY.fullmatch(line) for line in block.split("\n")] if gap and block else []
    if found and all(found):
        return title, {m[1].strip(): m[2] for m in found if m}, below.strip("\n")
    return title, {}, text.strip("\n")
