"""The Markdown report: every word once, and nothing from outside that a reader of Markdown takes for markup."""

import re

import pytest
from markdown_it import MarkdownIt

from auditor import audit
from auditor.audit import Audit
from auditor.render import md
from auditor.render.plain import one_line
from tests.render_cases import ALL, received, with_claims

NOT_OURS = {"html_inline", "html_block", "link_open", "image", "fence", "code_block", "code_inline", "em_open", "s_open", "hr"}


@pytest.fixture(params=list(ALL), scope="module")
def result(request: pytest.FixtureRequest) -> Audit:
    return audit(ALL[request.param])


def test_markdown_of_any_listing_holds_no_markup_from_outside(result: Audit) -> None:
    written = md.render(result)
    tokens = MarkdownIt("gfm-like", {"linkify": False}).parse(written)
    kinds = {t.type for top in tokens for t in [top, *(top.children or [])]}
    assert not kinds & NOT_OURS
    assert next(t.tag for t in tokens if t.type == "heading_open") == "h1"
    quoted, depth = [], 0
    for token in tokens:
        depth += {"blockquote_open": 1, "blockquote_close": -1}.get(token.type, 0)
        if depth and token.type == "inline":
            quoted.append("".join("\n" if c.type in {"softbreak", "hardbreak"} else c.content for c in token.children or []))
    labels = tuple(f"{one_line(f.label)}: " for f in result.document.fields if f.is_attribute)
    lines = [re.sub(r"‹|›[⁰¹²³⁴⁵⁶⁷⁸⁹]+", "", line) for text in quoted for line in text.split("\n")]
    lines = [line.removeprefix(next((label for label in labels if line.startswith(label)), "")) for line in lines]
    assert " ".join(lines).split() == received(result.document)


def test_markdown_tables_are_whole(result: Audit) -> None:
    tables = re.findall(r"(?:^\|.*\n)+", md.render(result), re.MULTILINE)
    assert tables
    for table in tables:
        cells = {len(re.findall(r"(?<!\\)\|", line)) for line in table.splitlines()}
        assert len(cells) == 1


def test_a_mark_over_two_lines_opens_and_closes_once() -> None:
    written = md.render(with_claims("one two\nthree four", [(4, 13)]))
    assert "> one ‹two\\\n> three›¹ four" in written
