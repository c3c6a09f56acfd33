"""Walking a parsed page: in order, without recursion, past what is not shown."""

import re
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from selectolax.lexbor import LexborNode

    Skip = Callable[[LexborNode], bool]

ENTER: Literal["enter"] = "enter"
LEAVE: Literal["leave"] = "leave"
TEXT: Literal["text"] = "text"
NEVER_SHOWN = frozenset({
    "script", "style", "template", "noscript", "head", "title", "svg", "math", "iframe", "frame", "frameset", "object", "embed", "applet",
    "audio", "video", "canvas", "select", "option", "datalist", "button", "textarea", "input", "progress", "meter",
})  # fmt: skip
"""Elements whose content is no running text of the page (a form's controls among them)."""
INLINE = frozenset({
    "a", "abbr", "acronym", "b", "bdi", "bdo", "big", "cite", "code", "data", "del", "dfn", "em", "font", "i", "ins", "kbd", "label", "mark",
    "nobr", "output", "q", "rp", "rt", "ruby", "s", "samp", "small", "span", "strike", "strong", "sub", "sup", "time", "tt", "u", "var", "wbr",
})  # fmt: skip
"""Elements that run on in their line."""
LONGEST_STYLE = 2_000
MOST_STEPS, MOST_SIBLINGS = 40, 2_000
_HIDING = re.compile(
    r"(?:^|[;\s])(?:display\s*:\s*none|visibility\s*:\s*(?:hidden|collapse)|font-size\s*:\s*0(?![.\d])|opacity\s*:\s*0(?![.\d]))", re.IGNORECASE
)
_SPACES = re.compile(r"[ \t\n\r\f]+")


def events(root: "LexborNode", skip: "Skip") -> "Iterator[tuple[str, LexborNode]]":
    """(ENTER, element), (TEXT, text node) and (LEAVE, element) below a root, in order; skipped elements stay out whole."""
    opened: list[LexborNode] = []
    node = root.first_child
    while True:
        if node is None:
            if not opened:
                return
            closed = opened.pop()
            yield LEAVE, closed
            node = closed.next
            continue
        tag = node.tag
        if tag == "-text":
            yield TEXT, node
        elif is_element(node) and not skip(node):
            yield ENTER, node
            opened.append(node)
            node = node.first_child
            continue
        node = node.next


def is_element(node: "LexborNode") -> bool:
    """Whether a node is an element: text, comments and the document itself have names that begin with a sign."""
    return (node.tag or "-")[0].isalpha()


def is_hidden(node: "LexborNode") -> bool:
    """Whether an element is not shown: by its kind, or by its own attributes (style sheets are not read)."""
    if node.tag in NEVER_SHOWN:
        return True
    given = node.attributes
    if node.tag == "dialog" and "open" not in given:
        return True
    if not given:
        return False
    if "hidden" in given or (given.get("aria-hidden") or "").strip().lower() == "true":
        return True
    style = given.get("style")
    return bool(style and _HIDING.search(style[:LONGEST_STYLE]))


def children(node: "LexborNode") -> "Iterator[LexborNode]":
    """The element children of a node."""
    child = node.first_child
    while child is not None:
        if is_element(child):
            yield child
        child = child.next


def ancestors(node: "LexborNode") -> "Iterator[LexborNode]":
    """The elements that hold a node, nearest first."""
    above = node.parent
    while above is not None and is_element(above):
        yield above
        above = above.parent


def words(node: "LexborNode", skip: "Skip" = is_hidden, *, most: int = 1_000_000, nodes: int = 1_000_000) -> str:
    """The shown text of a node on one line, white space collapsed as a browser does; cut at `most` characters or `nodes`, or so."""
    parts: list[str] = []
    length = 0
    for number, (kind, one) in enumerate(events(node, skip)):
        if kind == TEXT:
            text = one.text_content or ""
            parts.append(text)
            length += len(text)
        elif one.tag not in INLINE:
            parts.append(" ")
        if length > most or number > 2 * nodes:
            break
    return collapsed("".join(parts)).strip(" ")


def letters(root: "LexborNode") -> dict[int, int]:
    """How many characters of shown text, but for white space, each element below a root holds (and the root), by its `mem_id`."""
    out: dict[int, int] = {}
    held = [0]
    for kind, node in events(root, is_hidden):
        if kind == TEXT:
            held[-1] += len("".join((node.text_content or "").split()))
        elif kind == ENTER:
            held.append(0)
        else:
            out[node.mem_id] = held.pop()
            held[-1] += out[node.mem_id]
    out[root.mem_id] = held[0]
    return out


def collapsed(text: str) -> str:
    """Runs of white space as one space; spaces that do not break stay."""
    return _SPACES.sub(" ", text)


def path(node: "LexborNode") -> str:
    """Where an element stands: tags from the root, with their place among like ones ("html/body/table[2]/tr/td")."""
    steps: list[str] = []
    for one in [node, *ancestors(node)]:
        if len(steps) == MOST_STEPS:
            steps.append("…")
            break
        steps.append(f"{one.tag}{_place(one)}")
    return "/".join(reversed(steps))


def _place(node: "LexborNode") -> str:
    before, beside, looked = 0, node.prev, 0
    while beside is not None and looked < MOST_SIBLINGS:
        before += beside.tag == node.tag
        beside, looked = beside.prev, looked + 1
    return f"[{before + 1}{'+' if looked == MOST_SIBLINGS else ''}]" if before else ""
