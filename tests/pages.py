"""A page of HTML taken apart for tests: its elements, its identities and links, the words of its listing."""

from html.parser import HTMLParser

EMPTY = frozenset({"meta", "link", "br", "wbr", "img", "input", "hr", "rect", "line"})
ADDED = frozenset({"number", "entry"})
"""Classes of what the report adds inside the listing's paragraphs."""


class Page(HTMLParser):
    """Elements with their attributes in order; links by the identities around them; the listing's own words."""

    def __init__(self, source: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.links: list[tuple[str, frozenset[str]]] = []
        self.words: list[str] = []
        self.unbalanced: list[str] = []
        self._open: list[tuple[str, dict[str, str]]] = []
        self.feed(source)
        self.close()
        self.unbalanced += [tag for tag, _ in self._open]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = {name: value or "" for name, value in attrs}
        self.elements.append((tag, found))
        if "href" in found:
            self.links.append((found["href"], frozenset(a["id"] for _, a in self._open if "id" in a)))
        if tag in {"br", "p"} and self._in_words():
            self.words.append("\n")
        if tag not in EMPTY:
            self._open.append((tag, found))

    def handle_endtag(self, tag: str) -> None:
        if tag in EMPTY:
            return
        if self._open and self._open[-1][0] == tag:
            self._open.pop()
        else:
            self.unbalanced.append(tag)

    def handle_data(self, data: str) -> None:
        added = any(a.get("class") in ADDED for _, a in self._open)
        if self._in_words() and not added and any(tag == "p" for tag, _ in self._open):
            self.words.append(data)

    def _in_words(self) -> bool:
        return any(a.get("class") == "words" for _, a in self._open)

    @property
    def ids(self) -> list[str]:
        """Every identity on the page."""
        return [a["id"] for _, a in self.elements if "id" in a]

    def links_in(self, identity: str) -> set[str]:
        """The places that are linked to from inside the element of an identity."""
        return {href for href, around in self.links if identity in around}
