"""Every check against its readable fixture: where it fires, and where it has to stay silent."""

from collections import Counter
from pathlib import Path

import pytest

from auditor.audit import audit, known_checks
from tests.cases import FIXTURES, Case, cases, line_of, shown

CASES = list(cases("checks"))
FIRING, SILENT = "fires: ", "silent: "


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.file}: {case.heading}")
def test_findings_of_the_check_equal_the_block(case: Case) -> None:
    expected = sorted(case.lines("findings"))
    got = sorted(line_of(f) for f in audit(case.document, strict=True).findings if f.name == case.file)
    assert got == expected, shown(case, expected, got)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.file}: {case.heading}")
def test_heading_says_whether_the_check_fires(case: Case) -> None:
    assert case.heading.startswith(FIRING if case.lines("findings") else SILENT), case.heading


@pytest.mark.parametrize("name", known_checks())
def test_check_has_one_firing_and_three_silent_cases(name: str) -> None:
    count = Counter(case.heading.partition(" ")[0] for case in CASES if case.file == name)
    assert count["fires:"] >= 1
    assert count["silent:"] >= 3


@pytest.mark.parametrize("path", sorted((FIXTURES / "checks").glob("*.md")), ids=lambda path: path.stem)
def test_fixture_has_its_check_for_a_heading(path: Path) -> None:
    assert path.stem in known_checks()
    assert path.read_text(encoding="utf-8").startswith(f"# {path.stem}\n")


def test_headings_and_listings_are_all_different() -> None:
    headings, listings = Counter((c.file, c.heading) for c in CASES), Counter(c.blocks["listing"] for c in CASES)
    assert [h for h, n in headings.items() if n > 1] == []
    assert [x for x, n in listings.items() if n > 1] == []
