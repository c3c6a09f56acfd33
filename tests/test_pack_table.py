"""Spreadsheets of many forms to a pack's table; everything in them is invented."""

import csv
import datetime
import io
import os
import pty
import subprocess
import sys
import zipfile
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from auditor.cli import main
from auditor.keeper import cells
from auditor.keeper.cell_values import number, number_range, when

ROOT = Path(__file__).parents[1]
YEAR = ["--period-kind", "calendar year"]
SHEETS: dict[str, tuple[bytes, list[str], list[tuple[int, int, str]]]] = {
    "first numbers only": (b"Year,Serial\n1946,101\n1947,2310\n1948,9050\n", [*YEAR, "--last-number", "9999"], [(101, 2309, "1946"), (2310, 9049, "1947"), (9050, 9999, "1948")]),
    "no end known": (b"Year,Serial\n1946,101\n1947,2310\n", [*YEAR, "--last-number", "none"], [(101, 2309, "1946"), (2310, 2310, "1947")]),
    "last numbers only": (b"Year;Last no.\n1946;400\n1947;900\n", YEAR, [(400, 400, "1946"), (401, 900, "1947")]),
    "German, Windows letters, points in the numbers, a title above": (
        "Liste der Händler;;\n;;\nBaujahr;Fahrgestellnummer von;bis\n1951;1.001;2.410\n1952;2.411;bis heute\n".encode("cp1252"), [*YEAR, "--last-number", "4000"],
        [(1001, 2410, "1951"), (2411, 4000, "1952")],
    ),
    "UTF-16 with tabs, seasons, blank rows, letters": (
        b"\xff\xfe" + "Model\tFirst no.\tLast no.\tSeason\nT2\tDU 101\tDU 5,824\t1963\n\nT2\tDU 5,825\tDU 13,374\t1964\n".encode("utf-16-le"), [],
        [(101, 5824, "1963"), (5825, 13374, "1964")],
    ),
    "first and last in one cell, months in words": (
        "Numbers issued,When\n101 – 899,Jan 1931\n900 to 1 450,February 1931\n1451-2000,Mar. 1931\n".encode(), [], [(101, 899, "1931-01"), (900, 1450, "1931-02"), (1451, 2000, "1931-03")]
    ),
    "columns in another order, a count beside them": (
        b"Last number,First number,Built,Model year\n3000,1001,2000,1960\n4500,3001,1500,1961\n", [], [(1001, 3000, "1960"), (3001, 4500, "1961")]
    ),
    "no head at all": (b"1931,100,199\n1932,200,299\n", YEAR, [(100, 199, "1931"), (200, 299, "1932")]),
    "columns of plain text": (b"Serial   Year\n1001     1931\n2100     1932\n", [*YEAR, "--last-number", "2500"], [(1001, 2099, "1931"), (2100, 2500, "1932")]),
    "American dates": (b"date;frame no\n3/4/1956;1001\n5/1/1956;1240\n", ["--dates", "month-first", "--last-number", "1300"], [(1001, 1239, "1956-03"), (1240, 1300, "1956-05")]),
    "a year letter before a run that goes on, pairs of years": (
        b"Letter,First,Season\nA,2131,1946/47\nB,7756,1947/48\n", ["--last-number", "13791"], [(2131, 7755, "1947"), (7756, 13791, "1948")]
    ),
    "years as spans in two columns": (b"from date,to date,first,last\n1931-01,1931-06,1,500\n1931-07,1932-03,501,900\n", [], [(1, 500, "1931-01/1931-06"), (501, 900, "1931-07/1932-03")]),
    "French, apostrophes, an open end in words": (
        "Année;du numéro;au numéro\n1950;1’001;2’000\n1951;2’001;fin\n".encode(), [*YEAR, "--last-number", "2999"], [(1001, 2000, "1950"), (2001, 2999, "1951")]
    ),
    "footnote marks, a total, a row without numbers": (
        "Yr.,Starting serial (approx.),Comment\n1946*,1,\n1947,316,see (a)\n1948†,\"20,895\",\n1949 ,,\nTotal,99999,\n".encode(), [*YEAR, "--last-number", "30000"],
        [(1, 315, "1946"), (316, 20894, "1947"), (20895, 30000, "1948")],
    ),
    "years side by side": (b"Year,1946,1947\nFirst,1,316\nLast,315,20894\n", YEAR, [(1, 315, "1946"), (316, 20894, "1947")]),
    "quarters, a stroke in the range": (b"Period;Nos.\nQ1 1931;1/100\nQ2 1931;101/220\n", [], [(1, 100, "1931-01/1931-03"), (101, 220, "1931-04/1931-06")]),
    "the latest first": (b"date,number\n1949,77773\n1948,20895\n", [*YEAR, "--last-number", "80000"], [(20895, 77772, "1948"), (77773, 80000, "1949")]),
}  # fmt: skip


