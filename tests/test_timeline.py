"""The picture of time: one scale, bars where their months are, and what cannot meet drawn apart with its distance."""

import re
from itertools import pairwise

import pytest

from auditor import audit
from auditor.audit import Audit
from auditor.finding import CONTRADICTION
from auditor.render import html
from auditor.render.timeline import Picture, pictures
from tests.cases import Case, cases
from tests.render_cases import ALL

PLANTED = list(cases("planted"))


@pytest.fixture(params=list(ALL), scope="module")
def result(request: pytest.FixtureRequest) -> Audit:
    return audit(ALL[request.param])


def picture(text: str) -> Picture:
    (found,) = pictures(audit(text))
    return found


def test_what_cannot_meet_is_drawn_apart_with_its_distance() -> None:
    drawn = picture("1929 Quillfeather carrier\n\nFrame no 36Q 13283 T.")
    (gap,) = drawn.gaps
    early, late = drawn.bars[gap.early_row][0], drawn.bars[gap.late_row][0]
    assert early.x + early.width < late.x
    assert gap.end_x - gap.start_x > 5
    assert gap.words == "4 years 4 months apart"
    assert drawn.rows[gap.early_row].label == "year 1929"


@pytest.mark.parametrize("case", PLANTED, ids=[c.heading for c in PLANTED])
def test_bars_of_a_planted_conflict_of_dates_do_not_overlap(case: Case) -> None:
    result = audit(case.document)
    dated = {"number_dates_another_year", "years_disagree", "event_before_number", "year_outside_production"}
    wanted = {n for n, f in enumerate(result.findings, 1) if f.name in dated and f.grade == CONTRADICTION}
    drawn = pictures(result)
    assert {n for p in drawn for g in p.gaps for n in g.findings} >= wanted
    for p in drawn:
        for gap in p.gaps:
            for a in p.bars[gap.early_row]:
                for b in p.bars[gap.late_row]:
                    assert a.x + a.width <= b.x + 0.001 or b.x + b.width <= a.x + 0.001


def test_a_doubt_is_named_so_and_drawn_broken() -> None:
    source = html.render(audit("c. 1926 Ostrander & Pike OP-5\nFrame: OP31-01539\n\nThe papers say 1932."))
    assert "apart (finding 1, doubtful)" in source
    assert 'class="gap doubt"' in source
    assert "room that “about” or doubt leaves" in source


@pytest.mark.parametrize("text", [
    "1934 Quillfeather carrier\n\nFrame no 36Q 13283 T.", "c. 1933 Quillfeather carrier\n\nFrame no 36Q 13283 T.", "hello", "1967 tractor",
])  # fmt: skip
def test_dates_that_meet_have_no_gap(text: str) -> None:
    assert not [g for p in pictures(audit(text)) for g in p.gaps]


def test_a_position_follows_from_its_month_alone_and_stays_in_the_picture(result: Audit) -> None:
    for p in pictures(result):
        seen: dict[tuple[int, int], float] = {}
        for row, bars in zip(p.rows, p.bars, strict=True):
            for span, bar in zip(row.spans, bars, strict=True):
                assert 0 <= bar.before <= bar.x < bar.x + bar.width <= 100
                assert seen.setdefault((span.first, span.last), bar.x) == bar.x
        ordered = sorted(seen.items())
        assert all(a[1] <= b[1] for a, b in pairwise(ordered))
        assert all(b.x - a.x > 8 for a, b in pairwise(p.axis.ticks))


def test_long_empty_years_are_cut_and_said_so() -> None:
    source = html.render(audit("1929 Quillfeather carrier\n\nRestored in 2010."))
    assert re.search(r"The scale leaves out 19\d\d to 20\d\d", source)


def test_the_picture_in_words_names_every_row_and_every_gap(result: Audit) -> None:
    for p in pictures(result):
        assert all(row.label in p.words and row.when in p.words for row in p.rows)
        assert p.words.count("do not meet") == len(p.gaps)
