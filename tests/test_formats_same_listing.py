"""The same demo listing as text, record, saved page, web archive, mail and folder gives the same claims and findings."""

import quopri
from collections import Counter
from pathlib import Path

import pytest

from auditor import Audit, audit
from extractors import Document
from extractors.intake import documents

LISTINGS = Path(__file__).parent.parent / "fixtures" / "listings"
FORMS = ("record.json", "page.html", "page.mhtml", "mail.eml", "folder")
CLAIMS = {
    ("year", "vehicle", "1928"), ("maker", "vehicle", "Quillfeather Motor Works"), ("model", "vehicle", "QF-5"),
    ("number", "frame", "33Q09488P"), ("number", "engine", "QE12731"), ("built", "vehicle", "1928"), ("built", "frame", "1932-01"),
    ("feature", "gearbox", "change_gate=enclosed"),
}  # fmt: skip
"""What stands in the demo listing, by the world's tables: frame 33Q 09488 P and engine QE 12731 are of January 1932."""


def read(slug: str, form: str) -> Document:
    (found,) = documents(str(LISTINGS / slug / form))
    return found


def claims(result: Audit) -> Counter[tuple[object, ...]]:
    return Counter((c.kind, c.part, c.value, c.stance, c.basis, c.item) for c in result.claims)


def findings(result: Audit) -> Counter[tuple[str, str, str]]:
    return Counter((f.name, f.grade, f.part) for f in result.findings)


@pytest.mark.parametrize("slug", sorted(p.name for p in LISTINGS.iterdir() if (p / "page.html").exists()))
@pytest.mark.parametrize("form", FORMS)
def test_every_form_gives_the_same_claims_and_findings(slug: str, form: str) -> None:
    plain, other = audit(read(slug, "listing.txt"), strict=True), audit(read(slug, form), strict=True)
    assert claims(other) == claims(plain)
    assert findings(other) == findings(plain)
    assert other.document.title == plain.document.title
    assert other.document.text == plain.document.text


def test_the_planted_contradiction_is_found() -> None:
    result = audit(read("carrier-from-the-dairy", "listing.txt"), strict=True)
    assert {(c.kind, c.part, c.value) for c in result.claims} >= CLAIMS
    assert ("number_dates_another_year", "contradiction", "frame") in findings(result)
    assert ("feature_out_of_place", "doubt", "gearbox") in findings(result)


@pytest.mark.parametrize(
    ("form", "names"),
    [
        ("page.html", ["rear lug.png", "gate.png"]), ("page.mhtml", ["rear-lug.png", "gate.png"]),
        ("mail.eml", ["rear-lug.png"]), ("folder", ["rear-lug.png"]),
    ],
)  # fmt: skip
def test_pictures_of_the_listing_and_no_others(form: str, names: list[str]) -> None:
    found = read("carrier-from-the-dairy", form).photos
    assert [p.name for p in found] == names
    assert found[0].sha256 == read("carrier-from-the-dairy", "folder").photos[0].sha256
    assert found[0].size == (LISTINGS / "carrier-from-the-dairy" / "folder" / "rear-lug.png").stat().st_size


def test_the_web_archive_holds_the_saved_page() -> None:
    folder = LISTINGS / "carrier-from-the-dairy"
    archived = quopri.decodestring((folder / "page.mhtml").read_bytes()).decode("utf-8", "replace")
    assert all(line in archived for line in (folder / "page.html").read_text(encoding="utf-8").split("\n") if "img" not in line)


def test_fields_of_a_page_keep_their_place_and_can_be_quoted() -> None:
    document = read("carrier-from-the-dairy", "page.html")
    assert all(f.locator for f in document.fields)
    frame = document.field("attributes.Frame no.")
    assert frame is not None
    assert frame.locator == "html/body/div[2]/article/dl/dd"
    start = document.text.index("QE 12731")
    assert document.quote("text", start, start + 8).text == "QE 12731"


def test_no_word_of_the_page_around_the_listing_comes_in() -> None:
    document = read("carrier-from-the-dairy", "page.html")
    everything = "\n".join(f.text for f in document.fields)
    for word in ("Ostrander", "OP31", "1931", "1933", "1934", "1998", "Merrowick", "biscuits", "16010"):
        assert word not in everything
