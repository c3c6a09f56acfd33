"""What of a page is not the listing: menus, footers, side columns, notices, and "similar items".

Known by tag, by role, by words of class and id, by a heading that says so with all that follows it, and by being made
of links. Whatever holds the headline or the description is kept, and so is half the page, whatever its class.
"""

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from extractors.page import tree

if TYPE_CHECKING:
    from selectolax.lexbor import LexborNode

_TAGS = frozenset({"nav", "footer", "aside", "menu"})
_ROLES = frozenset({"navigation", "banner", "contentinfo", "search", "complementary", "dialog", "alertdialog", "alert", "menu", "menubar", "toolbar"})
_CLASSES = frozenset({
    "nav", "navbar", "navigation", "menu", "submenu", "megamenu", "breadcrumb", "breadcrumbs", "footer", "sidebar", "similar", "related",
    "recommended", "recommendations", "cookie", "cookies", "consent", "share", "sharing", "social", "newsletter", "login", "signin", "signup",
    "register", "pagination", "pager", "masthead", "topbar", "toolbar", "skip", "disclaimer", "upsell", "crosssell",
})  # fmt: skip
"""Words of class and id names that pages use for what is not their matter (common practice, no source)."""
_HEADER_ONLY = frozenset({"header", "site", "page", "global", "top", "main", "wrapper", "container"})
_NAME_WORDS = re.compile(r"[a-z]+|[A-Z][a-z]*")
_OTHERS = re.compile(
    r"\W*(?:(?:(?:see|view|browse|find)\s+)?(?:similar|related|other|more|recommended|featured|popular|latest|new|newest|recent)\s+"
    r"(?:(?!info|detail|about|photo|picture|of\b)[\w&'’-]+\s+){0,2}"
    r"(?:items|listings|ads|adverts|vehicles|cars|bikes|motorcycles|machines|lots|products|offers|results|classifieds|stock|searches)\b.{0,30}"
    r"|you (?:may|might) (?:also )?(?:like|be interested).{0,30}|(?:people|others|customers|buyers) (?:who|also)\b.{0,50}|recently viewed.{0,30}"
    r"|recommended for you.{0,30}|more (?:from|by) (?:this|the same) (?:seller|dealer|user|maker).{0,30}|see also|similar|about (?:us|this site)"
    r"|(?:the )?seller['’]?s other .{0,30})\W*",
    re.IGNORECASE,
)
"""Headings over other people's (or other) things."""
LONGEST_HEADING, LONGEST_CLASS = 80, 400
MOST_HEADINGS, MOST_LINKS, LINK_STEPS = 400, 5_000, 5
FEWEST_LINKS = 4
FEWEST_LETTERS = 3
"""To a link of a menu; links with less are pictures or page numbers of a gallery."""
LINK_SHARE = 0.8
"""Share of a block's letters that stand in links, above which it is a menu (common practice, no source)."""
HALF = 0.5


class LeftOut:
    """Asked of an element: is it hidden, or no part of the listing? `kept` are elements that surely belong to it."""

    def __init__(self, root: "LexborNode", kept: Iterable["LexborNode"], *, dropped: Iterable["LexborNode"] = ()) -> None:
        self._spine = {root.mem_id} | {a.mem_id for node in kept for a in (node, *tree.ancestors(node))}
        self._out = {node.mem_id for node in dropped}
        self._letters = tree.letters(root)
        self._half = HALF * self._letters[root.mem_id]
        self._leave_out_other_sections(root)
        self._out.update(self._menus(root))

    def __call__(self, node: "LexborNode") -> bool:
        if node.mem_id in self._out or tree.is_hidden(node):
            return True
        if node.mem_id in self._spine or node.tag in tree.INLINE:
            return False
        return self._is_apart(node)

    def _is_apart(self, node: "LexborNode") -> bool:
        """Whether tag, role or class says that an element is no part of the listing."""
        tag, given = node.tag or "", node.attributes
        if tag in _TAGS:
            return True
        if tag == "header" and not any(a.tag in {"main", "article"} for a in tree.ancestors(node)):
            return True
        if not given or tag in {"main", "article", "body"}:
            return False
        if (given.get("role") or "").strip().lower() in _ROLES:
            return True
        said = {w.lower() for w in _NAME_WORDS.findall(f"{given.get('class') or ''} {given.get('id') or ''}"[:LONGEST_CLASS])}
        named = bool(said & _CLASSES) or ("header" in said and said <= _HEADER_ONLY)
        return named and self._letters.get(node.mem_id, 0) <= self._half

    def _leave_out_other_sections(self, root: "LexborNode") -> None:
        """Mark the elements from a heading over other things to the next heading of its level."""
        for heading in root.css("h1,h2,h3,h4,h5,h6")[:MOST_HEADINGS]:
            text = tree.words(heading, most=2 * LONGEST_HEADING, nodes=LONGEST_HEADING)
            if len(text) > LONGEST_HEADING or not _OTHERS.fullmatch(text) or heading.mem_id in self._spine:
                continue
            top = heading
            while (above := top.parent) is not None and above.mem_id not in self._spine and _ends_with(above, top):
                top = above
            beside: LexborNode | None = top
            while beside is not None and beside.mem_id not in self._out and beside.mem_id not in self._spine:
                if beside.mem_id != top.mem_id and _opens_section(beside, heading):
                    break
                self._out.add(beside.mem_id)
                beside = beside.next

    def _menus(self, root: "LexborNode") -> Iterable[int]:
        """Elements made of links."""
        holders: dict[int, tuple[LexborNode, int, int]] = {}
        for link in root.css("a[href]")[:MOST_LINKS]:
            for _, above in zip(range(LINK_STEPS), tree.ancestors(link), strict=False):
                if above.mem_id in self._spine:
                    break
                _, count, total = holders.get(above.mem_id, (above, 0, 0))
                holders[above.mem_id] = above, count + 1, total + self._letters.get(link.mem_id, 0)
        for node, count, total in holders.values():
            is_full = total >= max(FEWEST_LETTERS * count, LINK_SHARE * self._letters.get(node.mem_id, 0))
            if count >= FEWEST_LINKS and is_full and node.tag not in tree.INLINE:
                yield node.mem_id


def _ends_with(above: "LexborNode", node: "LexborNode") -> bool:
    """Whether nothing stands behind `node` in `above`, so that what follows `above` belongs to the heading in it."""
    if above.tag in {"body", "main", "html"}:
        return False
    beside = node.next
    while beside is not None:
        if tree.is_element(beside) or (beside.tag == "-text" and (beside.text_content or "").strip()):
            return False
        beside = beside.next
    return True


def _opens_section(node: "LexborNode", heading: "LexborNode") -> bool:
    """Whether an element is, or begins with, a heading of the same or a higher level that speaks of something else."""
    level = heading.tag or "h6"
    first: LexborNode | None = node
    for _ in range(4):
        if first is None:
            return False
        if first.tag in {"h1", "h2", "h3", "h4", "h5", "h6"}:
            return (first.tag or "") <= level and not _OTHERS.fullmatch(tree.words(first, most=2 * LONGEST_HEADING, nodes=LONGEST_HEADING))
        first = next(tree.children(first), None) if tree.is_element(first) else None
    return False
