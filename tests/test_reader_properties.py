"""What holds of reading whatever the text: any characters, any length, any order of a form, any boilerplate around it."""

from collections import Counter

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from auditor import audit
from claims.grid import Grid
from claims.languages import usual_language
from claims.pack import shipped_packs
from claims.reader import read_claims
from extractors import Document, make_document
from extractors.document import TEXT, Field
from extractors.formats.json_record import record
from tests.cases import cases
from tests.gold import annotated
from tests.test_reader import FORMS, TEXTS

PACKS = shipped_packs()
FIGURES = st.sampled_from(
    ["²", "①", "٣", "１９３１", "½", "Ⅳ", "1" * 5000, "12/²/1939", "²/3/70", "1931/²²", "mk ②", "no. ²²²²", "²²cc", "one of ²² built"]
)
WIDE = st.lists(
    st.one_of(
        FIGURES,
        st.sampled_from(["engine no.", "frame", "1931", "Quillfeather", "built", "\x00", "\x1b[2J", "\u2028", "\ud800", "\u0130", "ﬁ", "ß", "a" * 20_000, "A1" * 300]),
        st.text(st.characters(), max_size=8),
    ),
    max_size=14,
).flatmap(lambda pieces: st.sampled_from(["", " ", "\n", "/", "-"]).map(lambda joint: joint.join(pieces)))  # fmt: skip
LISTINGS = [c.document for c in (*cases("consistent"), *cases("planted"))] + [a.document for a in annotated("gold/tuned")]
CLOSING = {"en": [
    "We accept all major cards and can arrange delivery. Part exchange welcome.",
    "Viewing by appointment only. Please call before you travel.",
    "Finance available subject to status. E&OE.",
    "Whilst every effort is made to keep these details correct, the buyer must satisfy himself before he buys.",
    "do NOT contact me with unsolicited services or offers",
    "QR code link to this post",
    "Contact seller | Save | Report this ad",
    "{{dealer.address}}\n[show phone number]\n&nbsp;",
    "<br/><br/>More photos on request.",
    "Follow us for new stock every week!",
    "Share this listing: e-mail, print",
    "Thanks for looking.",
    "Company reg. no. 04512345. VAT no. 123 4567 89.",
    "© 2024 Example Classics Ltd. All rights reserved.",
    "(c) 2023 Example Classics",
    "Ad ID: 7712345678. Posted: 2024-05-01 10:12. Views: 1,204",
    "Call 01632 960123 or 07700 900456, Mon-Fri 9.00-17.30.",
], "de": [
    "Besichtigung nach Vereinbarung. Inzahlungnahme möglich.",
    "Irrtümer und Zwischenverkauf vorbehalten.",
    "Wir liefern das Fahrzeug gerne zu Ihnen nach Hause.",
    "Anbieter kontaktieren | Merken | Anzeige melden",
    "Privatverkauf, keine Rücknahme.",
], "fr": [
    "Visite sur rendez-vous. Livraison possible dans toute la France.",
    "Photos supplémentaires sur demande.",
    "Contacter le vendeur | Enregistrer | Signaler cette annonce",
], "nl": [
    "Bezichtiging op afspraak. Inruil mogelijk.",
    "Meer foto's op aanvraag.",
    "Bericht sturen | Bewaren | Advertentie melden",
]}  # fmt: skip
"""Ends of adverts and remnants of templates, invented after habits that LISTINGS names."""


OPENING = [
    "Back to results",
    "Home | Vehicles | Classic",
    "Posted 3 days ago",
    "Seller's description:",
    "[[image 1 of 24]]",
    "Print | Share | Report",
]
OFF_TOPIC = {"Ad id": "7712345678", "Posted": "3 days ago", "Views": "1204", "Stock no": "44812", "Seller type": "Trade", "Updated": "2024-05-01"}


def meanings(document: Document) -> Counter[tuple[str, ...]]:
    return Counter((c.quote.field, c.kind, c.part, str(c.value), c.stance, str(c.item), c.quote.text) for c in read_claims(document, PACKS))


