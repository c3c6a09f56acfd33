"""Bounds on a page before any parser sees it.

Depth, attributes of one tag, and formatting tags left open cost a parser of HTML quadratically. What is past a bound
is refused. The counts are rough (a tag inside a comment counts too), so what passes them is parsed here only where its
bare size bounds the cost; anything else is parsed in a process with a deadline (`apart`).
"""

import re

from extractors.errors import TooLarge

MAX_CHARACTERS = 20_000_000
MAX_TAGS = 300_000
MAX_DEPTH = 2_000
MAX_ATTRIBUTES = 2_000
SMALL_CHARACTERS = 32_768
"""Measured: a page of this size that is all nested tags takes the parser 52 ms."""
SMALL_DEPTH = 200
"""A table within a table costs its reader, too; saved pages are some 30 deep (common practice, no source)."""
SMALL_COPIES = 100_000
"""Formatting tags left open are copied into every further block. Measured: 100,000 copies 0.03-0.07 s; a page of 11 KB asks for a million, 416 MB."""
LONG_TAG = 4_000
"""Characters; a tag of more than `MAX_ATTRIBUTES` is longer."""

_NOT_MARKUP = re.compile(r"<!--.*?(?:-->|\Z)|<(script|style)\b.*?(?:</\1|\Z)", re.DOTALL | re.IGNORECASE)
_TAG = re.compile(r"<(/?)([a-zA-Z][^\s/<>]*)([^<>]*)")
_LONG_TAG = re.compile(rf"<[a-zA-Z][^<>]{{{LONG_TAG},}}")
_QUOTED = re.compile(r"\"[^\"]*\"|'[^']*'")
_FORMATTING = re.compile(r"<(?:b|big|code|em|font|i|s|small|strike|strong|tt|u)(?=[\s/>])[^<>]{0,200}", re.IGNORECASE)
_UNNESTED = frozenset({
    "area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "param", "source", "track", "wbr",
    "p", "li", "dt", "dd", "tr", "td", "th", "thead", "tbody", "tfoot", "option", "html", "head", "body",
})  # fmt: skip
"""Tags that hold nothing, or that close their own kind: left open, they make no depth."""


def check(name: str, html: str) -> None:
    """Refuse (`TooLarge`) a page past the bounds of size, tags, depth or attributes; `name` is for the message."""
    if len(html) > MAX_CHARACTERS:
        raise TooLarge(f"{name}: a page of over {MAX_CHARACTERS // 1_000_000} MB; save its text alone")
    if html.count("<") > MAX_TAGS:
        raise TooLarge(f"{name}: a page of over {MAX_TAGS:,} tags; save its text alone")
    if any(attributes(m.group()) > MAX_ATTRIBUTES for m in _LONG_TAG.finditer(html)):
        raise TooLarge(f"{name}: a tag of over {MAX_ATTRIBUTES:,} attributes; save the page's text alone")
    if depth(html) > MAX_DEPTH:
        raise TooLarge(f"{name}: tags nested over {MAX_DEPTH:,} deep; save the page's text alone")


def is_small(html: str) -> bool:
    """Whether a page is so small that no markup in it can cost much: it may be parsed without a deadline."""
    if len(html) > SMALL_CHARACTERS:
        return False
    formats = len({m.group() for m in _FORMATTING.finditer(html)})
    return formats * html.count("<") <= SMALL_COPIES and depth(html) <= SMALL_DEPTH


def depth(html: str) -> int:
    """How deep tags are nested, roughly: most tags open at once, but for those that make no depth.

    >>> depth("<div><p>a<p>b<ul><li>c<li>d</ul></div>")
    2
    """
    deepest = now = 0
    for closing, tag, rest in _TAG.findall(_NOT_MARKUP.sub("", html)):
        if tag.lower() in _UNNESTED or rest.endswith("/"):
            continue
        now = max(now - 1, 0) if closing else now + 1
        deepest = max(deepest, now)
    return deepest


def attributes(tag: str) -> int:
    """How many attributes a tag has, roughly.

    >>> attributes("<a href='x y' b c=1")
    3
    """
    return len(_QUOTED.sub("", tag).split()) - 1
