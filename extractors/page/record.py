"""What a page gives: plain records that pass through JSON, for a page may be read in a process of its own."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of a form, table or list: its name, its value, and the place of the value (a path of tags)."""

    name: str
    value: str
    locator: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """A listing's page: headline, entries, visible text with its lines, and where each stands."""

    title: str = ""
    title_locator: str = ""
    entries: tuple[Entry, ...] = ()
    text: str = ""
    text_locator: str = ""
    pictures: tuple[str, ...] = ()
    """Addresses of the pictures among the text, as written."""
