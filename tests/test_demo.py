"""The six demo listings: what must be found in each, and what must not."""

import pytest

from auditor import Audit, audit
from auditor.cli import DEMO
from extractors.intake import documents


def audited(name: str) -> Audit:
    (document,) = documents(str(DEMO / f"{name}.txt"))
    return audit(document, strict=True)


def names(result: Audit, grade: str) -> set[str]:
    return {f.name for f in result.findings if f.grade == grade}


@pytest.mark.parametrize("name", ["consistent", "hedged", "parts-advert"])
def test_nothing_is_accused(name: str) -> None:
    assert not names(audited(name), "contradiction")
    assert not names(audited(name), "doubt")


def test_the_plate_that_says_what_the_owner_would_like() -> None:
    result = audited("plate-says-1928")
    assert "number_dates_another_year" in names(result, "contradiction")
    assert "matching_numbers_differ" in names(result, "doubt")
    finding = next(f for f in result.findings if f.name == "number_dates_another_year")
    assert [c.quote.text for c in finding.claims] == ["1928", "33Q 08450 B"]
    assert finding.sources
    assert finding.innocent


def test_the_carrier_of_two_makers() -> None:
    assert names(audited("two-makers"), "contradiction") == {"number_of_another_maker"}


def test_all_matching_that_cannot_be() -> None:
    assert names(audited("all-matching"), "contradiction") >= {"matching_numbers_differ", "original_beside_replacement"}


def test_a_parts_advert_offers_no_vehicle() -> None:
    result = audited("parts-advert")
    assert {c.stance for c in result.claims if c.kind == "number"} == {"other-item"}
    assert not result.decodings


def test_every_sentence_of_the_hedged_one_is_hedged() -> None:
    said = [c for c in audited("hedged").claims if not c.is_decoded]
    assert len(said) >= 6
    assert {c.stance for c in said} <= {"hedged", "reported"}
