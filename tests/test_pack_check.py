"""The full check of a pack: every fault with file, line and key, and the oddities of its tables."""

import json
import tomllib
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from auditor.cli import main
from claims.pack import SHIPPED, shipped_packs
from claims.pack_check import check_pack
from claims.pack_model import json_schema
from tests.keeper_cases import EXAMPLES, HEAD, NUMBERS, SCHEME, write_pack

SHIPPED_FOLDERS = sorted(f.parent for f in SHIPPED.glob("*/pack.toml"))


def problems(folder: Path) -> list[str]:
    return [str(p) for p in sorted(check_pack(folder, shipped_packs())[1].problems)]


def test_a_sound_pack_has_no_problem(tmp_path: Path) -> None:
    folder = write_pack(tmp_path)
    pack, files = check_pack(folder, shipped_packs())
    assert files.problems == []
    assert pack is not None
    assert pack.is_own


def test_all_faults_are_named_at_once_with_file_line_and_key(tmp_path: Path) -> None:
    toml = (
        'colour = "red"\n' + HEAD.replace('"invented"\n[[name]]', '"sure"\n[[name]]') + SCHEME.replace("{3,5})", "{3,5}").replace("tables", "tabels")
    )
    toml += '[[part]]\nname = "gearbox"\nexchange = "hardly"\n'
    found = problems(write_pack(tmp_path, toml=toml, numbers="first,last,period\n1,x,1931\n9,5,1932\n10,20,193B\n30,40\n"))
    for start in (
        "pack.toml line 1: colour: no key of that name",
        "pack.toml line 8: standing: 'sure' is none of",
        "pack.toml line 24: decode.serial.tabels: no key of that name",
        "pack.toml line 25: part: is missing",
        "pack.toml line 27: exchange: 'hardly' is none of",
        "numbers.csv line 5: 2 cells under 3 columns",
    ):
        assert any(p.startswith(start) for p in found), (start, found)


def test_rows_of_a_table_are_checked_one_by_one(tmp_path: Path) -> None:
    numbers = "first,last,period,source_id\n1,x,1931,S1\n9,5,1932,S1\n10,20,193B,S1\n30,40,1933,S7\n,50,1934,S1\n"
    assert problems(write_pack(tmp_path, numbers=numbers)) == [
        "numbers.csv line 2: last: 'x' is not a whole number; write figures only",
        "numbers.csv line 3: last: the range runs backwards: 9 to 5",
        "numbers.csv line 4: period: '193B' is no date; write 1956, 1956-03 or 1956/1958",
        "numbers.csv line 5: source_id: no [[source]] has the source_id 'S7'",
        "numbers.csv line 6: first: is missing",
    ]


def test_rows_without_source_and_keys_that_point_at_nothing(tmp_path: Path) -> None:
    toml = HEAD.replace('default_source = "S1"\n', "") + '[[variant]]\nfeature = "gone"\nvariant = "a"\nwords = ["x"]\n'
    found = problems(write_pack(tmp_path, toml=toml, numbers="a,b\n"))
    assert "pack.toml line 7: source_id: the row has no source, and the pack no default_source" in found
    assert "pack.toml line 14: feature: there is no feature 'gone'" in found


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("(?P<serial>\\d{3,5})", "(?=x)"), "numbers: pattern: "),
        (("\\d{3,5}", "(\\\\pL{9}){9}{9}"), "numbers: pattern: "),
        (('"TM 1001"', '"QQ 1"'), "numbers: written_like: 'QQ 1' does not fit its own pattern"),
        (('["numbers"]', '["numbers", "gone"]'), "numbers: decode.serial: there is no table gone.csv"),
        (('["numbers"]', '["../../secret"]'), "numbers: decode.serial: there is no table ../../secret.csv"),
        (('"range"', '"eval"'), "decode.serial.decoder: 'eval' is none of"),
        (("decode.serial", "decode.number"), "numbers: decode.number: the pattern has no group named 'number'"),
    ],
)
def test_forms_of_number(tmp_path: Path, change: tuple[str, str], said: str) -> None:
    found = problems(write_pack(tmp_path, toml=HEAD + SCHEME.replace(*change) + EXAMPLES))
    assert any(said in p for p in found), found


def test_gaps_overlaps_and_runs_backwards_are_remarks(tmp_path: Path) -> None:
    rows = "first,last,period,source_id\n1001,1400,1931-01,S1\n1500,1900,1931-02,S1\n1850,2100,1931-06,S1\n2101,2600,1931-04,S1\n"
    pack, files = check_pack(write_pack(tmp_path, toml=HEAD + SCHEME + EXAMPLES.replace('"1931"', '"1931-01"'), numbers=rows), shipped_packs())
    assert pack is not None
    assert [(p.line, p.key) for p in sorted(files.problems)] == [(3, "gap"), (4, "overlap"), (5, "backwards")]
    turned = rows.replace("source_id\n", "source_id,turn\n").replace(",S1\n", ",S1,0\n").replace("1931-04,S1,0", "1931-04,S1,1")
    again = check_pack(write_pack(tmp_path, "turned", HEAD + SCHEME + EXAMPLES.replace('"1931"', '"1931-01"'), numbers=turned), shipped_packs())[1]
    assert "backwards" in {p.key for p in again.problems}, "a turn alone does not make time run back"


