"""The keeper's tutorial, followed literally: its files are written, its commands run, its quoted lines looked for."""

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from auditor.cli import main
from auditor.manual import generate

PAGE = (generate.HERE / "keeper.md").read_text(encoding="utf-8")
FILE_BLOCK = re.compile(r"into `([\w.-]+)`:\n\n```\n(.*?)```", re.DOTALL)
COMMAND_BLOCK = re.compile(r"(?<!:\n)\n```\n(auditor .*?)\n```\n\n((?:> .*\n)+)")
MOST_COMMANDS = 10


def test_the_page_leads_from_two_columns_to_a_finding(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, own_packs: Path) -> None:
    monkeypatch.chdir(tmp_path)
    for name, text in FILE_BLOCK.findall(PAGE):
        Path(name).write_text(text, encoding="utf-8")
    commands = COMMAND_BLOCK.findall(PAGE)
    assert 4 < len(commands) < MOST_COMMANDS
    assert PAGE.count("\n```\nauditor ") == len(commands), "every command of the page is followed, and says what it prints"
    for command, quoted in commands:
        result = CliRunner().invoke(main, shlex.split(command)[1:])
        assert result.exit_code in {0, 1}, (command, result.output)
        assert "Traceback" not in result.output
        said = " ".join(result.output.split())
        for line in quoted.strip().splitlines():
            assert " ".join(line.removeprefix("> ").split()) in said, (command, line, result.output)
    assert (own_packs / "tollmer" / "number-lines.html").is_file()


def test_the_first_finding_needs_four_commands() -> None:
    commands = [c for c, _ in COMMAND_BLOCK.findall(PAGE)]
    assert [shlex.split(c)[1:3] for c in commands[:4]] == [["pack", "new"], ["pack", "table"], ["pack", "check"], ["check", "advert.txt"]]
