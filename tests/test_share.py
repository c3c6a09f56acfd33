"""A shared report hides persons, places, marks and the ends of numbers, in every format, and keeps what was found."""

import pytest

from auditor import audit
from auditor.cli import FORMATS
from auditor.share import shared
from extractors import make_document

LISTING = make_document(
    "Frame number 33Q 07311 L, engine QE 10412, fleet number NP-D 11804. Contact Berthold Ames on 01632 960117 or b.ames@example.org.\n"
    "Viewing at Thornquay Harbour by appointment. Located in Merrowick. Or ring oh one six three two nine six zero one one seven.",
    title="1927 Quillfeather QF-5, call Berthold on 555-0142",
    attributes={"Location": "12 Mill Lane", "Year": "1927", "Chassis number": "33Q 07311 L"},
)
SECRETS = (
    "Berthold", "Ames", "960117", "example.org", "b.ames", "Thornquay", "Harbour", "Merrowick", "Mill Lane", "07311", "7311", "33Q07311L", "10412", "QE10412",
    "11804", "NPD11804", "NP-D", "555-0142", "six three two",
)  # fmt: skip


@pytest.mark.parametrize("form", FORMATS)
def test_no_secret_is_in_a_shared_report(form: str) -> None:
    from importlib import import_module

    result = audit(LISTING, strict=True)
    render = import_module(f"auditor.render.{form}").render
    report = render(shared(result))
    open_report = render(result)
    assert [s for s in SECRETS if s in report] == []
    assert form == "letter" or sum(s in open_report for s in SECRETS) >= 3


def test_a_shared_report_keeps_findings_and_places() -> None:
    result = audit(LISTING, strict=True)
    hidden = shared(result)
    assert [(f.name, f.grade) for f in hidden.findings] == [(f.name, f.grade) for f in result.findings]
    assert any(f.name == "check_character_fails" for f in hidden.findings)
    for claim in hidden.claims:
        field = hidden.document.field(claim.quote.field)
        assert field is not None
        assert field.text[claim.quote.start : claim.quote.end] == claim.quote.text
    assert [len(f.text) for f in hidden.document.fields] == [len(f.text) for f in result.document.fields]


def test_what_is_no_secret_stays() -> None:
    hidden = shared(audit("1930 Quillfeather QF-5\n\nBuilt on 12.10.1930, 25 000 miles, 496cc. Northmark Post. Frame 33Q 07311 G."))
    assert "12.10.1930" in hidden.document.text
    assert "25 000 miles" in hidden.document.text
    assert "Northmark Post" in hidden.document.text
    assert "33Q 073•• •" in hidden.document.text


@pytest.mark.parametrize("form", FORMATS)
def test_no_secret_of_a_letter_is_in_a_shared_report(form: str) -> None:
    from importlib import import_module

    reply = "> Mr Lowe asks: frame number?\nIt is 33Q 07311 G, ring me on 01632 960118.\n\nCheers\nBerthold Ames\nThornquay Harbour"
    result = shared(audit(LISTING, replies=[reply], notes=["Frame reads 33Q 07311 G, seen with Berthold at 12 Mill Lane, Merrowick."], strict=True))
    report = import_module(f"auditor.render.{form}").render(result)
    assert [s for s in (*SECRETS, "960118", "Lowe") if s in report and s not in {"Merrowick", "Mill Lane"}] == []


def test_the_signature_of_a_letter_is_hidden_and_its_words_stay_in_place() -> None:
    result = audit(LISTING, replies=["Dry stored.\n\nCheers\nBerthold Ames"], strict=True)
    field = shared(result).document.field("reply")
    assert field is not None
    assert field.text == "Dry stored.\n\n••••••\n•••••••• ••••"
