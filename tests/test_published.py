"""Every published example: dated rightly, or left undated for a stated reason; never wrongly, from claims or from text."""

import pytest

from tests.published import RIGHT, UNDATED, WRONG, Published, disputed, from_claims, from_text, published, verdict

EXAMPLES = published()
FOLDERS = sorted({e.folder for e in EXAMPLES})


@pytest.mark.parametrize("folder", FOLDERS)
def test_published_examples(folder: str) -> None:
    misses: list[str] = []
    for example in (e for e in EXAMPLES if e.folder == folder):
        found = from_claims(example)
        expected = UNDATED if example.undated_because else RIGHT
        if verdict(example, found) != expected:
            misses.append(f"{example}: {verdict(example, found)}, {[(d.rule, [r.period for r in d.readings]) for d in found]}")
    assert not misses


def test_no_published_example_is_dated_wrongly_in_a_listing() -> None:
    wrong = [str(e) for e in EXAMPLES if verdict(e, from_text(e)) == WRONG]
    assert not wrong


def test_nearly_all_are_dated() -> None:
    """The share is a floor: an example may be left undated only for the reason in its row."""
    dated = [e for e in EXAMPLES if not e.undated_because]
    assert len(EXAMPLES) > 2300
    assert len(dated) / len([e for e in EXAMPLES if e.spans]) > 0.98
    assert len(FOLDERS) > 70


@pytest.mark.parametrize("example", list(disputed()), ids=str)
def test_where_sources_differ_each_has_its_reading(example: Published) -> None:
    assert verdict(example, from_claims(example)) == RIGHT
