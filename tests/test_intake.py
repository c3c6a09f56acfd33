"""Whatever comes in ends in documents, or in one line that says what to do."""

import json
import os
from pathlib import Path

import pytest

from extractors import NothingThere, NotText, TooLarge, UnreadableListing
from extractors.intake import MAX_BYTES, documents

LISTING = "1930 Quillfeather QF-5\n\nFrame 33Q 07311 G, café racer"


def read(path: Path) -> list[tuple[str, str]]:
    return [(d.title, d.text) for d in documents(str(path))]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
def test_encodings(tmp_path: Path, encoding: str) -> None:
    path = tmp_path / "listing.txt"
    path.write_bytes(LISTING.encode(encoding))
    assert read(path) == [("1930 Quillfeather QF-5", "Frame 33Q 07311 G, café racer")]


def test_headline_entries_and_body_of_a_text(tmp_path: Path) -> None:
    path = tmp_path / "listing.txt"
    path.write_text("1930 Quillfeather QF-5\nFrame no: 33Q 07311 G\nYear: 1930\n\nRuns: well.\nYear: see above")
    (found,) = documents(str(path))
    assert found.title == "1930 Quillfeather QF-5"
    assert {f.label: f.text for f in found.fields if f.is_attribute} == {"Frame no": "33Q 07311 G", "Year": "1930"}
    assert found.text == "Runs: well.\nYear: see above"


def test_records_a_line_and_a_list(tmp_path: Path) -> None:
    one = {"id": 7, "title": "A", "text": "B", "attributes": {"Year": 1930}, "price": "900"}
    path = tmp_path / "listing.jsonl"
    path.write_text(json.dumps(one) + "\n\n" + json.dumps({**one, "id": "x"}))
    assert [d.id for d in documents(str(path))] == [7, "x"]
    path = tmp_path / "listing.json"
    path.write_text(json.dumps([one]))
    (found,) = documents(str(path))
    assert found.field("attributes.Year") is not None
    assert found.field("attributes.price") is not None


def broken(tmp_path: Path, kind: str) -> Path:
    path = tmp_path / "listing.txt"
    content: dict[str, bytes] = {
        "empty": b"", "blank": b" \n\t\n", "binary": bytes(range(256)) * 40, "picture": b"\x89PNG\r\n\x1a\n" + b"x" * 90,
        "30 MB": b"a" * 30_000_000, "lone utf-16 half": b"\xff\xfe\x00\xd8",
    }  # fmt: skip
    if kind in content:
        path.write_bytes(content[kind])
    elif kind == "broken line":
        path = tmp_path / "listing.jsonl"
        path.write_text('{"id": 1, "title": "a"}\n{"id": 2, ')
    elif kind == "not a record":
        path = tmp_path / "listing.json"
        path.write_text('"a listing"')
    elif kind == "deep":
        path = tmp_path / "listing.json"
        path.write_text("[" * 100_000 + "]" * 100_000)
    return path


@pytest.mark.parametrize(
    "kind", ["empty", "blank", "binary", "picture", "30 MB", "lone utf-16 half", "broken line", "not a record", "deep", "missing"]
)
def test_broken_input_ends_in_one_line(tmp_path: Path, kind: str) -> None:
    with pytest.raises(UnreadableListing) as raised:
        list(documents(str(broken(tmp_path, kind))))
    message = str(raised.value)
    assert "\n" not in message
    assert message.startswith(("listing", str(tmp_path)))
    assert 20 < len(message) < 250


def test_the_right_child_of_the_tree(tmp_path: Path) -> None:
    for kind, child in (("empty", NothingThere), ("binary", NotText), ("30 MB", TooLarge), ("missing", NothingThere)):
        folder = tmp_path / kind
        folder.mkdir()
        with pytest.raises(child):
            list(documents(str(broken(folder, kind))))


def test_null_bytes_inside_text_are_read(tmp_path: Path) -> None:
    path = tmp_path / "listing.txt"
    path.write_bytes(b"1930 Quillfeather QF-5\n\nFrame 33Q 07311 G\x00 and much more text that is plain")
    assert "33Q 07311 G" in read(path)[0][1]


def test_a_number_of_ten_thousand_figures_is_read(tmp_path: Path) -> None:
    path = tmp_path / "listing.json"
    path.write_text('{"id": 1, "text": "engine no ' + "9" * 10_000 + '", "price": ' + "9" * 10_000 + "}")
    assert len(read(path)[0][1]) == 10_010


@pytest.mark.skipif(os.geteuid() == 0, reason="root reads everything")
def test_no_permission(tmp_path: Path) -> None:
    path = tmp_path / "listing.txt"
    path.write_text(LISTING)
    path.chmod(0)
    with pytest.raises(NothingThere, match="no permission"):
        list(documents(str(path)))


def test_the_bound_is_where_it_is_said_to_be(tmp_path: Path) -> None:
    path = tmp_path / "listing.txt"
    path.write_bytes(b"a " * (MAX_BYTES // 2))
    assert len(read(path)) == 1
