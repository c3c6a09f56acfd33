"""The numbers sheet alone, the inspection sheet and the dossier: what they hold, what they hide, and that paper cuts no row."""

import csv
import dataclasses
import io
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner, Result

from auditor import Audit, audit
from auditor.cli import DEMO, main
from auditor.inspection import AS_IT_STANDS, LOOK_ONLY, NUMBER, inspections
from auditor.render import dossier, inspection, numbers_sheet
from auditor.share import shared
from auditor.sheet import WITNESSES
from claims.pack import shipped_packs
from extractors.document import make_document
from extractors.intake import documents
from tests.bench import pictures
from tests.render_cases import HOSTILE, TWO

if TYPE_CHECKING:
    from playwright.sync_api import Browser

LISTINGS = Path(__file__).parent.parent / "fixtures" / "listings" / "carrier-from-the-dairy"
DEMO_LISTING = str(DEMO / "plate-says-1928.txt")
LONG = make_document(
    "Frame number 33Q 08450 B, " + "engine QE 11702, gearbox QGF07-112, load box HD 06120, fleet number NP-D 11804, " * 3 + "Frame 36Q 13283 T. " * 5,
    title="1928 Quillfeather " + "carrier " * 12, attributes={f"Frame number {n} of a form with a long name": f"33Q 0{7000 + n} X" for n in range(9)},
)  # fmt: skip


def demo() -> Audit:
    (document,) = documents(DEMO_LISTING)
    return audit(document, replies=["1. from the log book\n2. 33Q 08450 B"], notes=["Engine pad reads QE 11702."], strict=True)


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


def test_the_numbers_sheet_stands_alone_in_three_forms(tmp_path: Path) -> None:
    for form, sign in (("text", "still empty"), ("html", "<table"), ("csv", "machine,part,advert")):
        result = run("sheet", DEMO_LISTING, "--format", form)
        assert result.exit_code == 0
        assert sign in result.stdout
        assert "33Q 08450 B" in result.stdout
        named = tmp_path / f"sheet.{form.replace('text', 'txt')}"
        assert run("sheet", DEMO_LISTING, "-o", str(named)).exit_code == 0
        assert named.read_bytes().decode() == result.stdout.replace("\r\n", "\n") or form == "csv"


def test_the_csv_has_a_row_a_part_and_a_column_a_witness() -> None:
    result = demo()
    rows = list(csv.reader(io.StringIO(numbers_sheet.table(result))))
    assert rows[0] == ["machine", "part", *WITNESSES, "still empty"]
    cells = {row[1]: dict(zip(rows[0], row, strict=True)) for row in rows[1:]}
    assert cells["engine"]["own reading"].startswith("QE 11702 (")
    assert cells["frame"]["reply"].startswith("33Q 08450 B (")
    assert "photo" in cells["frame"]["still empty"]
    hostile = numbers_sheet.table(audit("1929 Quillfeather\n=cmd: x\nFrame: =36Q 13283 T\n\nDry."))
    assert all(not cell.startswith(("=", "+", "-", "@")) for row in csv.reader(io.StringIO(hostile)) for cell in row)


def test_days_come_from_mails_records_letters_and_on(tmp_path: Path) -> None:
    reply = tmp_path / "reply.eml"
    reply.write_bytes(b"From: a@x.example\nTo: b@x.example\nDate: Tue, 3 Nov 2026 10:00:00 +0000\nMessage-ID: <1>\n\nGearbox is QGF07-112.\n")
    notes = tmp_path / "notes.txt"
    notes.write_text("2026-11-09\nEngine pad reads QE 11702.\n", encoding="utf-8")
    result = run("sheet", DEMO_LISTING, "--on", "2026-10-30", "--reply", str(reply), "--notes", str(notes), "--format", "csv")
    cells = {row["part"]: row for row in csv.DictReader(io.StringIO(result.stdout))}
    assert "2026-10-30" in cells["frame"]["advert"]
    assert "2026-11-03" in cells["gearbox"]["reply"]
    assert "2026-11-09" in cells["engine"]["own reading"]
    record = tmp_path / "one.json"
    record.write_text('{"title": "1930 Quillfeather", "text": "Frame 33Q 07311 G.", "posted": "2026-05-01T10:00"}', encoding="utf-8")
    assert "2026-05-01" in run("sheet", str(record), "--on", "2026-10-30").stdout
    bad = run("sheet", DEMO_LISTING, "--on", "yesterday")
    assert (bad.exit_code, bad.stdout) == (2, "")


def test_a_sheet_is_kept_beside_its_listing_and_is_no_listing_itself(tmp_path: Path) -> None:
    folder = tmp_path / "carrier"
    folder.mkdir()
    shutil.copy(DEMO_LISTING, folder / "advert.txt")
    assert run("sheet", str(folder / "advert.txt"), "--keep").exit_code == 0
    assert (folder / "advert.numbers.html").is_file()
    assert run("sheet", str(folder), "--keep", "--format", "csv").exit_code == 0
    assert (tmp_path / "carrier.numbers.csv").is_file()
    assert len(list(documents(str(folder)))) == 1
    assert run("sheet", "-", "--keep").exit_code == 2


