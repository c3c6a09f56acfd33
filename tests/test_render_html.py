"""The HTML report: every word once, findings tied both ways, hostile text harmless, letters that stand out, no sideways scrolling."""

import colorsys
import dataclasses
import re
import shutil
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from auditor import audit
from auditor.audit import Audit
from auditor.cli import FORMATS
from auditor.finding import GAP, Finding
from auditor.render import html, md
from auditor.render.marked import marked
from auditor.share import shared
from claims.claim import REPLY, STATED, Claim
from tests.bench import pictures
from tests.pages import Page
from tests.render_cases import ALL, TEXTS, received, with_claims

OURS = frozenset((
    "html", "head", "meta", "title", "style", "body", "a", "header", "p", "h1", "h2", "h3", "span", "bdi", "nav", "ul", "li", "main", "section",
    "article", "dl", "dt", "dd", "div", "br", "wbr", "figure", "figcaption", "svg", "desc", "line", "text", "rect", "path", "table", "caption", "thead",
    "tbody", "tr", "th", "td", "ol", "strong", "footer",
))  # fmt: skip
"""Every element that the page itself uses."""


@pytest.fixture(params=list(ALL), scope="module")
def result(request: pytest.FixtureRequest) -> Audit:
    return audit(ALL[request.param])


def test_every_word_of_the_listing_stands_once_and_in_order(result: Audit) -> None:
    page = Page(html.render(result))
    assert "".join(page.words).split() == received(result.document)


def test_the_page_is_whole_and_holds_nothing_from_outside(result: Audit) -> None:
    source = html.render(result)
    page = Page(source)
    assert not page.unbalanced
    assert len(page.ids) == len(set(page.ids))
    assert {tag for tag, _ in page.elements} <= OURS
    for href, _ in page.links:
        assert href[0] == "#"
        assert href[1:] in page.ids
    for _, attributes in page.elements:
        assert not [name for name in attributes if name.startswith("on") or name in {"src", "srcset", "action"}]
    assert not [c for c in source if c != "\n" and not c.isprintable()]


def test_findings_and_words_are_tied_both_ways(result: Audit) -> None:
    page, words = Page(html.render(result)), marked(result).by_quote
    for number, finding in enumerate(result.findings, 1):
        for claim in finding.claims:
            mark = words[claim.quote].number
            assert f"#words-{mark}" in page.links_in(f"finding-{number}")
            assert f"#finding-{number}" in page.links_in(f"note-{mark}")
        for href in page.links_in(f"finding-{number}"):
            if href.startswith("#source"):
                assert any(h == f"#finding-{number}" and "sources" in around for h, around in page.links)
        assert bool(finding.sources) == any(h.startswith("#source") for h in page.links_in(f"finding-{number}"))


def test_every_mark_has_a_number_in_the_words_and_a_note(result: Audit) -> None:
    page = Page(html.render(result))
    for mark in marked(result).by_quote.values():
        assert f"words-{mark.number}" in page.ids
        assert f"note-{mark.number}" in page.ids
        assert mark.notes