def with_text(document: Document, text: str) -> Document:
    return make_document(text, title=document.title, attributes={f.label: f.text for f in document.fields if f.is_attribute})


@settings(max_examples=200, deadline=None)
@given(title=WIDE, text=WIDE, entry=WIDE)
def test_any_characters_are_read_and_quoted_as_they_stand(title: str, text: str, entry: str) -> None:
    document = make_document(text, title=title, attributes={"Year": entry, "Frame no": entry, "Notes": entry, "Model": entry})
    for claim in read_claims(document, PACKS):
        field = document.field(claim.quote.field)
        assert field is not None
        assert claim.quote.text == field.text[claim.quote.start : claim.quote.end]
        assert claim.quote.text


@settings(max_examples=40, deadline=None)
@given(text=WIDE)
def test_any_text_goes_through_the_whole_flow(text: str) -> None:
    assert audit(make_document(text, title="1931 Quillfeather QF-5"), strict=True).document.text == text


@pytest.mark.parametrize("escape", [r"\ud800", r"\udfff frame no. 33Q 07311 G", r"\u0000 1931", r"\ufffe"])
def test_what_json_may_hold_is_read(escape: str) -> None:
    document = record(f'{{"id": 1, "text": "{escape}"}}', "in.jsonl line 1")
    for claim in read_claims(document, PACKS):
        assert claim.quote.text == document.text[claim.quote.start : claim.quote.end]


@settings(max_examples=60, deadline=None)
@given(form=FORMS, text=TEXTS, order=st.randoms(use_true_random=False))
def test_the_order_of_a_form_changes_nothing_beside_a_text(form: dict[str, str], text: str, order) -> None:  # type: ignore[no-untyped-def]
    entries = list(form.items())
    order.shuffle(entries)
    one = make_document(text, title="Quillfeather QF-5", attributes=form)
    other = make_document(text, title="Quillfeather QF-5", attributes=dict(entries))
    assert meanings(one) == meanings(other)


@settings(max_examples=150, deadline=None)
@given(document=st.sampled_from(LISTINGS), gap=st.sampled_from(["\n", "\n\n", "\n---\n"]), data=st.data())
def test_boilerplate_behind_a_text_changes_no_claim(document: Document, gap: str, data: st.DataObject) -> None:
    """In the listing's language, and in the writer's own case where that is all capitals or none: both are told from the text as a whole."""
    language = usual_language([text for f in document.fields for text in (f.label, f.text)])
    closing = data.draw(st.lists(st.sampled_from(CLOSING.get(language) or CLOSING["en"]), min_size=1, max_size=4, unique=True))
    if document.text.isupper() or document.text.islower():
        closing = [line.upper() if document.text.isupper() else line.lower() for line in closing]
    longer = with_text(document, gap.join([document.text, *closing]) if document.text else gap.join(closing))
    assert meanings(longer) == meanings(document)


@settings(max_examples=100, deadline=None)
@given(document=st.sampled_from(LISTINGS), opening=st.sampled_from(OPENING), label=st.sampled_from(sorted(OFF_TOPIC)))
def test_remnants_of_a_template_before_a_text_and_in_its_form_change_no_claim(document: Document, opening: str, label: str) -> None:
    language = usual_language([text for f in document.fields for text in (f.label, f.text)])
    assume(language == "en" and not document.text.islower() and not document.text.isupper() and document.field(f"attributes.{label}") is None)
    form = {f.label: f.text for f in document.fields if f.is_attribute} | {label: OFF_TOPIC[label]}
    longer = make_document(f"{opening}\n{document.text}", title=document.title, attributes=form)
    assert meanings(longer) == meanings(document)


@settings(deadline=None)
@given(st.text(st.characters(max_codepoint=127, exclude_characters="`")))
def test_a_text_of_ascii_has_the_tokens_that_it_has_in_any_other_text(text: str) -> None:
    grid, other = Grid(Field(TEXT, text)), Grid(Field(TEXT, text + " é"))
    assert [*grid.toks, "é"] == other.toks
    assert [grid.as_written(i).lower() for i in range(grid.n)] == grid.toks
    assert grid.starts == other.starts[:-1]