def test_a_roll_over_with_a_turn_is_nothing_odd(tmp_path: Path) -> None:
    rows = "first,last,period,turn,source_id\n1001,9999,1931-01,0,S1\n101,900,1931-02,1,S1\n"
    toml = HEAD + SCHEME + EXAMPLES.replace('"1931"', '"1931-01"').replace("TM 9000", "TM 99")
    assert problems(write_pack(tmp_path, toml=toml, numbers=rows)) == []


def test_a_failing_example_keeps_a_pack_out(tmp_path: Path) -> None:
    folder = write_pack(tmp_path, toml=HEAD + SCHEME + EXAMPLES.replace("TM 9000", "TM 1500").replace('["1931"]', '["1932"]'))
    assert check_pack(folder, shipped_packs())[0] is None
    assert problems(folder) == [
        "pack.toml line 24: example known: TM 1200 decodes to 1931 by numbers, not to 1932",
        "pack.toml line 30: example too high: TM 1500 should fail, but decodes to 1931 by numbers",
    ]


def test_what_is_hostile_is_refused_in_one_line(tmp_path: Path) -> None:
    huge = write_pack(tmp_path, "huge", numbers="first,last,period\n" + "1,2,1931\n" * 1_200_000)
    assert problems(huge)[0].startswith("numbers.csv: is larger than 10 MB")
    many = write_pack(tmp_path, "many", numbers="first,last,period\n" + "1,2,1931\n" * 60_000)
    assert any("more than 50000 rows" in p for p in problems(many))
    deep = write_pack(tmp_path, "deep", toml="a = " + "[" * 100_000)
    assert len(problems(deep)) < 5
    outside = write_pack(tmp_path, "outside")
    (tmp_path / "secret.csv").write_text("first\n")
    (outside / "linked.csv").symlink_to(tmp_path / "secret.csv")
    assert any("lies outside the pack's folder" in p for p in problems(outside))
    latin = write_pack(tmp_path, "latin")
    (latin / "numbers.csv").write_bytes(NUMBERS.encode() + b"1,2,1931,\xe9\n")
    assert "numbers.csv line 4: is not UTF-8; save it as UTF-8" in problems(latin)


def test_the_command_shows_problems_coverage_and_a_picture(tmp_path: Path) -> None:
    folder = write_pack(tmp_path)
    shown = CliRunner().invoke(main, ["pack", "check", str(folder)])
    assert shown.exit_code == 0
    assert "numbers  2     1001–2999  1931–1932  1        2 invented" in shown.stdout
    page = (folder / "number-lines.html").read_text(encoding="utf-8")
    assert page.count('class="row') == 2
    assert "1001 to 1999: 1931" in page
    faulty = write_pack(tmp_path, "faulty", toml="colour = 1\n" + HEAD)
    again = CliRunner().invoke(main, ["pack", "check", str(faulty)])
    assert again.exit_code == 1
    assert "pack.toml line 1: colour: no key of that name" in again.stdout
    assert CliRunner().invoke(main, ["pack", "check", str(tmp_path / "gone")]).exit_code == 2


@pytest.mark.parametrize("folder", SHIPPED_FOLDERS, ids=lambda f: f.name)
def test_every_shipped_pack_fits_the_schema_that_editors_use(folder: Path) -> None:
    data = tomllib.loads((folder / "pack.toml").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(json_schema()).validate(json.loads(json.dumps(data, default=str)))


def test_the_schema_refuses_what_the_check_refuses() -> None:
    bad = tomllib.loads(HEAD + '[[part]]\npart = "x"\nname = "x"\nexchange = "hardly"\n')
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(json_schema()).validate(bad)


def test_no_shipped_pack_has_private_rows() -> None:
    for pack in shipped_packs():
        assert not any(r.private for rows in (pack.features.values(), pack.spans, pack.marks, pack.places) for r in rows)  # type: ignore[attr-defined]
        for path in pack.folder.glob("*.csv"):
            assert "private" not in path.read_text(encoding="utf-8").partition("\n")[0].split(",")


@pytest.mark.parametrize("folder", SHIPPED_FOLDERS, ids=lambda f: f.name)
def test_every_shipped_pack_passes_the_full_check(folder: Path) -> None:
    _, files = check_pack(folder, ())
    assert [str(p) for p in files.problems if p.grade == "error"] == []


def test_very_many_rows_for_one_number_are_refused_and_many_rows_are_quick_to_read(tmp_path: Path) -> None:
    rows = "".join(f"{n},99999,1931,S1\n" for n in range(1000, 3000))
    found = problems(write_pack(tmp_path, numbers=f"first,last,period,source_id\n{rows}"))
    assert found == ["numbers.csv: more than 500 rows hold the number 1500"]
    many = "".join(f"{n},{n},1931,S1\n" for n in range(30_000))
    assert (
        problems(
            write_pack(tmp_path, "many", HEAD + SCHEME + EXAMPLES.replace("TM 9000", "TM 99999"), numbers=f"first,last,period,source_id\n{many}")
        )
        == []
    )


def test_shipped_packs_can_be_looked_at_and_never_written_to(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    before = sorted(SHIPPED.rglob("*"))
    assert CliRunner().invoke(main, ["pack", "check", "triumph_twins"]).exit_code == 0
    assert (tmp_path / "triumph_twins-number-lines.html").is_file()
    (tmp_path / "sheet.csv").write_text("Year,First,Last\n1931,1,5\n1932,6,9\n")
    refused = CliRunner().invoke(main, ["pack", "table", "sheet.csv", "--into", "triumph_twins", "--period-kind", "model year"])
    assert (refused.exit_code, "no pack of your own there" in refused.stderr) == (2, True)
    assert sorted(SHIPPED.rglob("*")) == before
