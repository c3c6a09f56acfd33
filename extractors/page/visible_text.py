"""The text of a page as its reader sees it, line by line; short rows of name and value become entries instead.

An entry leaves the text, so that nothing is said twice. One whose name is taken with another value stays in the text.
"""

from itertools import islice
from typing import TYPE_CHECKING

from extractors.page import rows, tree
from extractors.page.lines import NEW_LINE, NEW_PARAGRAPH, Lines
from extractors.page.record import Entry

if TYPE_CHECKING:
    from selectolax.lexbor import LexborNode

    from extractors.page.tree import Skip

MAX_ENTRIES, MAX_PICTURES = 300, 300
LONGEST_ADDRESS = 15_000_000
"""Characters of a picture's address: an embedded picture stands in it whole."""
_PARAGRAPHS = frozenset({
    "p", "h1", "h2", "h3", "h4", "h5", "h6", "ul", "ol", "dl", "table", "blockquote", "pre", "listing", "xmp", "figure", "fieldset", "hr",
    "center", "menu", "dir",
})  # fmt: skip
_HOLDERS = frozenset({"li", "div", "p"})
_TYPED = frozenset({"pre", "listing", "xmp"})
_TYPED_STYLES = ("white-space:pre", "white-space:break-spaces")
PLAIN_MARK, NAME_MARK = " | ", ": "


