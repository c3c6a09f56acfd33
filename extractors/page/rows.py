"""Rows of tables and lists of definitions that are entries of a form: a short name beside a short value."""

import re
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, NamedTuple

from extractors.page import tree

if TYPE_CHECKING:
    from selectolax.lexbor import LexborNode

LONGEST_NAME, LONGEST_VALUE = 40, 100
"""Characters; a form's entry is short, what is longer is prose and stays in the text."""
MOST_VALUES = 10
MOST_NODES = 120
"""Of a cell that is looked at; one of more holds no short text."""
_NAME = re.compile(r"[^\W\d_][^\n|]*")
_YEAR = re.compile(r"\d{3}")
_LABELLED = frozenset({"span", "div", "strong", "b", "em", "i", "label", "small", "p", "time", "a"})
CELLS = frozenset({"td", "th"})


class Cell(NamedTuple):
    """A cell with its text on one line; `text` is None where it has several lines or is long."""

    node: "LexborNode"
    text: str | None


class Pair(NamedTuple):
    """A name and value found in the page, and the elements that hold them."""

    name: str
    value: str
    nodes: tuple["LexborNode", ...]


def row_cells(row: "LexborNode", skip: "Callable[[LexborNode], bool]") -> list[Cell]:
    """The shown cells of a table's row."""
    return [Cell(one, one_line(one, skip)) for one in tree.children(row) if one.tag in CELLS and not skip(one)]


def row_pairs(cells: list[Cell]) -> list[Pair]:
    """Entries of a row: of two cells (not two heads), or of heads and cells in turn; none where it is another row."""
    heads = [c.node.tag == "th" for c in cells]
    in_turn = heads == [True, False] * (len(cells) // 2)
    if not (in_turn or (len(cells) == 2 and heads != [True, True])):
        return []
    found = [pair(cells[i], [cells[i + 1]]) for i in range(0, len(cells), 2)]
    return [p for p in found if p] if all(found) else []


def head_pairs(rows: list[list[Cell]]) -> list[Pair]:
    """Entries of a table of two rows, the first all heads."""
    if len(rows) != 2 or len(rows[0]) != len(rows[1]) or len(rows[0]) < 2:
        return []
    if not all(c.node.tag == "th" for c in rows[0]) or any(c.node.tag == "th" for c in rows[1]):
        return []
    found = [pair(head, [cell]) for head, cell in zip(*rows, strict=True)]
    return [p for p in found if p] if all(found) else []


def definitions(listed: "LexborNode", skip: "Callable[[LexborNode], bool]") -> Iterator[Pair]:
    """Entries of a `<dl>`: one term with its short descriptions."""
    terms: list[Cell] = []
    values: list[Cell] = []
    for one in _terms_and_values(listed, skip):
        if one.node.tag == "dt":
            if values:
                yield from _defined(terms, values)
                terms, values = [], []
            terms.append(one)
        else:
            values.append(one)
    yield from _defined(terms, values)


def pair(head: Cell, values: list[Cell]) -> Pair | None:
    """The entry that a head and its values are, or None where they are none."""
    texts = [c.text for c in values]
    name = entry_name(head.text or "")
    if not name or not all(texts) or len(texts) > MOST_VALUES:
        return None
    value = "; ".join(t for t in texts if t)
    return Pair(name, value, (head.node, *(c.node for c in values))) if len(value) <= LONGEST_VALUE else None


def entry_name(text: str) -> str:
    """A text as an entry's name, without its colon; empty where it is none.

    >>> entry_name("Frame no.:"), entry_name("May 1932"), entry_name("12 volts")
    ('Frame no.', '', '')
    """
    name = text.rstrip(" :\u00a0").strip()
    return name if len(name) <= LONGEST_NAME and _NAME.fullmatch(name) and not _YEAR.search(name) else ""


def one_line(node: "LexborNode", skip: "Callable[[LexborNode], bool]") -> str | None:
    """The text of an element where it is short and stands on one line."""
    parts: list[str] = []
    length = 0
    due = False
    for number, (kind, one) in enumerate(tree.events(node, skip)):
        if kind == tree.TEXT:
            text = one.text_content or ""
            if due and text.strip():
                return None
            parts.append(text)
            length += len(text)
        elif one.tag not in tree.INLINE and tree.collapsed("".join(parts)).strip(" "):
            due = True
        if length > 4 * LONGEST_VALUE or number > MOST_NODES:
            return None
    text = tree.collapsed("".join(parts)).strip(" ")
    return text if len(text) <= 2 * LONGEST_VALUE else None


def label_and_value(node: "LexborNode", skip: "Callable[[LexborNode], bool]") -> tuple[Cell, Cell] | None:
    """The two elements that are all that a node holds, the first a name and the second short; None for any other node."""
    child, inside = node.first_child, []
    while child is not None:
        if child.tag == "-text" and (child.text_content or "").strip():
            return None
        if tree.is_element(child):
            inside.append(child)
        if len(inside) > 2:
            return None
        child = child.next
    if len(inside) != 2 or any(i.tag not in _LABELLED or skip(i) for i in inside):
        return None
    name, value = (Cell(i, one_line(i, skip)) for i in inside)
    return (name, value) if entry_name(name.text or "") and value.text and len(value.text) <= LONGEST_VALUE else None


def _terms_and_values(listed: "LexborNode", skip: "Callable[[LexborNode], bool]") -> Iterator[Cell]:
    for one in tree.children(listed):
        if skip(one):
            continue
        if one.tag in {"dt", "dd"}:
            yield Cell(one, one_line(one, skip))
        elif one.tag == "div":
            yield from (Cell(inner, one_line(inner, skip)) for inner in tree.children(one) if inner.tag in {"dt", "dd"} and not skip(inner))


def _defined(terms: list[Cell], values: list[Cell]) -> Iterator[Pair]:
    if len(terms) == 1 and values and (found := pair(terms[0], values)):
        yield found
