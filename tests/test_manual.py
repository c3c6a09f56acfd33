"""The manual, both ways: everything is documented, and nothing is documented that is gone."""

import re

import pytest
from click.testing import CliRunner

from auditor.cli import help_texts, main
from auditor.explain import SECTIONS, entry, everything, names
from auditor.manual import generate

PAGES = generate.pages()


@pytest.mark.parametrize("page", sorted(PAGES))
def test_generated_page_is_fresh(page: str) -> None:
    assert (generate.HERE / page).read_text(encoding="utf-8") == PAGES[page], "run python -m auditor.manual.generate"


@pytest.mark.parametrize("section", SECTIONS)
def test_every_name_has_an_entry_and_no_other(section: str) -> None:
    headed = re.findall(r"^## (?:auditor )?(\S+)$", PAGES[f"{section}.md"], re.MULTILINE)
    assert headed == names(section, help_texts())


def test_explain_prints_every_entry_and_refuses_others() -> None:
    run = CliRunner().invoke
    for name in everything(help_texts()):
        result = run(main, ["explain", name])
        assert result.exit_code == 0
        assert result.stdout == entry(name, help_texts())
        assert len(result.stdout) > 20
    assert run(main, ["explain", "nothing-of-that-name"]).exit_code == 2


def test_every_check_says_what_why_and_what_to_ask() -> None:
    for name in names("checks", {}):
        what, why = entry(name, {}).split("\n\n")[1:3]
        assert what.endswith(".")
        assert len(why) > 60, f"{name}: a docstring of one sentence"


def test_hand_written_pages_name_only_what_exists() -> None:
    known = {f"auditor {c}" for c in help_texts()}
    for path in generate.HERE.glob("*.md"):
        if path.name in PAGES:
            continue
        for command in re.findall(r"`auditor ([a-z-]+)", path.read_text(encoding="utf-8")):
            assert f"auditor {command}" in known, f"{path.name}: auditor {command} does not exist"
