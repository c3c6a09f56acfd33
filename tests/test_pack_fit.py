"""Dated sightings to a dating table: published examples, sightings that do not fit, and truth that is known."""

import csv
import io
import random
from itertools import pairwise
from pathlib import Path

import pytest
from click.testing import CliRunner

from auditor.cli import main
from auditor.keeper.fit import Fitted, fitted
from auditor.keeper.table import Row
from claims.pack import Pack, shipped_packs
from claims.standards import edtf
from tests.bench.fit import drawn, sail_numbers

FERGUSON = """serial,seen as,source
6,1946,Newark Advertiser (show report)
315,1946,Newark Advertiser (show report)
883,1947,Ferguson Club register
18478,1947,Ferguson Club register
24114,early 1948,greyfergy.tripod.com
78000,1949,fergusontractors.org
172598,1951,greyfergy.tripod.com
"""
"""Single dated numbers of the Ferguson TE20, each with the publisher named beside it (facts: ferguson_te20/anchors.csv)."""
PLANNED = """number;planned for
38;1967-07-10
399;1967-07-13
1609;1967-07-14
1769;1967-08-07
15014;1967-08-31
15250;1967-09-01
30504;1967-09-29
30535;1967-10-09
42143;1967-10-31
42302;1967-11-01
59185;1967-11-30
59432;1967-12-01
72378;1967-12-22
72502;1968-01-02
"""
"""Volkswagen Type 2, model year 1968: planned dates of single numbers (facts: vw_beetle_type2/numbers.csv, its source S2)."""
PLANNED_MONTHS = [(1, 1609, "1967-07"), (1610, 15249, "1967-08"), (15250, 30534, "1967-09"), (30535, 42301, "1967-10"),
                  (42302, 59431, "1967-11"), (59432, 72501, "1967-12")]  # fmt: skip
"""The months that the same page gives for the numbers between (the same file, rows "by rule")."""


def pack(name: str) -> Pack:
    return next(p for p in shipped_packs() if p.id == name)


def fit(folder: Path, text: str, *arguments: str) -> tuple[list[dict[str, str]], str]:
    path = folder / "seen.csv"
    path.write_text(text, encoding="utf-8")
    result = CliRunner().invoke(main, ["pack", "fit", str(path), *arguments])
    assert result.exit_code == 0, result.stderr
    return list(csv.DictReader(io.StringIO(result.stdout))), result.stderr


def meets(row: dict[str, str], period: str) -> bool:
    one, other = edtf.decode(row["period"]), edtf.decode(period)
    return one.first <= other.last and other.first <= one.last


def test_the_published_anchors_of_a_tractor_give_years_that_agree_with_the_published_table(tmp_path: Path) -> None:
    """Table: Harry Ferguson Tractor Club Australia, technical page (facts: ferguson_te20.csv), another source than the sightings."""
    rows, _ = fit(tmp_path, FERGUSON)
    table = [r for r in pack("ferguson_te20").dated("numbers") if r.first <= 172598]
    assert [(r["first"], r["last"], r["period"]) for r in rows[:3]] == [("6", "315", "1946"), ("316", "882", "1946/1947"), ("883", "18478", "1947")]
    for row in rows:
        first, last = int(row["first"]), int(row["last"])
        for published in (r for r in table if r.first <= last and first <= r.last):
            assert meets(row, str(published.period)), (row, published)


def test_a_published_anchor_that_is_put_years_off_is_named_and_left_out(tmp_path: Path) -> None:
    rows, told = fit(tmp_path, FERGUSON.replace("24114,early 1948", "24114,1954"))
    assert "line 6: 24114 of 1954 (greyfergy.tripod.com) does not fit the others and was left out" in told
    assert told.count("does not fit") == 1
    assert next(r["period"] for r in rows if int(r["first"]) <= 24114 <= int(r["last"])) == "1947/1949"


