"""A finding's grade is capped by the weakest rule it rests on, proved by forging the standing of rows."""

import csv
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from auditor.audit import audit
from auditor.finding import CONTRADICTION, DOUBT, Finding
from claims.pack import Pack, read_pack, shipped_packs
from claims.pack_rows import Source
from tests.cases import cases

CASES = [c for kind in ("planted", "checks") for c in cases(kind)]


def contradictions(packs: tuple[Pack, ...]) -> list[Finding]:
    """Every contradiction that rests on a rule of a pack, over all planted listings and fixtures of checks."""
    return [f for c in CASES for f in audit(c.document, packs).findings if f.grade == CONTRADICTION and "/" in f.rule]


def forged(folder: Path, forge: Callable[[Pack, Path], None]) -> tuple[Pack, ...]:
    """The shipped packs with rows forged in copies."""
    for pack in shipped_packs():
        shutil.copytree(pack.folder, folder / pack.id)
        forge(pack, folder / pack.id)
    return tuple(read_pack(folder / p.id) for p in shipped_packs())


def all_from_memory(pack: Pack, copy: Path) -> None:
    """Every source of a pack, and every row that says its own standing, from memory."""
    for path in copy.glob("*.csv"):
        rewrite(path, only_where_said=True)
    head = copy / "pack.toml"
    head.write_text(re.sub(r'(?m)^standing = ".*"$', 'standing = "memory"', head.read_text(encoding="utf-8")), encoding="utf-8")


def tables_from_memory(pack: Pack, copy: Path) -> None:
    """The rows of dating and code tables from memory, all else as it stands."""
    named = {t for s in pack.schemes.values() for how in s.decode.values() for t in (how.get("tables") or [how.get("table")]) if t}
    for name in named:
        rewrite(copy / f"{name}.csv", only_where_said=False)


def rewrite(path: Path, *, only_where_said: bool) -> None:
    with path.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    if not rows or (only_where_said and "standing" not in rows[0]):
        return
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, [*dict.fromkeys([*rows[0], "standing"])])
        writer.writeheader()
        writer.writerows({**row, "standing": "memory"} for row in rows)


def test_the_cases_hold_contradictions_to_cap() -> None:
    assert len(contradictions(shipped_packs())) > 30


def test_nothing_from_memory_carries_a_contradiction(tmp_path: Path) -> None:
    assert [(f.name, f.rule) for f in contradictions(forged(tmp_path, all_from_memory))] == []


def test_a_table_from_memory_carries_no_contradiction_of_a_number(tmp_path: Path) -> None:
    """What is left rests on other rows than the tables': a block never used, a check character, a name's or a pack's span."""
    left = {f.name for f in contradictions(forged(tmp_path, tables_from_memory))}
    assert left <= {"year_outside_production", "number_never_issued", "check_character_fails", "model_of_another_maker"}
    never = [f for f in contradictions(shipped_packs()) if f.name == "number_dates_another_year"]
    assert never, "the same check does contradict while its rows are published"


@pytest.mark.parametrize(("standing", "grade"), [("memory", DOUBT), ("practice", DOUBT), ("secondary", CONTRADICTION), ("published", CONTRADICTION)])
def test_a_finding_caps_itself(standing: str, grade: str) -> None:
    assert Finding("x", CONTRADICTION, "", sources=(Source("S", "s", "published"), Source("T", "t", standing))).grade == grade
    assert Finding("x", CONTRADICTION, "", weak=True).grade == DOUBT