class Visible:
    """What the shown part of a page gives: `text`, `entries`, `pictures`."""

    def __init__(self, root: "LexborNode", skip: "Skip", *, entries: bool = True) -> None:
        self.entries: list[Entry] = []
        self.pictures: list[str] = []
        self._lines = Lines()
        self._takes_entries = entries
        self._skip = skip
        self._consumed: set[int] = set()
        self._marks: dict[int, str] = {}
        """The mark before a cell of a row (or what a term says), by the cell."""
        self._run_on: set[int] = set()
        """Terms whose line goes on with what they say."""
        self._typed: list[int] = []
        self._counted: list[int] = []
        """For each open list: the number of its last item, or -1 where items bear none."""
        for kind, node in tree.events(root, self._is_skipped):
            if kind == tree.TEXT:
                self._write(node)
            elif kind == tree.ENTER:
                self._enter(node)
            else:
                self._leave(node)
        self.text = self._lines.text()

    def _is_skipped(self, node: "LexborNode") -> bool:
        return node.mem_id in self._consumed or self._skip(node)

    def _write(self, node: "LexborNode") -> None:
        text = node.text_content or ""
        if self._typed:
            self._lines.write_as_typed(text)
        else:
            self._lines.write(text)

    def _enter(self, node: "LexborNode") -> None:
        tag = node.tag or ""
        if mark := self._marks.get(node.mem_id):
            self._lines.join(mark)
        elif tag == "br":
            self._lines.end_line()
        elif tag == "img":
            self._note_picture(node)
        elif tag not in tree.INLINE:
            self._lines.break_lines(_breaks(node))
            self._enter_block(node, tag)
        self._note_typed(node)

    def _enter_block(self, node: "LexborNode", tag: str) -> None:
        if tag == "table":
            self._take_table(node)
        elif tag == "tr":
            self._take_row(node)
        elif tag == "dl":
            self._take_definitions(node)
        elif tag in {"ul", "ol", "menu", "dir"}:
            self._counted.append(0 if tag == "ol" else -1)
        elif tag == "li" and self._counted and self._counted[-1] >= 0:
            self._counted[-1] += 1
            self._lines.mark_item(f"{self._counted[-1]}.")
        if tag in _HOLDERS:
            self._part_label(node)

    def _part_label(self, node: "LexborNode") -> None:
        """A label and a value that only a style sheet parts (`<li><span>Year</span><span>1928</span>`) get a mark between."""
        inside = rows.label_and_value(node, self._skip)
        if inside is not None:
            self._write_out(inside[0].node, inside[0].text or "")
            self._marks[inside[1].node.mem_id] = NAME_MARK

    def _leave(self, node: "LexborNode") -> None:
        if self._typed and self._typed[-1] == node.mem_id:
            self._typed.pop()
        tag = node.tag or ""
        if tag in {"ul", "ol", "menu", "dir"} and self._counted:
            self._counted.pop()
        if tag not in tree.INLINE and tag not in {"br", "img"} and tag not in rows.CELLS and node.mem_id not in self._run_on:
            self._lines.break_lines(_breaks(node))

    def _note_typed(self, node: "LexborNode") -> None:
        style = "" if node.tag in _TYPED else (node.attributes.get("style") or "")[: tree.LONGEST_STYLE].replace(" ", "").lower()
        if node.tag in _TYPED or any(s in style for s in _TYPED_STYLES):
            self._typed.append(node.mem_id)

    def _note_picture(self, node: "LexborNode") -> None:
        address = (node.attributes.get("src") or "").strip()
        if address and len(self.pictures) < MAX_PICTURES and len(address) <= LONGEST_ADDRESS and address not in self.pictures[-20:]:
            self.pictures.append(address)

    def _take_table(self, table: "LexborNode") -> None:
        """The entries of a table of heads above values."""
        parts = (table, *islice(tree.children(table), 5))
        listed = list(islice((r for part in parts for r in tree.children(part) if r.tag == "tr"), 3))
        if len(listed) == 2:
            self._take(rows.head_pairs([rows.row_cells(r, self._skip) for r in listed]))

    def _take_row(self, row: "LexborNode") -> None:
        """The entries of a row; of any other row of short cells, one line with marks between them."""
        cells = [c for c in rows.row_cells(row, self._skip) if c.node.mem_id not in self._consumed]
        self._take(rows.row_pairs(cells))
        left = [c for c in cells if c.node.mem_id not in self._consumed]
        named = len(left) == 2 and left[1].node.tag == "td" and bool(rows.entry_name(left[0].text or ""))
        whole = left if all(c.text is not None for c in left) else left[:1] if named else []
        for cell in whole:
            self._write_out(cell.node, cell.text or "", "" if cell is left[0] else NAME_MARK if named else PLAIN_MARK)
        if named and whole != left:
            self._marks[left[1].node.mem_id] = NAME_MARK

    def _write_out(self, node: "LexborNode", text: str, mark: str = "") -> None:
        """Write an element as one piece of the line, and be done with it."""
        if mark:
            self._lines.join(mark)
        self._lines.write(text)
        self._consume(node)

    def _consume(self, node: "LexborNode") -> None:
        self._consumed.add(node.mem_id)
        for picture in node.css("img")[:MAX_PICTURES]:
            self._note_picture(picture)

    def _take_definitions(self, listed: "LexborNode") -> None:
        """The entries of a list of definitions; other short terms stand on one line with what they say."""
        self._take(list(rows.definitions(listed, self._skip)))
        for term in tree.children(listed):
            if term.tag == "dd" and (before := _element_before(term)) is not None and before.tag == "dt" and rows.one_line(before, self._skip):
                self._marks[term.mem_id] = NAME_MARK
                self._run_on.add(before.mem_id)

    def _take(self, pairs: list[rows.Pair]) -> None:
        for one in pairs:
            if not self._takes_entries or len(self.entries) == MAX_ENTRIES:
                return
            same = [e for e in self.entries if e.name.casefold() == one.name.casefold()]
            if all(e.value == one.value for e in same):
                if not same:
                    self.entries.append(Entry(one.name, one.value, tree.path(one.nodes[1])))
                for node in one.nodes:
                    self._consume(node)


def _breaks(node: "LexborNode") -> int:
    if node.tag not in _PARAGRAPHS:
        return NEW_LINE
    inside = node.parent is not None and node.parent.tag in {"li", "td", "th", "dd"} and node.tag != "p"
    return NEW_LINE if inside else NEW_PARAGRAPH


def _element_before(node: "LexborNode") -> "LexborNode | None":
    before = node.prev
    while before is not None and not tree.is_element(before):
        before = before.prev
    return before