def test_headings_go_down_one_step_at_a_time_and_landmarks_are_there() -> None:
    page = Page(html.render(audit(TEXTS["two machines"])))
    levels = [int(tag[1]) for tag, _ in page.elements if re.fullmatch(r"h\d", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    tags = [tag for tag, _ in page.elements]
    assert [tags.count(t) for t in ("header", "main", "footer", "nav")] == [1, 1, 1, 1]
    assert page.elements[0] == ("html", {"lang": "en"})
    for tag, attributes in page.elements:
        if tag == "section":
            assert attributes["aria-labelledby"] in page.ids
        if tag == "svg" and attributes.get("class") in {"time", "belief"}:
            assert attributes["role"] == "img"
            assert set(attributes["aria-labelledby"].split()) <= set(page.ids)
        elif tag == "svg":
            assert attributes["aria-hidden"] == "true"


@pytest.mark.parametrize("render", [html.render, md.render])
def test_a_report_without_findings_says_what_that_is_worth(render: Callable[[Audit], str]) -> None:
    assert "no proof that it is true" in render(dataclasses.replace(audit("1967 tractor"), findings=()))
    assert "no contradiction" in render(dataclasses.replace(with_claims("1967", []), findings=(Finding("number_missing", GAP, "a message"),)))
    assert "no proof that it is true" not in render(audit("hello"))
    assert "Nothing was claimed that this tool reads" in render(audit("hello"))


def test_the_formats_are_offered() -> None:
    assert {"html", "md"} <= set(FORMATS)


def test_a_shared_page_holds_no_full_number() -> None:
    result = audit("1930 Quillfeather\nFrame: 33Q 07311 G\n\nEngine QE 10412. Ring 01632 960117.")
    assert "07311" in html.render(result)
    for render in (html.render, md.render):
        written = render(shared(result))
        assert not [n for n in ("07311", "10412", "01632 960117") if n in written]


# marks


@st.composite
def texts_with_spans(draw: st.DrawFn) -> tuple[str, list[tuple[int, int]]]:
    text = draw(st.text(st.sampled_from("ab 1<&>\"'\n\t\x1b\u202eא*_[]`|›\\"), min_size=1, max_size=40))
    ends = st.integers(0, len(text))
    return text, [(min(a, b), max(a, b)) for a, b in draw(st.lists(st.tuples(ends, ends), max_size=8))]


@given(texts_with_spans())
@settings(max_examples=150, deadline=None)
def test_marks_that_overlap_nest_or_are_empty_keep_every_word_and_end_once(given_text: tuple[str, list[tuple[int, int]]]) -> None:
    text, spans = given_text
    result = with_claims(text, spans)
    words = marked(result)
    (field,) = words.fields
    assert "\n".join("".join(p.text for p in line.pieces) for line in field.lines) == text
    ended = [m for line in field.lines for m in line.marks]
    assert sorted((m.quote.start, m.quote.end) for m in ended) == sorted(set(spans))
    assert [m.number for m in ended] == list(range(1, len(ended) + 1))
    at = 0
    for line in field.lines:
        for piece in line.pieces:
            covering = {(m.quote.start, m.quote.end) for m in piece.marks}
            if piece.text:
                assert covering == {s for s in spans if s[0] <= at and at + len(piece.text) <= s[1]}
            at += len(piece.text)
        at += 1
    page = Page(html.render(result))
    assert "".join(page.words).split() == received(result.document)
    assert not page.unbalanced
    assert len(page.ids) == len(set(page.ids))


def test_words_under_two_claims_are_lined_twice_and_those_of_a_finding_heavier() -> None:
    source = html.render(with_claims("the quick brown fox", [(4, 15), (10, 19)]))
    assert '<span class="claim hedged tied">quick </span><span class="claim stated tied twice">brown</span>' in source
    assert '<span class="claim stated tied"> fox</span>' in source


def test_words_of_a_reply_are_listed_elsewhere_and_not_marked_in_the_listing() -> None:
    result = with_claims("1929 carrier", [(0, 4)])
    reply = Claim("year", "vehicle", "1929", STATED, result.document.quote("text", 0, 4), REPLY)
    other = dataclasses.replace(result, claims=(reply,), findings=())
    assert [m.quote.text for m in marked(other).elsewhere] == ["1929"]
    assert not [m for f in marked(other).fields for line in f.lines for m in line.marks]
    assert "Said elsewhere" in html.render(other)
    assert "from the reply" in html.render(other)


# look


def palette(css: str) -> list[dict[str, str]]:
    return [dict(re.findall(r"--(\w+): (#[0-9a-f]{3,6})", block)) for block in re.findall(r":root \{([^}]*)\}", css)]


def luminance(colour: str) -> float:
    digits = colour[1:] if len(colour) == 7 else "".join(c * 2 for c in colour[1:])
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in (int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4))]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


CSS = (Path(html.__file__).parent / "report.css").read_text(encoding="utf-8")


@pytest.mark.parametrize("colours", palette(CSS), ids=["light", "dark", "print"])
def test_letters_stand_out_as_the_guidelines_ask(colours: dict[str, str]) -> None:
    """WCAG 2.2, success criterion 1.4.3: 4.5 to 1; its formulas of contrast and relative luminance."""
    for name in ("ink", "soft", "link", "bar"):
        light, dark = sorted((luminance(colours[name]), luminance(colours["paper"])), reverse=True)
        assert (light + 0.05) / (dark + 0.05) >= 4.5, name


def test_no_colour_is_that_of_a_traffic_light_and_nothing_is_loaded() -> None:
    for colour in re.findall(r"#[0-9a-f]{6}\b", CSS):
        hue, _, saturation = colorsys.rgb_to_hls(*(int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)))
        assert saturation < 0.45 or 0.55 < hue < 0.75, colour
    assert not re.search(r"url\(|@import|@font-face", CSS)


def test_no_page_scrolls_sideways_and_none_asks_for_anything() -> None:
    browser_path = shutil.which("chromium")
    driver = pytest.importorskip("playwright.sync_api")
    if browser_path is None:
        pytest.skip("no chromium here")
    with driver.sync_playwright() as running:
        browser = running.chromium.launch(executable_path=browser_path, args=pictures.ARGUMENTS)
        for name in ("hostile", "two machines", "nothing", "plate-says-1928", *list(ALL)[::25]):
            source = html.render(audit(ALL[name]))
            for width in (pictures.PHONE, 800, pictures.DESK):
                assert not pictures.scrolls_sideways(browser, source, width), f"{name} at {width} px"
        asked: list[str] = []
        page = browser.new_page()
        page.on("request", lambda request: asked.append(request.url))
        page.set_content(html.render(audit(ALL["hostile"])))
        assert page.title().startswith("1929 Quillfeather")
        assert not asked
        browser.close()
