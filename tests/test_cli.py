"""The command as a user runs it: exit status, one line for errors, nothing from the text as a control sequence."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from auditor.cli import DEMO, FORMATS, main

CONSISTENT = DEMO / "consistent.txt"
CONFLICTING = DEMO / "plate-says-1928.txt"


def run(*args: str, given: str | bytes | None = None) -> Result:
    return CliRunner().invoke(main, args, input=given)


def test_exit_status_tells_contradictions() -> None:
    assert run("check", str(CONSISTENT)).exit_code == 0
    assert run("check", str(CONFLICTING)).exit_code == 1
    assert run("check", str(CONSISTENT), str(CONFLICTING)).exit_code == 1


def test_an_unreadable_input_among_others_loses_nothing(tmp_path: Path) -> None:
    missing = str(tmp_path / "missing.txt")
    result = run("check", str(CONSISTENT), missing, str(CONFLICTING), "--format", "json")
    assert result.exit_code == 2
    assert len(result.stdout.splitlines()) == 2
    assert result.stderr.count("\n") == 1
    assert "no such file" in result.stderr


@pytest.mark.parametrize("form", FORMATS)
def test_every_format_of_every_demo_is_written(form: str) -> None:
    for path in DEMO.glob("*.txt"):
        result = run("check", str(path), "--format", form)
        assert result.exit_code in {0, 1}, result.output
        assert result.stdout.strip()


def test_the_contract_of_check() -> None:
    from auditor.contract import AuditRecord

    record = AuditRecord.model_validate_json(run("check", str(CONFLICTING), "--format", "json").stdout)
    assert any(f.grade == "contradiction" for f in record.findings)
    for finding in record.findings:
        assert all(0 <= n < len(record.claims) for n in finding.claims)


def test_the_contract_of_claims(tmp_path: Path) -> None:
    path = tmp_path / "in.jsonl"
    title, text = "1929 Quillfeather", "Frame no. 33Q 07311 G"
    path.write_text("".join(json.dumps({"id": n, "title": title, "text": text, "attributes": {"Year": "1929"}}) + "\n" for n in (3, 1, 2)))
    result = run("claims", str(path))
    assert result.exit_code == 0
    lines = [json.loads(line) for line in result.stdout.splitlines()]
    assert [line["id"] for line in lines] == [3, 1, 2]
    fields = {"title": title, "text": text, "attributes.Year": "1929"}
    for claim in lines[0]["claims"]:
        assert list(claim)[:9] == ["kind", "part", "value", "stance", "basis", "field", "start", "end", "text"]
        assert fields[claim["field"]][claim["start"] : claim["end"]] == claim["text"]
    number = next(c for c in lines[0]["claims"] if c["kind"] == "number")
    assert (number["part"], number["value"], number["text"]) == ("frame", "33Q07311G", "33Q 07311 G")
    assert {c["basis"] for c in lines[0]["claims"]} == {"seller", "attribute", "rule:northmark_pattern5/qf_frame_checked"}


def test_a_broken_line_is_named_and_the_rest_is_read(tmp_path: Path) -> None:
    path = tmp_path / "in.jsonl"
    path.write_text('{"id": 1, "text": "BSA"}\n{"id": 2\n{"id": 3, "text": "BSA"}\n')
    result = run("claims", str(path))
    assert result.exit_code == 2
    assert [json.loads(line)["id"] for line in result.stdout.splitlines()] == [1, 3]
    assert "line 2" in result.stderr


@pytest.mark.parametrize("form", FORMATS)
def test_no_control_sequence_reaches_the_terminal(form: str) -> None:
    hostile = "1930 Quillfeather \x1b[2J QF-5\n\nFrame \x1b]0;title\x07 33Q 07311 L\x9b31m, engine\x00 QE 00001 \u202egnp.exe. matching numbers\r\x08"
    result = run("check", "-", "--format", form, given=hostile.encode())
    assert result.exit_code in {0, 1}
    assert not [c for c in result.stdout if c != "\n" and (ord(c) < 32 or 0x7F <= ord(c) < 0xA0 or c in "\u202e\u2066")]


def test_a_hostile_file_name_is_one_harmless_line(tmp_path: Path) -> None:
    result = run("check", str(tmp_path / "a\x1b[31m\nb.txt"))
    assert result.exit_code == 2
    assert "\x1b" not in result.stderr
    assert result.stderr.count("\n") == 1


def test_packs_are_listed_and_shown() -> None:
    assert "northmark_pattern5" in run("packs").stdout
    assert "33Q 07311 G" in run("packs", "northmark_pattern5").stdout
    assert run("packs", "nothing").exit_code == 2


def test_a_pack_may_be_chosen() -> None:
    assert run("check", str(CONFLICTING), "--pack", "triumph_twins").exit_code == 0
    assert run("check", str(CONFLICTING), "--pack", "nothing").exit_code == 2


def test_demo_ends_well_and_names_its_listings() -> None:
    result = run("demo")
    assert result.exit_code == 0
    assert "CANNOT BOTH HOLD" in result.stdout
    assert len(run("demo", "--list").stdout.split()) == 6
    assert run("demo", "nothing").exit_code == 2


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion(shell: str) -> None:
    assert "auditor" in run("completion", shell).stdout


def test_replies_and_notes_are_read_with_their_listing(tmp_path: Path) -> None:
    listing = tmp_path / "advert.txt"
    listing.write_text("1930 Quillfeather carrier\nFrame number: 33Q 07311 L\n\nDry.\n", encoding="utf-8")
    reply = tmp_path / "reply.eml"
    reply.write_bytes(
        b"From: a@dairy.example\nTo: b@post.example\nSubject: Re: carrier\nDate: Tue, 3 Nov 2026 10:00:00 +0000\nMessage-ID: <1@x>\n\n"
        b"Frame number is 33Q 07311 G.\n\nOn Mon, 2 Nov 2026, A Buyer wrote:\n> Please copy the frame number once more\n"
    )
    notes = tmp_path / "notes.txt"
    notes.write_text("2026-11-09\nEngine pad reads QE 10412.\n", encoding="utf-8")
    run = CliRunner().invoke(main, ["check", str(listing), "--reply", str(reply), "--notes", str(notes), "--format", "json"])
    assert run.exit_code == 0
    record = json.loads(run.stdout)
    assert {c["name"] for c in record["changes"]["cleared"]} == {"check_character_fails", "number_missing"}
    assert {(c["basis"], c["value"]) for c in record["claims"] if c["kind"] == "number" and c["basis"] != "attribute"} == {
        ("reply", "33Q07311G"),
        ("notes", "QE10412"),
    }


def test_letters_belong_to_one_listing_that_can_be_read(tmp_path: Path) -> None:
    one, two = tmp_path / "a.txt", tmp_path / "b.txt"
    for path in (one, two):
        path.write_text("1930 Quillfeather\n\nDry.\n", encoding="utf-8")
    for arguments in (
        [str(one), str(two), "--reply", str(one)],
        [str(one), "--reply", str(tmp_path / "none.txt")],
        [str(one), "--notes", str(tmp_path)],
    ):
        run = CliRunner().invoke(main, ["check", *arguments])
        assert run.exit_code == 2
        assert run.stdout == ""
        assert run.stderr.startswith("auditor: ")
        assert run.stderr.count("\n") == 1