def test_planned_dates_give_the_published_months(tmp_path: Path) -> None:
    rows, told = fit(tmp_path, PLANNED)
    assert "does not fit" not in told
    for first, last, month in PLANNED_MONTHS:
        for row in rows:
            if int(row["first"]) <= last and first <= int(row["last"]):
                assert meets(row, month), (row, month)
    exact = [r for r in rows if "/" not in r["period"]]
    assert [r["period"] for r in exact if int(r["last"]) > int(r["first"])] == [f"1967-{m:02d}" for m in (7, 8, 9, 10, 11, 12)]


def test_each_planned_number_left_out_lies_in_the_interval_of_the_others(tmp_path: Path) -> None:
    lines = PLANNED.splitlines()
    for n in range(2, len(lines) - 1):
        number, _, date = lines[n].partition(";")
        rows, _ = fit(tmp_path, "\n".join(lines[:n] + lines[n + 1 :]))
        (row,) = (r for r in rows if int(r["first"]) <= int(number) <= int(r["last"]))
        assert meets(row, date[:7]), (number, date, row)


@pytest.mark.parametrize(("count", "late", "wrong"), [(60, 0.0, 0.0), (200, 0.2, 0.0), (200, 0.2, 0.05)])
def test_sightings_drawn_from_a_published_table_are_fitted_back(count: int, late: float, wrong: float) -> None:
    """Truth: the class's own list of sail numbers (laserinternational.org, facts: laser_dinghy); sightings drawn with a fixed seed.

    `late` is the share dated a year too late (sold or registered later), `wrong` the share dated years off. The interval
    is one of nine tenths; with late ones all on one side it held 94 to 96 of a hundred numbers, asked for here are 90.
    """
    table = sail_numbers()
    rng = random.Random(19)
    held = tried = 0
    for _ in range(4):
        seen, bad = drawn(rng, table, count, late, wrong)
        result = fitted(seen)
        named = {o.line for o in result.outliers}
        assert len(named & bad) >= 0.9 * len(bad)
        assert len(named - bad) <= 0.02 * count
        for row in result.made.rows:
            for true in (r for r in table if r.first <= _middle(row) <= r.last):
                span = edtf.decode(row.period.text)
                held += span.first <= true.period.span.last and true.period.span.first <= span.last
                tried += 1
        assert _runs_on(result)
    assert tried > 100
    assert held / tried >= (0.99 if not late else 0.9), "two rows of the list overlap by ten numbers"


def _middle(row: Row) -> int:
    assert row.first is not None
    assert row.last is not None
    return (row.first + row.last) // 2


def _runs_on(result: Fitted) -> bool:
    """Whether the rows follow each other without gap or overlap, and never back in time."""
    rows = result.made.rows
    spans = [edtf.decode(r.period.text) for r in rows]
    follow = all((a.last or 0) + 1 == b.first for a, b in pairwise(rows))
    return follow and all(a.first <= b.first and a.last <= b.last for a, b in pairwise(spans))


def test_a_fitted_table_goes_into_a_pack(tmp_path: Path, own_packs: Path) -> None:
    run = CliRunner().invoke
    run(main, ["pack", "new", "tractor", "--maker", "Tollmer", "--part", "frame"])
    path = tmp_path / "seen.csv"
    path.write_text(FERGUSON, encoding="utf-8")
    made = run(main, ["pack", "fit", str(path), "--into", "tractor"])
    assert made.exit_code == 0, made.stderr
    assert run(main, ["pack", "check", "tractor"]).exit_code == 0


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("number,date\n1,1931\n2,1932\n", "2 dated sightings; a fit needs from 4"),
        ("number,date\nA 1,1931\nB 2,1932\nA 3,1933\nA 4,1934\n", "several runs (A, B)"),
        ("number,date\n1,1931\n2,soon\n3,1932\n4,1933\n5,1934\n6,1935\n", "line 3: no date that can be read"),
        ("number,date\n1,3/4/1956\n2,5/6/1956\n3,5/7/1956\n4,5/8/1956\n", "(--dates)"),
    ],
)
def test_what_cannot_be_fitted_is_said_in_one_line(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "seen.csv"
    path.write_text(text, encoding="utf-8")
    result = CliRunner().invoke(main, ["pack", "fit", str(path)])
    assert (result.exit_code, said in result.stderr) == (2, True), result.stderr
    assert len(result.stderr.splitlines()) == 1