def test_the_inspection_sheet_walks_round_with_every_place_feature_and_mark() -> None:
    pack = next(p for p in shipped_packs() if p.id == "northmark_pattern5")
    (sheet,) = inspections(demo())
    looks = [look for station in sheet.stations for look in station.looks]
    assert {p.place for p in pack.places} <= {look.where for look in looks}
    assert {f.where for f in pack.features.values()} <= {look.where for look in looks}
    assert {m.looks_like for m in pack.marks} <= {c.words for look in looks for c in look.choices}
    frame = [look for look in looks if look.kind == NUMBER and look.part == "frame"]
    assert all("stamped" in look.how and "written like" in look.how for look in frame)
    assert [s.name for s in sheet.stations][-1].startswith("From below")
    rear = next(look for look in frame if "rear lug" in look.where)
    assert rear.choices[0].meaning == "Quillfeather Motor Works, 1931-05 to 1937-09"
    web = next(look for look in looks if look.what.startswith("frame: web"))
    assert web.choices[0].words == "square-webbed headstock"
    assert "1929-09" in web.choices[0].meaning


def test_the_inspection_sheet_always_warns_and_never_has_anything_altered() -> None:
    for listing in ("1930 Quillfeather\n\nFrame 33Q 07311 G.", "1948 tractor of a make that nobody knows\n\nRuns."):
        for made in (inspection.text(audit(listing), True), inspection.html(audit(listing), True)):
            words = " ".join(made.split())
            for said in (LOOK_ONLY, AS_IT_STANDS, "raking", "asbestos", "radium", "untested", "fuel"):
                assert said in words
            assert not re.search(r"(?i)(?<!no )(?<!not )\\b(?:grind|clean|polish|sand) (?:off|the|it)\\b", words)
    assert "number, each character" in inspection.html(audit("1948 tractor\n\nRuns."), True)


def test_a_shared_inspection_sheet_hides_the_ends_of_numbers() -> None:
    result = run("inspect", DEMO_LISTING, "--share")
    assert result.exit_code == 0
    assert "33Q 08450 B" not in result.stdout
    assert "33Q 084" in result.stdout


def test_private_rows_are_on_the_owners_sheet_alone() -> None:
    packs = [
        dataclasses.replace(
            p,
            places=tuple(dataclasses.replace(row, private="saddle lug" in row.place) for row in p.places),
            features={k: dataclasses.replace(f, private=k == "spring_leaves") for k, f in p.features.items()},
            marks=tuple(dataclasses.replace(m, private=m.mark == "horn") for m in p.marks),
            spans=tuple(dataclasses.replace(s, private=s.variant == "screwed_brass") for s in p.spans),
        )
        for p in shipped_packs()
        if p.id == "northmark_pattern5"
    ]
    result = audit("1930 Quillfeather\n\nFrame 33Q 07311 G.", packs)
    for made in (inspection.text, inspection.html):
        own, others = made(result, True), made(result, False)
        for words in ("flat pad on the saddle lug", "six-leaf", "figure 1 to 9"):
            assert words in own
            assert words not in others


def test_the_dossier_assembles_without_a_verdict(tmp_path: Path) -> None:
    made = tmp_path / "dossier"
    reply = tmp_path / "reply.txt"
    reply.write_text("1. from the log book\n2. no idea\n", encoding="utf-8")
    result = run("dossier", str(LISTINGS / "page.html"), "--reply", str(reply), "-o", str(made))
    assert result.exit_code == 0
    page = (made / "dossier.html").read_text(encoding="utf-8")
    assert page.count("data:image/png;base64,") == 2
    assert len(list((made / "photographs").iterdir())) == 2
    assert (made / "received" / "02-the-seller-s-reply.txt").read_text(encoding="utf-8").startswith("1. from the log book")
    assert (made / "numbers.csv").is_file()
    for heading in (
        "The numbers sheet",
        "What the tables read",
        "The account",
        "Photographs",
        "Questions and answers",
        "Open points",
        "Tables relied on",
    ):
        assert heading in page
    assert "Pattern 5 drawing register" in page
    assert "no idea" in page
    assert not re.search(r"contradiction|\bdoubt\b|Cannot both hold|probab", page)
    again = run("dossier", str(LISTINGS / "page.html"), "-o", str(made))
    assert (again.exit_code, again.stderr.count("\n")) == (2, 1)
    assert (made / "dossier.html").read_text(encoding="utf-8") == page


