"""The coverage page: every pack once, its figures taken from its own data."""

import re

from auditor.keeper.coverage import cannot_tell, page, row_count, span_of_years, tables, years_without_row
from claims.pack import Pack, shipped_packs
from claims.standards import edtf

PACKS = shipped_packs()
PAGE = page(PACKS)


def pack(name: str) -> Pack:
    return next(p for p in PACKS if p.id == name)


def test_every_pack_has_one_line_with_years_rows_sources_standing_and_limits() -> None:
    lines = [line.split(" | ") for line in PAGE.splitlines() if line.startswith("| [")]
    assert [re.match(r"\| \[(\w+)\]", line[0])[1] for line in lines] == [p.id for p in PACKS]  # type: ignore[index]
    for line, one in zip(lines, PACKS, strict=True):
        assert len(line) == 8
        assert int(line[5]) == len(one.sources)
        assert all(line), line
    assert f"{sum(map(row_count, PACKS))} rows." in PAGE


def test_figures_of_a_pack_that_can_be_counted_by_hand() -> None:
    """Triumph twins: 33 rows of one source, 18 of the other, seasons 1952 (from August 1951) to 1969."""
    found = {t.table: t for t in tables(pack("triumph_twins"))}
    assert (found["season_source1"].rows, found["season_source2"].rows) == (33, 18)
    assert found["season_source2"].standings == "18 published"
    assert span_of_years(pack("triumph_twins")) == "1951–1969"


def test_what_a_pack_cannot_tell_comes_from_its_data() -> None:
    assert "the month of building" in cannot_tell(pack("ferguson_te20"))
    assert "which part carries the identity" in cannot_tell(pack("ferguson_te20"))
    assert "the month of building" not in cannot_tell(pack("northmark_pattern5"))
    assert "which part carries the identity" not in cannot_tell(pack("triumph_twins"))


def test_years_without_a_row() -> None:
    assert years_without_row([edtf.decode(t) for t in ("1931", "1934/1935", "1939")]) == "1932–1933, 1936–1938"
    assert years_without_row([edtf.decode(t) for t in ("1931", "1934/..")]) == "", "an open span leaves no year out"
    assert years_without_row([]) == ""
