"""A listing as received: fields of text that can be quoted.

A field's text is what offsets count in (Unicode code points), entities resolved, otherwise untouched.
`Document.quote` is the only maker of a `Quote`, so a quote is always a slice of its field.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

TITLE = "title"
TEXT = "text"
ATTRIBUTE = "attributes."


@dataclass(frozen=True, slots=True)
class Field:
    """One named text of a listing: `title`, `text` or `attributes.NAME`."""

    name: str
    text: str
    locator: str = ""
    """Where a field taken from a page stands in it (a path of tags); empty elsewhere."""

    @property
    def label(self) -> str:
        """The name as a form shows it: the attribute's own name, or `title`, `text`."""
        return self.name.removeprefix(ATTRIBUTE)

    @property
    def is_attribute(self) -> bool:
        """Whether the field is an entry of a form."""
        return self.name.startswith(ATTRIBUTE)


@dataclass(frozen=True, slots=True)
class Quote:
    """Words of a listing with their place: `text` is `field[start:end]`, made by `Document.quote` alone."""

    field: str
    start: int
    end: int
    text: str


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture that came with a listing: its file name, the SHA-256 of its bytes (hexadecimal) and their count."""

    name: str
    sha256: str
    size: int
    data: bytes = field(default=b"", compare=False, repr=False)
    """The bytes as received, for whoever keeps or hands on the picture."""


@dataclass(frozen=True, slots=True)
class Document:
    """One listing: an id (as given: text or a whole number), its fields in reading order (title, attributes, text) and the name of its source."""

    id: str | int
    fields: tuple[Field, ...]
    source: str = ""
    photos: tuple[Photo, ...] = ()
    """The pictures beside the words, each once, in the order in which they stand."""
    seen: str = ""
    """The day (ISO 8601) of these words by their own account: a mail's date, a record's entry; empty where nothing says."""
    _by_name: dict[str, Field] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_by_name", {f.name: f for f in self.fields})

    def quote(self, name: str, start: int, end: int) -> Quote:
        """The slice `[start:end)` of a field; raises `ValueError` where there is no such slice."""
        found = self._by_name.get(name)
        if found is None or not 0 <= start <= end <= len(found.text):
            raise ValueError(f"no slice {start}:{end} of a field {name!r}")
        return Quote(name, start, end, found.text[start:end])

    def field(self, name: str) -> Field | None:
        """The field of that name, or None."""
        return self._by_name.get(name)

    @property
    def title(self) -> str:
        """The headline, or an empty string."""
        found = self._by_name.get(TITLE)
        return found.text if found else ""

    @property
    def text(self) -> str:
        """The body, or an empty string."""
        found = self._by_name.get(TEXT)
        return found.text if found else ""


def make_document(
    text: str, *, title: str = "", attributes: Mapping[str, str] | None = None, id: str | int = "", source: str = ""
) -> Document:
    """A document of a title, form entries (name -> value) and a body; empty ones are left out."""
    fields = [Field(TITLE, title)] if title else []
    fields += [Field(ATTRIBUTE + name, value) for name, value in (attributes or {}).items() if value]
    if text:
        fields.append(Field(TEXT, text))
    return Document(id, tuple(fields), source)
