"""Things that a page describes in schema.org's words, from JSON-LD (json-ld.org, embedded in script elements) and microdata.

Both become `Thing`s; what is said of other things on the page (lists, "related to", reviews) is not read.
"""

import html
import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import islice
from typing import TYPE_CHECKING, Any

from extractors.page import tree

if TYPE_CHECKING:
    from selectolax.lexbor import LexborHTMLParser, LexborNode

DEEPEST, MOST_THINGS, MOST_VALUES = 12, 2_000, 4_000
LONGEST_SCRIPT = 2_000_000
MOST_STEPS = 60
"""From a property up to the thing that it is said of."""
MOST_NODES = 300
"""Of an element whose text is a value; longer ones are shown text and read as such."""
OTHER_THINGS = frozenset({
    "itemListElement", "isRelatedTo", "isSimilarTo", "isAccessoryOrSparePartFor", "isVariantOf", "hasVariant", "review", "reviews",
    "aggregateRating", "breadcrumb", "mentions", "relatedLink", "seller", "publisher", "author", "provider", "potentialAction",
})  # fmt: skip
_ADDRESSES = {"a": "href", "area": "href", "link": "href", "img": "src", "source": "src", "object": "data", "embed": "src", "iframe": "src"}


@dataclass(slots=True)
class Thing:
    """One thing: the names of its types, what is said of it by property, and where it stands."""

    types: tuple[str, ...]
    said: dict[str, list["Said"]] = field(default_factory=dict)
    locator: str = ""


@dataclass(frozen=True, slots=True)
class Said:
    """One value of a property (text, or another thing) and its place."""

    value: str | Thing
    locator: str


def linked_data(page: "LexborHTMLParser") -> list[Thing]:
    """The things of the page's JSON-LD, outermost first; broken scripts are passed over."""
    found: list[Thing] = []
    for script in page.css('script[type*="ld+json" i]'):
        text = script.text(deep=True)
        if len(text) > LONGEST_SCRIPT or len(found) > MOST_THINGS:
            continue
        try:
            given = json.loads(text.strip().removeprefix("<!--").removesuffix("-->"), strict=False, parse_int=str, parse_float=str)
        except (ValueError, RecursionError):
            continue
        found += _Reader(tree.path(script)).things(given)
    return found


class _Reader:
    """Turns the values of one script into things, bounded in depth and number."""

    def __init__(self, locator: str) -> None:
        self._locator = locator
        self._left = MOST_VALUES

    def things(self, given: Any) -> list[Thing]:
        said = self._said(given, self._locator + "#", 0)
        return [s.value for s in said if isinstance(s.value, Thing)]

    def _said(self, given: Any, locator: str, depth: int) -> list[Said]:
        self._left -= 1
        if depth > DEEPEST or self._left < 0:
            return []
        if isinstance(given, list):
            return [one for n, each in enumerate(given) for one in self._said(each, f"{locator}/{n}", depth + 1)]
        if isinstance(given, dict):
            if "@value" in given:
                return self._said(given["@value"], locator, depth + 1)
            return [Said(self._thing(given, locator, depth), locator)]
        if isinstance(given, str) and given.strip():
            return [Said(html.unescape(given).strip(), locator)]
        return []

    def _thing(self, given: dict[str, Any], locator: str, depth: int) -> Thing:
        types = given.get("@type", ())
        thing = Thing(tuple(_name(t) for t in (types if isinstance(types, list) else [types]) if isinstance(t, str)), {}, locator)
        for key, value in given.items():
            name = _name(key)
            if name not in OTHER_THINGS and not (key.startswith("@") and key != "@graph"):
                thing.said.setdefault(name, []).extend(self._said(value, f"{locator}/{key[:60]}", depth + 1))
        return thing


def microdata(page: "LexborHTMLParser") -> list[Thing]:
    """The outermost things of the page's microdata (html.spec.whatwg.org, microdata; `itemref` is not followed)."""
    things: dict[int, Thing] = {}
    inside: set[int] = set()
    for node in page.css("[itemscope]")[:MOST_THINGS]:
        types = (node.attributes.get("itemtype") or "")[:500].split()
        things[node.mem_id] = Thing(tuple(_name(t) for t in types), {}, tree.path(node))
        if "itemprop" in node.attributes:
            inside.add(node.mem_id)
    for node in page.css("[itemprop]")[:MOST_VALUES]:
        owner = next((things[a.mem_id] for a in islice(tree.ancestors(node), MOST_STEPS) if a.mem_id in things), None) if things else None
        value = (things.get(node.mem_id) or _value(node)) if owner else None
        if owner is None or not value:
            inside.discard(node.mem_id)
            continue
        for key in (node.attributes.get("itemprop") or "")[:500].split():
            if _name(key) not in OTHER_THINGS:
                owner.said.setdefault(_name(key), []).append(Said(value, tree.path(node)))
    return [thing for identity, thing in things.items() if identity not in inside]


def within(things: list[Thing], depth: int = 0) -> Iterator[Thing]:
    """Things and all that is said of them, outermost first."""
    for thing in things:
        yield thing
        if depth < DEEPEST:
            yield from within([s.value for said in thing.said.values() for s in said if isinstance(s.value, Thing)], depth + 1)


def _value(node: "LexborNode") -> str:
    """What an element says of its property: its machine-readable value, else its text; an address only where it has no text."""
    given = node.attributes
    for name in ("content", "datetime", "value"):
        if said := (given.get(name) or "").strip():
            return said
    text = tree.words(node, nodes=MOST_NODES)
    return text or (given.get(_ADDRESSES.get(node.tag or "", "")) or "").strip()


def _name(text: str) -> str:
    """A type's or property's own name, without its vocabulary.

    >>> _name("https://schema.org/Vehicle"), _name("schema:model"), _name("brand")
    ('Vehicle', 'model', 'brand')
    """
    return text.rsplit("/", 1)[-1].rsplit("#", 1)[-1].rsplit(":", 1)[-1]
