"""The buyer's tutorial, followed to the letter: every file that it has one save, every command that it has one type."""

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from auditor.cli import main

PAGE = Path(__file__).parent.parent / "auditor" / "manual" / "buyer.md"
CONTRADICTS = 1


def steps() -> list[tuple[str, str]]:
    """(file, words) for each block that is to be saved, ("", command) for each that is to be typed, in order."""
    text = PAGE.read_text(encoding="utf-8")
    out = []
    for found in re.finditer(r"^```\n(.*?)^```$", text, re.MULTILINE | re.DOTALL):
        body = found[1]
        if body.startswith("auditor "):
            out += [("", line) for line in body.splitlines()]
        else:
            names = re.findall(r"[Pp]aste[^\n]*?`(\w+\.txt)`", text[: found.start()])
            out.append((names[-1], body))
    return out


@pytest.fixture(scope="module")
def followed(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[int, str]]:
    """Exit status and output of every command, run in an empty folder in the tutorial's order."""
    folder = tmp_path_factory.mktemp("buyer")
    out: dict[str, tuple[int, str]] = {}
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        for name, words in steps():
            if name:
                Path(name).write_text(words, encoding="utf-8")
                continue
            command, _, target = words.partition(" > ")
            result = CliRunner().invoke(main, shlex.split(command)[1:])
            out[words] = (result.exit_code, result.stdout)
            if target:
                Path(target).write_text(result.stdout, encoding="utf-8")
        out["files"] = (0, "\n".join(sorted(str(p.relative_to(folder)) for p in folder.rglob("*") if p.is_file())))
    return out


def test_every_command_ends_as_it_should(followed: dict[str, tuple[int, str]]) -> None:
    assert len(followed) >= 12
    for command, (status, _) in followed.items():
        before_the_answer = command.startswith("auditor check") and "--reply" not in command
        assert status == (CONTRADICTS if before_the_answer else 0), command


def test_what_the_tutorial_says_of_the_reports_is_so(followed: dict[str, tuple[int, str]]) -> None:
    first = " ".join(followed["auditor check advert.txt"][1].split())
    assert "“1928” is stated, but frame number 33Q 08450 B dates to 1931-06" in first
    assert "CANNOT BOTH HOLD" in first
    answered = " ".join(followed["auditor check advert.txt --reply reply.txt"][1].split())
    assert answered.index("WHAT REPLIES AND NOTES CHANGED") < answered.index("DOUBTFUL")
    assert "(doubt, before: contradiction)" in answered
    assert "will not say: “Come and see it.”" in answered
    assert "The body number is still open" in answered
    seen = " ".join(followed["auditor check advert.txt --reply reply.txt --notes notes.txt"][1].split())
    assert "The frame number is told, not shown" in answered
    assert "The frame number is told, not shown" not in seen
    letter = followed["auditor check advert.txt --format letter"][1]
    assert [line[:2] for line in letter.splitlines() if re.match(r"\d\.", line)] == ["1.", "2.", "3."]
    again = followed["auditor check advert.txt --reply reply.txt --format letter"][1]
    assert "load box number" not in again


def test_the_files_that_the_tutorial_names_are_there(followed: dict[str, tuple[int, str]]) -> None:
    files = followed["files"][1].splitlines()
    for name in ("advert.numbers.html", "inspection.html", "report.html", "handover.html", "dossier/dossier.html", "dossier/numbers.csv"):
        assert name in files


def test_the_questions_quoted_in_the_reply_are_those_of_the_letter(followed: dict[str, tuple[int, str]]) -> None:
    letter = " ".join(followed["auditor check advert.txt --format letter"][1].split())
    reply = dict(steps())["reply.txt"]
    quoted = [line[5:].rstrip("?") for line in reply.splitlines() if line.startswith("> ")]
    assert len(quoted) == 3
    assert all(words in letter for words in quoted)
