"""A page to its record: which words are the headline, which the listing's text, which entries of a form.

Runs on HTML that `bounds` has let pass; `apart` decides where.
"""

import html as entities
import re
from typing import TYPE_CHECKING

from extractors.page import bounds, tree
from extractors.page.facts import Facts, facts, is_same, merged
from extractors.page.left_out import LeftOut
from extractors.page.record import Entry, Page
from extractors.page.visible_text import Visible

if TYPE_CHECKING:
    from selectolax.lexbor import LexborHTMLParser, LexborNode

MOST_HEADS = 50
LONGEST_TITLE = 300
SHORTEST_LINE = 8
"""Letters; lines of a description as short as that are compared whole with the page's lines."""
_MARKUP = re.compile(r"<[a-zA-Z/!][^<>]*>")
_BREAKING = re.compile(r"<(?:br|p|div|li|tr)\b", re.IGNORECASE)
_SITE_MARK = re.compile(r"\s+[|–—-]\s+")


def read(html: str) -> Page:
    """The record of a page: headline, entries (shown ones first, then those of its data), text, pictures."""
    from selectolax.lexbor import LexborHTMLParser

    page = LexborHTMLParser(html)
    body = page.body
    if body is None:
        return Page()
    heads = _heads(body)
    title_tag = page.css_first("title")
    tab = tree.collapsed(title_tag.text(deep=True)).strip() if title_tag is not None else ""
    said = facts(page, [*(t for _, t in heads), tab])
    title, head = _title(heads, said, tab, title_tag)
    root = _main(body, head)
    shown = _shown(root, head, page)
    if not shown.text and not shown.entries and root.mem_id != body.mem_id:
        root, shown = body, _shown(body, head, page)
    listed, left = merged(shown.entries, said.entries)
    text, place = shown.text, tree.path(root)
    added = [line for line in _described(said, text) if line.strip()]
    added += [f"{e.name}: {e.value}" for e in left]
    if added:
        if not text and said.description is not None:
            place = said.description.locator
        text = "\n\n".join(part for part in (text, "\n".join(added)) if part)
    return Page(title.value, title.locator, tuple(listed), text, place if text else "", tuple(shown.pictures))


def _heads(body: "LexborNode") -> list[tuple["LexborNode", str]]:
    """The shown main headings outside menus, those of the page's head last."""
    found: list[tuple[LexborNode, str, bool]] = []
    for node in body.css("h1")[:MOST_HEADS]:
        around = [node, *tree.ancestors(node)]
        text = tree.words(node, most=2 * LONGEST_TITLE, nodes=LONGEST_TITLE)
        if text and not any(tree.is_hidden(a) or a.tag in {"nav", "footer", "aside"} for a in around):
            of_site = any(a.tag == "header" for a in around) and not any(a.tag in {"main", "article"} for a in around)
            found.append((node, text, of_site))
    return [(node, text) for node, text, _ in sorted(found, key=lambda f: f[2])]


def _title(heads: list[tuple["LexborNode", str]], said: Facts, tab: str, title_tag: "LexborNode | None") -> tuple[Entry, "LexborNode | None"]:
    """(the headline, the heading that bears it): the heading that the page's data, else its tab, names; else their own words."""
    name = said.name.value if said.name else said.shared_title or tab
    naming = [(node, text) for node, text in heads if text != said.site and is_same(name, text)]
    if naming:
        node, text = max(naming, key=lambda found: len(found[1]))
        return _headline(text, tree.path(node)), node
    if said.name is not None:
        return _headline(said.name.value, said.name.locator), None
    own = [(node, text) for node, text in heads if text != said.site]
    if own:
        return _headline(own[0][1], tree.path(own[0][0])), own[0][0]
    if title := _without_site(said.shared_title or tab, said.site):
        return _headline(title, tree.path(title_tag) if title_tag is not None and not said.shared_title else "html/head/meta"), None
    return Entry("title", ""), None


def _headline(text: str, locator: str) -> Entry:
    return Entry("title", tree.collapsed(text).strip()[:LONGEST_TITLE], locator)


def _without_site(title: str, site: str) -> str:
    """A tab's title without the site's name at its end."""
    parts = _SITE_MARK.split(title)
    if len(parts) > 1 and site and is_same(parts[-1], site):
        return title[: title.rindex(parts[-1])].rstrip(" |–—-")
    return title


def _main(body: "LexborNode", head: "LexborNode | None") -> "LexborNode":
    """The page's main part where it marks one, else its body."""
    marked = [n for n in body.css('main,[role="main"]')[:MOST_HEADS] if not any(tree.is_hidden(a) for a in (n, *tree.ancestors(n)))]
    if len(marked) == 1:
        return marked[0]
    for one in marked:
        if head is not None and any(a.mem_id == one.mem_id for a in tree.ancestors(head)):
            return one
    return body


def _shown(root: "LexborNode", head: "LexborNode | None", page: "LexborHTMLParser") -> Visible:
    """The shown part of the root that is the listing; all that is shown where nothing else would be left."""
    kept = [*([head] if head is not None else []), *page.css('[itemprop="description"]')[:MOST_HEADS]]
    dropped = [head] if head is not None else []
    shown = Visible(root, LeftOut(root, kept, dropped=dropped))
    if shown.text or shown.entries:
        return shown
    out = {n.mem_id for n in dropped}
    return Visible(root, lambda node: node.mem_id in out or tree.is_hidden(node))


def _described(said: Facts, text: str) -> list[str]:
    """The lines of the data's description that the shown text lacks; of a shared summary only where no text is shown."""
    given = said.description or (said.shared_description if not text else None)
    if given is None:
        return []
    lines = _lines_of(given.value)
    have, whole = {_letters(line) for line in text.split("\n")}, _letters(text)
    out = []
    for line in lines:
        letters = _letters(line)
        known = letters in whole if len(letters) > SHORTEST_LINE else letters in have
        if letters and not known and not (line.rstrip().endswith(("…", "...")) and letters[:-1] in whole):
            out.append(line)
    return out


def _lines_of(description: str) -> list[str]:
    """The lines of a description that may hold markup."""
    if not _MARKUP.search(description):
        return description.split("\n")
    if not _BREAKING.search(description):
        description = description.replace("\n", "<br>")
    if not bounds.is_small(description):
        return [line.strip() for line in entities.unescape(_MARKUP.sub("\n", description)).split("\n")]
    from selectolax.lexbor import LexborHTMLParser

    body = LexborHTMLParser(description).body
    return Visible(body, tree.is_hidden, entries=False).text.split("\n") if body is not None else []


def _letters(text: str) -> str:
    return "".join(c for c in text.casefold() if c.isalnum())
