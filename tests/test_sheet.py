"""The numbers sheet: every number in the cell of its witness, empty cells as questions, disagreements with their finding."""

import dataclasses
import re

import pytest

from auditor import audit
from auditor.sheet import ADVERT, DATE, FORM, NUMBER, OWN, PAPERS, RECORD, WITNESSES, Cell, Row, Sheet, sheet_of
from claims.claim import NOTES, OTHER_ITEM, PHOTO, REPLY, Claim
from extractors.document import make_document
from tests.cases import Case, cases

FIXTURES = [*cases("consistent"), *cases("planted")]
TWO = """1927 and 1930 carriers, sold together

1) 1927 Quillfeather, frame 28Q 01905, engine QE 01905, running.
2) 1930 Ostrander & Pike OP-5, frame OP31-01539, dismantled."""


def row(sheet: Sheet, name: str, item: int = 1, what: str = NUMBER) -> Row:
    (found,) = [r for r in sheet.rows if r.name == name and r.item == item and r.what == what]
    return found


def cell(sheet: Sheet, name: str, witness: str, item: int = 1) -> Cell:
    (found,) = [c for c in row(sheet, name, item).cells if c.witness == witness]
    return found


@pytest.mark.parametrize("case", FIXTURES, ids=[c.heading for c in FIXTURES])
def test_every_number_stands_in_one_cell_and_every_label_has_its_question(case: Case) -> None:
    result = audit(case.document)
    sheet = sheet_of(result)
    said = {(c.item, c.part, c.value) for c in result.claims if c.kind == "number" and c.stance != OTHER_ITEM and not c.is_decoded}
    shown = {(r.item, r.part, e.claim.value) for r in sheet.rows if r.what == NUMBER for c in r.cells for e in c.entries}
    assert shown == said
    labels = [a.label for a in sheet.asks]
    assert len(set(labels)) == len(labels)
    assert {c.ask for r in sheet.rows for c in r.cells if c.ask} == set(labels)
    for r in sheet.rows:
        assert [c.witness for c in r.cells] == list(WITNESSES)
        assert not [c for c in r.cells if c.entries and c.ask]


def test_a_cell_shows_the_words_the_reading_the_witness_and_the_finding() -> None:
    result = audit("1929 Quillfeather carrier\nFrame: 36Q 13283 T\n\nGood tyres.")
    sheet = sheet_of(result, {FORM: "2024-05-01"})
    (entry,) = cell(sheet, "frame", FORM).entries
    assert (entry.text, entry.on, entry.by, entry.manner) == ("36Q 13283 T", "2024-05-01", "seller, Frame", "")
    assert "1934-05" in entry.says
    (number,) = entry.findings
    assert result.findings[number - 1].name == "number_dates_another_year"
    (stated,) = next(c for c in row(sheet, "year or date of building", what=DATE).cells if c.witness == ADVERT).entries
    assert stated.findings == entry.findings


def test_two_numbers_of_one_part_are_marked_with_their_finding() -> None:
    result = audit("1930 Quillfeather\nFrame: 33Q 07311 G\n\nFrame number 33Q 07322 A.")
    sheet = sheet_of(result)
    differ = [n for n, f in enumerate(result.findings, 1) if f.name == "numbers_of_one_part_differ"]
    assert differ
    for witness in (ADVERT, FORM):
        (entry,) = cell(sheet, "frame", witness).entries
        assert differ[0] in entry.findings


def test_the_same_number_said_twice_is_one_entry_with_both_places() -> None:
    sheet = sheet_of(audit("1930 Quillfeather, frame 33Q 07311 G\n\nFrame number 33Q 07311 G."))
    (entry,) = cell(sheet, "frame", ADVERT).entries
    assert entry.by.startswith("seller, ")
    assert len(entry.by.split(", ")) == 3


@pytest.mark.parametrize(("text", "witness"), [
    ("Quillfeather carrier.\n\nThe papers say frame number 33Q 07311 G.", PAPERS),
    ("Quillfeather carrier.\n\nAccording to the factory record the frame number is 33Q 07311 G.", RECORD),
    ("Quillfeather carrier.\n\nAccording to the previous owner the frame number is 33Q 07311 G.", ADVERT),
])  # fmt: skip
def test_what_the_seller_repeats_from_papers_goes_to_the_papers(text: str, witness: str) -> None:
    (entry,) = cell(sheet_of(audit(text)), "frame", witness).entries
    assert entry.manner == "reported"


@pytest.mark.parametrize(("basis", "witness"), [(PHOTO, PHOTO), (REPLY, REPLY), (NOTES, OWN)])
def test_the_basis_of_a_claim_names_its_column(basis: str, witness: str) -> None:
    document = make_document("Frame number 33Q 07311 G", title="1930 Quillfeather")
    result = audit(document)
    claims: list[Claim] = [dataclasses.replace(c, basis=basis) if c.kind == "number" and not c.is_decoded else c for c in result.claims]
    sheet = sheet_of(dataclasses.replace(result, claims=tuple(claims)))
    assert [e.text for e in cell(sheet, "frame", witness).entries] == ["33Q 07311 G"]
    assert not cell(sheet, "frame", ADVERT).entries


def test_empty_cells_are_questions_but_not_where_the_seller_has_answered() -> None:
    sheet = sheet_of(audit("1929 Quillfeather carrier\nFrame: 36Q 13283 T\n\nGood tyres."))
    texts = {a.label: a.text for a in sheet.asks}
    assert cell(sheet, "frame", ADVERT).ask == ""
    assert "engine number" in texts[cell(sheet, "engine", ADVERT).ask]
    assert "frame number" not in texts[cell(sheet, "engine", ADVERT).ask]
    assert re.search(r"photograph.*frame number and the engine number", texts[cell(sheet, "frame", PHOTO).ask])


def test_nobody_is_asked_to_photograph_a_year() -> None:
    sheet = sheet_of(audit("Quillfeather carrier\n\nGood tyres, frame 36Q 13283 T."))
    cells = {c.witness: c for c in row(sheet, "year or date of building", what=DATE).cells}
    assert cells[PHOTO].ask == cells[OWN].ask == ""
    texts = {a.label: a.text for a in sheet.asks}
    assert "When was it built" in texts[cells[ADVERT].ask]


def test_each_machine_of_an_advert_has_its_own_rows_and_questions() -> None:
    sheet = sheet_of(audit(TWO))
    assert sheet.items == (1, 2)
    assert [e.text for e in cell(sheet, "frame", ADVERT, 1).entries] == ["28Q 01905"]
    assert [e.text for e in cell(sheet, "frame", ADVERT, 2).entries] == ["OP31-01539"]
    assert {a.item for a in sheet.asks} == {1, 2}


def test_a_listing_that_says_nothing_asks_for_the_vehicle_number() -> None:
    sheet = sheet_of(audit("hello"))
    assert [r.part for r in sheet.rows] == ["vehicle", "vehicle"]
    assert all(not c.entries for r in sheet.rows for c in r.cells)
    assert any("identification number" in a.text for a in sheet.asks)