def table(folder: Path, data: bytes, *arguments: str, name: str = "sheet.csv") -> Result:
    path = folder / name
    path.write_bytes(data)
    return CliRunner().invoke(main, ["pack", "table", str(path), *arguments])


def rows(result: Result) -> list[tuple[int, int, str]]:
    return [(int(r["first"]), int(r["last"]), r["period"]) for r in csv.DictReader(io.StringIO(result.stdout))]


@pytest.mark.parametrize("form", SHEETS)
def test_a_spreadsheet_of_this_form_is_read(tmp_path: Path, form: str) -> None:
    data, arguments, expected = SHEETS[form]
    result = table(tmp_path, data, *arguments)
    assert result.exit_code == 0, result.stderr
    assert rows(result) == expected


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"Year,Serial\n1946,101\n1947,2310\n", "(--period-kind); line 3, 1947 from 2310: what is the last number"),
        (b"date;frame no\n3/4/1956;1001\n5/1/1956;1240\n", "does the day or the month come first"),
        (b"Year,Nr\n1950,KA 100\n1951,KA 900\n1950,KB 100\n1951,KB 700\n", "each prefix its own run"),
        (b"a,b,c,d\n1950,1946,5,1947\n1951,1948,9,1949\n", "which column holds the year or date"),
    ],
)
def test_what_cannot_be_seen_is_asked_with_its_option(tmp_path: Path, data: bytes, said: str) -> None:
    result = table(tmp_path, data)
    assert result.exit_code == 2
    assert said in result.stderr
    assert result.stdout == ""


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"year,first,last\n1946,20,895,77,772\n1947,77,773,99,001\n", "line 2 has 5 cells under a head of 3"),
        (b"name,phone\nSmith,12\n", "no row with a number and a year beside each other"),
        (
            b"Year,From,To\n1931,100,199\n1932,2OO,299\n1934,approx 400,499\n1935,500,599\n",
            "line 3: '2OO' is no number; line 4: 'approx 400' is no number",
        ),
        (b"Last,First,Model year\n3000,1001,1960\n4400,4501,1961\n", "line 3: the range runs backwards (4501 to 4400)"),
        (b"\x89PNG\r\n\x1a\n\0\0\0", "is neither text nor a workbook"),
        (b"", "there is nothing in it"),
        (b"Year,Serial\nsoon,7\n1931,5\n1932,9\n1933,12\n", "line 2: 'soon' is no year or date"),
    ],
)
def test_what_is_broken_is_named_by_line(tmp_path: Path, data: bytes, said: str) -> None:
    result = table(tmp_path, data, *YEAR)
    assert result.exit_code == 2
    assert said in result.stderr
    assert len(result.stderr.splitlines()) == 1


def test_a_huge_file_is_refused_in_one_line(tmp_path: Path) -> None:
    result = table(tmp_path, b"1931,5\n" * 3_000_000)
    assert (result.exit_code, result.stderr.strip()) == (2, "auditor: sheet.csv: larger than 20 MB; cut it to the table")


def test_a_workbook_with_dates_titles_and_a_head_of_two_rows(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Numbers"
    for row in (["Works list"], [], ["Date", "Frame number", "", "Source"], ["", "from", "to", ""]):
        sheet.append(row)
    for month, first, last in ((1, 1001, 1400), (2, 1401, 1890)):
        sheet.append([datetime.date(1931, month, 1), first, last, "ledger"])
    path = tmp_path / "book.xlsx"
    book.save(path)
    result = CliRunner().invoke(main, ["pack", "table", str(path)])
    assert rows(result) == [(1001, 1400, "1931-01"), (1401, 1890, "1931-02")]
    assert "source: Source" in result.stderr
    book.create_sheet("Engines").append(["Year", "First"])
    book.save(path)
    asked = CliRunner().invoke(main, ["pack", "table", str(path)])
    assert (asked.exit_code, "which sheet: Numbers, Engines? (--sheet)" in asked.stderr) == (2, True)
    assert CliRunner().invoke(main, ["pack", "table", str(path), "--sheet", "Numbers"]).exit_code == 0
    path.write_bytes(path.read_bytes()[:100])
    cut = CliRunner().invoke(main, ["pack", "table", str(path)])
    assert (cut.exit_code, "is no workbook that can be read" in cut.stderr) == (2, True)


def test_a_workbook_that_unpacks_to_very_much_is_not_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cells, "LARGEST_UNPACKED", 1_000_000)
    path = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", b"0" * 2_000_000)
    result = CliRunner().invoke(main, ["pack", "table", str(path)])
    assert (result.exit_code, "unpacks to more than" in result.stderr) == (2, True)
    assert path.stat().st_size < 10_000


def test_columns_can_be_named_by_heading_letter_or_place(tmp_path: Path) -> None:
    data = b"a,b,c,d\n1950,1946,1947,5\n1951,1948,1949,9\n"
    for names in (("a", "b", "c"), ("A", "B", "C"), ("1", "2", "3")):
        result = table(tmp_path, data, *YEAR, "--period", names[0], "--first", names[1], "--last", names[2])
        assert rows(result) == [(1946, 1947, "1950"), (1948, 1949, "1951")], result.stderr
    assert "no column 'gone'; there are a, b, c, d" in table(tmp_path, data, "--period", "gone").stderr


