"""What holds of reading whatever the text: quotes are slices, nothing raises, the order of a form does not matter."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from auditor import audit
from claims.claim import PARTS, STANCES
from claims.pack import shipped_packs
from claims.phrase_files import FOLDER, BadPhrases, add_language, tables
from claims.reader import read_claims
from extractors import Document, make_document
from tests.bench.reading import scored
from tests.cases import cases

PACKS = shipped_packs()
PIECES = st.sampled_from([
    "1931", "Quillfeather", "QF-5", "frame no.", "33Q 07311 G", "engine QE 10412", "not", "I believe", "matching numbers", "original", "\n", "\n\n", ". ", ", ", "?",
    "(", ")", "built in", "registered", "until", "12/01/1939", "'67", "c.", "1964 1/2", "xxxx", "VIN", "1HGCM82633A004352", "wanted", "no title", "Triumph", "DU 44400",
    "\u200b", "\u202e", "é", "½", "№", "-", "/", "#", "$1950", "1950 miles", "restored", "replacement", "gearbox", "plate", "said to be", "V5C", "Baujahr", "two",
])  # fmt: skip
TEXTS = st.lists(st.one_of(PIECES, st.text(max_size=12)), max_size=25).map(" ".join)
FORMS = st.dictionaries(st.sampled_from(["Year", "Make", "Model", "Frame no", "Engine", "VIN", "Reg", "Notes", "Price"]), TEXTS, max_size=4)


@settings(max_examples=150, deadline=None)
@given(title=TEXTS, text=TEXTS, form=FORMS)
def test_every_quote_is_a_slice_and_nothing_raises(title: str, text: str, form: dict[str, str]) -> None:
    document = make_document(text, title=title, attributes=form)
    for claim in audit(document, strict=True).claims:
        field = document.field(claim.quote.field)
        assert field is not None
        assert field.text[claim.quote.start : claim.quote.end] == claim.quote.text
        assert claim.part in PARTS
        assert claim.stance in STANCES


def meanings(document: Document) -> list[tuple[str, ...]]:
    return sorted((c.quote.field, c.kind, c.part, str(c.value), c.stance) for c in read_claims(document, PACKS))


@settings(max_examples=60, deadline=None)
@given(form=FORMS)
def test_the_order_of_a_form_changes_nothing(form: dict[str, str]) -> None:
    one = make_document("", title="1931 Quillfeather QF-5", attributes=form)
    other = make_document("", title="1931 Quillfeather QF-5", attributes=dict(reversed(form.items())))
    assert meanings(one) == meanings(other)


@pytest.mark.parametrize("case", list(cases("consistent"))[::10], ids=lambda case: case.heading)
def test_boilerplate_adds_and_changes_no_claim(case) -> None:  # type: ignore[no-untyped-def]
    document = case.document
    more = "\n\nFinance available subject to approval. All major cards accepted. Call us seven days a week on 01632 960960 or visit www.example.org."
    longer = make_document(document.text + more, title=document.title, attributes={f.label: f.text for f in document.fields if f.is_attribute})
    assert meanings(longer) == meanings(document)


def test_reading_stays_as_good_as_it_was() -> None:
    """A floor under the tuned gold listings, well below what the bench prints, so that a slip is seen."""
    score = scored("gold/tuned")
    assert sum(score.hits.values()) / sum(score.found.values()) > 0.88
    assert sum(score.hits.values()) / sum(score.gold.values()) > 0.70


def test_an_unknown_key_in_a_phrase_file_names_file_and_key(monkeypatch: pytest.MonkeyPatch) -> None:
    from claims.lexicon import Lexicon

    monkeypatch.setitem(tables("en")["dates"], "weekdays", ["monday"])
    with pytest.raises(BadPhrases, match=r"phrases/en/dates.toml: unknown key 'weekdays'"):
        add_language(Lexicon(), "en")
    assert FOLDER.is_dir()
