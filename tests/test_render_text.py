"""The terminal report: 80 columns, every finding with its words, rule, innocent explanation and what settles it."""

from pathlib import Path

import pytest

from auditor import audit
from auditor.cli import DEMO
from auditor.questions import IN_A_LETTER
from auditor.render import letter, text
from extractors.intake import documents

LISTINGS = sorted(DEMO.glob("*.txt"))


@pytest.mark.parametrize("path", LISTINGS, ids=[p.stem for p in LISTINGS])
def test_no_line_is_wider_than_80_columns(path: Path) -> None:
    (document,) = documents(str(path))
    assert max(map(len, text.render(audit(document)).splitlines())) <= 80


def test_a_finding_shows_all_that_it_rests_on() -> None:
    report = text.render(audit("1927 Quillfeather QF-5\n\nFrame no. 33Q 07311 G"))
    for word in ("CANNOT BOTH HOLD", "“1927”", "33Q 07311 G", "1930-10", "northmark_pattern5/qf_frame_checked", "invented", "innocent", "settles"):
        assert word in report


@pytest.mark.parametrize("path", LISTINGS, ids=[p.stem for p in LISTINGS])
def test_the_letter_asks_at_most_three_open_questions_and_gives_nothing_away(path: Path) -> None:
    (document,) = documents(str(path))
    result = audit(document)
    written = letter.render(result)
    asked = [line for line in written.splitlines() if line[:2] in {"1.", "2.", "3.", "4."}]
    assert len(asked) == min(IN_A_LETTER, len(result.ranked))
    for finding in result.findings:
        assert finding.message not in written
        for decoding in result.decodings:
            for reading in decoding.readings:
                assert reading.period not in written


def test_an_empty_listing_reads_sensibly() -> None:
    assert "Nothing was claimed" in text.render(audit("hello"))
