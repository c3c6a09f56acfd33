"""The accounts of belief in reports: only where there is belief, in words, with plots that are well formed."""

import math
import re
from xml.etree import ElementTree

import pytest

from auditor.audit import audit
from auditor.render import html, md, text
from auditor.render.accounts import HEADING, accounts

CARRIER = "1928 Quillfeather carrier. Data plate reads 28Q 02960. Frame number 33Q 08450 B, engine QE 11702. Plate on screws."


def test_every_touched_part_has_its_line_and_its_plot() -> None:
    (account,) = accounts(audit(CARRIER))
    assert [line.name for line in account.lines] == ["the vehicle", "frame", "engine", "data plate"]
    assert set(account.untouched) == {"gearbox", "front axle", "load box", "fleet number", "magneto"}
    for line in account.lines:
        assert line.plot
        assert re.fullmatch(r"M0 30( ?H\d+V[\d.]+)+Z", line.plot.path)
    plate = account.lines[-1]
    assert "probably not first fitted" in plate.story
    assert any("against" in row.words for row in plate.rows)


def test_the_rows_on_a_screen_add_up_to_the_result() -> None:
    result = audit(CARRIER + " Five-leaf front springs, moulded magneto cap, round headstock web. All original, built in 1928.")
    (account,) = accounts(result)
    by_name = {p.name: p for b in result.beliefs for p in b.parts}
    for line in account.lines[1:]:
        original = by_name[line.name].original
        assert original is not None
        assert sum(row.bits or 0.0 for row in line.rows) == pytest.approx(math.log2(original / (1 - original)), abs=1e-6)


def test_reports_show_words_and_no_bits() -> None:
    result = audit(CARRIER)
    page = html.render(result)
    for shown in (page, md.render(result), text.render(result)):
        assert HEADING.lower() in shown.lower()
        assert "probably not first fitted" in " ".join(shown.split())
        assert " bits" not in shown
    plots = re.findall(r'<svg class="belief".*?</svg>\n<line.*?</svg>', page, re.DOTALL)
    assert len(plots) == 4
    for plot in plots:
        ElementTree.fromstring(plot)


def test_families_without_priors_have_no_account() -> None:
    result = audit("1966 Triumph T120, frame T120 DU44400, engine T120 DU44400.")
    assert accounts(result) == ()
    assert HEADING.lower() not in text.render(result).lower()