def test_into_a_pack_with_sources_letters_and_models(tmp_path: Path, own_packs: Path) -> None:
    run = CliRunner().invoke
    assert run(main, ["pack", "new", "tollmer", "--maker", "Tollmer", "--part", "frame", "--standing", "invented"]).exit_code == 0
    data = b"Type,Year,Start,End,Ref\nLong,1931,TL 100,TL 500,ledger\nLong,1932,TL 501,TL 900,ledger\nShort,1931,TS 100,TS 300,letter\n"
    made = table(tmp_path, data, "--into", "tollmer", *YEAR)
    assert made.exit_code == 0, made.stderr
    checked = run(main, ["pack", "check", "tollmer"])
    assert checked.exit_code == 0, checked.stdout
    listing = tmp_path / "advert.txt"
    listing.write_text("1936 Tollmer Long\nYear: 1936\n\nTollmer Long, frame number TL 600.\n")
    assert "TL 600 dates to 1932" in run(main, ["check", str(listing)]).stdout
    again = table(tmp_path, data, "--into", "tollmer", *YEAR)
    assert (again.exit_code, "is there already; --replace writes it anew" in again.stderr) == (2, True)
    assert table(tmp_path, data, "--into", "tollmer", "--replace", *YEAR).exit_code == 0
    assert run(main, ["pack", "check", "tollmer"]).exit_code == 0
    for name in ("../evil", "scheme", "a/b"):
        assert table(tmp_path, data, "--into", "tollmer", "--table", name, *YEAR).exit_code == 2


def test_a_skeleton_is_sound_and_never_overwrites(own_packs: Path) -> None:
    run = CliRunner().invoke
    assert run(main, ["pack", "new", "plain"]).exit_code == 0
    assert run(main, ["pack", "check", "plain"]).exit_code == 0
    assert (own_packs / "plain" / "pack.toml").read_text(encoding="utf-8").startswith("#:schema ../pack.schema.json\n")
    assert (own_packs / "pack.schema.json").is_file()
    again = run(main, ["pack", "new", "plain"])
    assert (again.exit_code, "is there already; nothing was changed" in again.stderr) == (2, True)
    assert run(main, ["pack", "new", "../evil"]).exit_code == 2
    assert run(main, ["pack", "new", "more", "--extends", "triumph_twins", "--title", 'the "blue" book']).exit_code == 0
    assert run(main, ["pack", "check", "more"]).exit_code == 0


def test_cells_are_never_guessed_at() -> None:
    for text in ("2OO", "approx 400", "1.5", "12/7", "x", "", "1,00,000", "12,34"):
        assert number(text) is None, text
    assert number("No. 20,895") == number("20895")
    assert [number_range(t) for t in ("GHN3-101", "12 345", "1946")] == [None, None, None]
    for text in ("13/1956", "1956-13-01", "0", "193", "1946-1940", "31.12", "yesterday", "32 May 19"):
        assert when(text) is None, text


CELLS = st.sampled_from(
    ["", "1931", "1932", "TM 100", "1,234", "1.234", "Year", "First", "Last", "-", "on", "12-20", "Jan 1931", "3/4/1931", "1931/32", "\x00", "é", "9" * 30, '"', "200 to 300"]
)  # fmt: skip


@given(st.lists(st.lists(CELLS, max_size=5), max_size=8), st.sampled_from(",;\t|"))
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_spreadsheet_breaks_the_command(tmp_path: Path, written: list[list[str]], separator: str) -> None:
    result = table(tmp_path, "\n".join(separator.join(row) for row in written).encode(), *YEAR, "--last-number", "none")
    assert result.exit_code in {0, 2}, result.exception
    assert result.exit_code == 0 or len(result.stderr.splitlines()) == 1
    for first, last, _ in rows(result) if result.exit_code == 0 else ():
        assert first <= last


def test_on_a_terminal_it_asks(tmp_path: Path) -> None:
    """A real terminal: the questions come one by one, and the table is made of the answers."""
    (tmp_path / "sheet.csv").write_text("Year,Serial\n1946,101\n1947,2310\n")
    ours, theirs = pty.openpty()
    command = [sys.executable, "-c", "from auditor.cli import main; main()", "pack", "table", "sheet.csv"]
    with subprocess.Popen(
        command, stdin=theirs, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=tmp_path, env=os.environ | {"PYTHONPATH": str(ROOT)}
    ) as process:
        os.write(ours, b"yearly\nmodel year\n2999\n")
        told, asked = process.communicate(timeout=60)
    os.close(ours)
    os.close(theirs)
    assert b"what does 1946 mean" in asked
    assert b"what is the last number" in asked
    assert told.decode().splitlines()[1:] == ["101,2309,1946,model year,,last computed from the next first", "2310,2999,1947,model year,,"]
