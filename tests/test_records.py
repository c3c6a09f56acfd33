"""Many records in one or several processes: the same lines in the same order, and one line where a process dies."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from auditor import records
from auditor.cli import main
from extractors import Document
from tests.cases import cases


def run(path: Path, *args: str) -> Result:
    return CliRunner().invoke(main, ["claims", str(path), *args])


def line_of(document: Document) -> str:
    attributes = {f.label: f.text for f in document.fields if f.is_attribute}
    return json.dumps({"id": document.id, "title": document.title, "text": document.text, "attributes": attributes})


@pytest.fixture
def listings(tmp_path: Path) -> Path:
    path = tmp_path / "in.jsonl"
    lines = [line_of(c.document) for c in (*cases("consistent"), *cases("planted"))]
    lines.insert(7, '{"id": 7')
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def test_several_workers_give_the_lines_of_one(listings: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(records, "SHARD_RECORDS", 23)
    one, several = run(listings), run(listings, "--workers", "2")
    assert one.stdout.count("\n") > 5 * 23
    assert several.stdout == one.stdout
    assert several.stderr == one.stderr
    assert "line 8: broken JSON" in several.stderr
    assert several.exit_code == one.exit_code == 2


def test_every_shard_comes_in_order_and_in_bounds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(records, "SHARD_RECORDS", 4)
    monkeypatch.setattr(records, "SHARD_BYTES", 100)
    path = tmp_path / "in.jsonl"
    path.write_text("".join(json.dumps({"id": n, "text": "x" * (n * 7)}) + "\n" for n in range(30)))
    shards = list(records._shards(str(path)))
    assert [n for s in shards for n, _ in s.records] == list(range(1, 31))
    assert all(len(s.records) <= 4 and sum(len(line) for _, line in s.records[:-1]) < 100 for s in shards)


def _dies(shard: object, pack_ids: object) -> None:
    os._exit(3)


def test_a_worker_that_dies_is_one_clear_line(listings: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(records, "_read", _dies)
    result = run(listings, "--workers", "2")
    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
    assert "nothing from line 1 on" in result.stderr


def test_a_failure_of_ours_names_its_record_and_the_rest_is_read(listings: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = records.audited
    monkeypatch.setattr(records, "audited", lambda d, packs: 1 / 0 if str(d.id).startswith("wb-") else real(d, packs))
    result = run(listings)
    assert result.exit_code == 2
    assert "failed on this record (ZeroDivisionError" in result.stderr
    assert result.stdout.count("\n") > 50


def test_a_missing_file_is_one_line(tmp_path: Path) -> None:
    result = run(tmp_path / "none.jsonl", "--workers", "2")
    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
    assert "no such file" in result.stderr


def test_the_hash_seed_of_a_process_changes_nothing(listings: Path) -> None:
    seen = set()
    for seed in ("1", "2", "3"):
        command = [sys.executable, "-c", "from auditor.cli import main; main()", "claims", str(listings)]
        done = subprocess.run(command, env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=False, cwd=Path(__file__).parent.parent)
        seen.add(done.stdout)
    assert len(seen) == 1
    assert seen.pop().count(b"\n") > 100