def test_further_pictures_join_the_dossier(tmp_path: Path) -> None:
    made = tmp_path / "dossier"
    assert run("dossier", DEMO_LISTING, str(LISTINGS / "folder" / "rear-lug.png"), str(LISTINGS / "page_files"), "-o", str(made)).exit_code == 0
    assert len(list((made / "photographs").iterdir())) >= 2
    assert run("dossier", DEMO_LISTING, DEMO_LISTING, "-o", str(tmp_path / "other")).exit_code == 2
    assert not (tmp_path / "other").exists()


def test_a_shared_dossier_holds_no_secret_and_no_picture(tmp_path: Path) -> None:
    made = tmp_path / "dossier"
    reply = tmp_path / "reply.txt"
    reply.write_text("The frame is 33Q 08450 B, ring me on 01632 960117.\n\nCheers\nBerthold Ames\n", encoding="utf-8")
    assert run("dossier", DEMO_LISTING, str(LISTINGS / "folder"), "--reply", str(reply), "--share", "-o", str(made)).exit_code == 0
    files = [p for p in made.rglob("*") if p.is_file()]
    assert not any("photographs" in p.parts for p in files)
    for path in files:
        text = path.read_text(encoding="utf-8")
        assert [s for s in ("08450", "8450", "960117", "Berthold", "Ames", "QE 11702") if s in text] == []
    assert re.search(r"\d+ photographs? not included", (made / "dossier.html").read_text(encoding="utf-8"))


@pytest.mark.parametrize("listing", [HOSTILE, TWO, "hello"], ids=["hostile", "two machines", "nothing"])
def test_sheets_take_any_listing_and_show_it_harmlessly(listing: str) -> None:
    result = audit(listing, replies=[HOSTILE], notes=[HOSTILE], strict=True)
    pages = [
        numbers_sheet.html(result),
        inspection.html(result, True),
        *(data.decode() for name, data in dossier.files(result) if name.endswith(".html")),
    ]
    for page in (*pages, numbers_sheet.text(result), inspection.text(result, True), inspection.text(shared(result), False)):
        assert page not in pages or ("<script" not in page and "<img src=x" not in page)
        assert "\x1b" not in page
        assert "\u202e" not in page


@pytest.fixture(scope="module")
def browser() -> "Iterator[Browser]":
    path, driver = shutil.which("chromium"), pytest.importorskip("playwright.sync_api")
    if not path or not shutil.which("pdftotext"):
        pytest.skip("needs chromium and pdftotext")
    with driver.sync_playwright() as running:
        launched = running.chromium.launch(executable_path=path, args=pictures.ARGUMENTS)
        yield launched
        launched.close()


def cut_rows(browser: "Browser", page: str, paper: str, landscape: bool, folder: Path) -> tuple[int, set[str]]:
    """(rows, those that stand on more than one sheet of paper): every cell is marked at its beginning and end, and the marks are looked for in the PDF."""
    count = 0

    def marked(row: "re.Match[str]") -> str:
        nonlocal count
        count += 1
        sign = f"<i style='font-size:3pt'>Zq{count}zq</i>"
        return re.sub(r"(<t[dh][^>]*>)(.*?)(</t[dh]>)", lambda m: f"{m[1]}{sign} {m[2]} {sign}{m[3]}", row[0], flags=re.DOTALL)

    head, body = page.split("<body>")
    body = re.sub(r"<tr>(?!<th scope=\"col\").*?</tr>", marked, body, flags=re.DOTALL)
    opened = browser.new_page()
    opened.set_content(f"{head}<body>{body}")
    pdf = folder / "sheet.pdf"
    opened.pdf(path=str(pdf), format=paper, landscape=landscape, margin=dict.fromkeys(("top", "right", "bottom", "left"), "12mm"))
    opened.close()
    text = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    where: dict[str, set[int]] = {}
    for number, sheet in enumerate(text.split("\f")):
        for sign in re.findall(r"Zq(\d+)zq", sheet):
            where.setdefault(sign, set()).add(number)
    assert len(where) == count
    return count, {sign for sign, pages in where.items() if len(pages) > 1}


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", ["numbers", "inspection", "dossier", "long numbers", "long dossier"])
def test_no_row_is_cut_on_paper(browser: "Browser", tmp_path: Path, name: str, paper: str) -> None:
    result = audit(LONG, strict=True) if name.startswith("long") else demo()
    page = {
        "numbers": numbers_sheet.html, "inspection": lambda a: inspection.html(a, True), "dossier": lambda a: dict(dossier.files(a))["dossier.html"].decode(),
    }[name.removeprefix("long ")](result)  # fmt: skip
    rows, cut = cut_rows(browser, page, paper, "numbers" in name, tmp_path)
    assert rows >= 4
    assert not cut


def test_the_measure_sees_a_cut_row(browser: "Browser", tmp_path: Path) -> None:
    page = inspection.html(demo(), True).replace("break-inside: avoid", "break-inside: auto")
    rows, cut = cut_rows(browser, page, "A4", False, tmp_path)
    assert rows >= 40
    assert cut
