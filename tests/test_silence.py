"""Nothing is accused in the consistent listings; what was planted is found, in the right words."""

import pytest

from extractors.document import Document
from tests.bench.silence import accusations, is_found, ordinary
from tests.cases import Case, cases

CONSISTENT = list(cases("consistent"))
PLANTED = list(cases("planted"))
ASKED_FOR = 54


@pytest.mark.parametrize("case", CONSISTENT, ids=lambda case: case.heading)
def test_nothing_is_accused(case: Case) -> None:
    assert accusations(case.document) == []


@pytest.mark.parametrize("advert", list(ordinary()), ids=lambda advert: str(advert.id))
def test_nothing_is_accused_in_ordinary_adverts(advert: Document) -> None:
    assert accusations(advert) == []


def test_planted_conflicts_are_found() -> None:
    assert len(PLANTED) == 60
    missed = [case.heading for case in PLANTED if not is_found(case)]
    assert len(PLANTED) - len(missed) >= ASKED_FOR, missed
