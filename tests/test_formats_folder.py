"""A folder of one listing: its words, its pictures, and no way out of it."""

import os
from pathlib import Path

import pytest

from extractors import NothingThere, TooLarge
from extractors.document import Document
from extractors.intake import MAX_FILES, documents

GIF, PNG = b"GIF89a....", b"\x89PNG\r\n\x1a\n...."
LISTING = "1932 carrier\nYear: 1932\n\nIt runs."


def write(folder: Path, files: dict[str, bytes | str]) -> Path:
    for name, content in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content.encode() if isinstance(content, str) else content)
    return folder


def given(folder: Path) -> list[Document]:
    return list(documents(str(folder)))


def photos(document: Document) -> list[str]:
    return [p.name for p in document.photos]


def test_text_and_pictures(tmp_path: Path) -> None:
    others: dict[str, bytes | str] = {"again.gif": GIF, "no.jpg": b"<html>", "Thumbs.db": b"\0\1", ".hidden.png": PNG}
    write(tmp_path, {"listing.txt": LISTING, "b.png": PNG, "a.gif": GIF, **others})
    (found,) = given(tmp_path)
    assert (found.title, found.text, photos(found)) == ("1932 carrier", "It runs.", ["a.gif", "b.png"])
    assert found.source == f"{tmp_path.name}/listing.txt"


def test_pictures_in_a_folder_below(tmp_path: Path) -> None:
    (found,) = given(write(tmp_path, {"listing.md": LISTING, "photos/a.gif": GIF, "photos/b/c/d/too-deep.png": PNG}))
    assert photos(found) == ["a.gif"]


def test_a_saved_page_and_its_folder_are_one(tmp_path: Path) -> None:
    page = "<h1>1932 carrier</h1><p>It runs.</p><img src='ad_files/a.gif'>"
    (found,) = given(write(tmp_path, {"ad.html": page, "ad_files/a.gif": GIF, "ad_files/logo.png": PNG, "ad_files/frame.html": "<p>x"}))
    assert photos(found) == ["a.gif"]


def test_of_several_listings_each_gets_its_own_pictures(tmp_path: Path) -> None:
    files = {"lot-1.txt": LISTING, "lot-12.txt": LISTING, "lot-1-front.gif": GIF, "lot-12 engine.png": PNG, "hall.jpg": b"\xff\xd8\xff"}
    assert [photos(d) for d in given(write(tmp_path, dict(files)))] == [["lot-1-front.gif"], ["lot-12 engine.png"]]


def test_every_format_is_read(tmp_path: Path) -> None:
    record = '{"id": "r", "title": "1930 carrier", "text": "x"}'
    write(tmp_path, {"a.json": record, "b.eml": "From: a\nSubject: 1931 carrier\n\nx", "c.html": "<h1>1932 carrier</h1>"})
    write(tmp_path, {"d.jsonl": f"{record}\n{record}"})
    assert [d.title for d in given(tmp_path)] == ["1930 carrier", "1931 carrier", "1932 carrier", "1930 carrier", "1930 carrier"]


@pytest.mark.parametrize("files", [{}, {"a.gif": GIF}, {"empty.txt": " \n"}, {"a.zip": b"PK\3\4"}])
def test_a_folder_without_words_says_so(tmp_path: Path, files: dict[str, bytes | str]) -> None:
    with pytest.raises(NothingThere, match="no text, page, mail or record in this folder"):
        given(write(tmp_path, files))


def test_links_lead_nowhere(tmp_path: Path) -> None:
    outside = write(tmp_path / "outside", {"secret.txt": "secret", "secret.gif": GIF})
    folder = write(tmp_path / "folder", {"listing.txt": LISTING})
    os.symlink(outside / "secret.txt", folder / "a.txt")
    os.symlink(outside / "secret.gif", folder / "a.gif")
    os.symlink(outside, folder / "below")
    os.symlink(folder, folder / "round")
    (found,) = given(folder)
    assert (found.text, found.photos) == ("It runs.", ())


@pytest.mark.parametrize(
    "address",
    [
        "../outside/secret.gif", "..%2Foutside/secret.gif", "ad_files/../../outside/secret.gif", "{outside}/secret.gif", "file://{outside}/secret.gif",
        "ad_files/link.gif", "link/secret.gif", "ad_files", "ad_files\\..\\..\\outside\\secret.gif", "a%00.gif", "pipe.gif", "",
    ],
)  # fmt: skip
def test_a_page_reaches_nothing_outside_its_folder(tmp_path: Path, address: str) -> None:
    outside = write(tmp_path / "outside", {"secret.gif": GIF})
    home = write(tmp_path / "home", {"ad_files/own.png": PNG})
    os.symlink(outside / "secret.gif", home / "ad_files" / "link.gif")
    os.symlink(outside, home / "link")
    os.mkfifo(home / "pipe.gif")
    write(home, {"ad.html": f"<p>It runs.<img src='{address.format(outside=outside)}'><img src='ad_files/own.png'>"})
    (found,) = documents(str(home / "ad.html"))
    assert photos(found) == ["own.png"]


def test_a_page_below_a_folder_reaches_nothing_outside_it(tmp_path: Path) -> None:
    write(tmp_path / "outside", {"secret.gif": GIF})
    page = "<p>It runs.<img src='../../outside/secret.gif'><img src='../../../outside/secret.gif'><img src='own_files/a.png'>"
    (found,) = given(write(tmp_path / "home", {"below/own.html": page, "below/own_files/a.png": PNG}))
    assert photos(found) == ["a.png"]


def test_a_pipe_in_a_folder_is_not_opened(tmp_path: Path) -> None:
    write(tmp_path, {"listing.txt": LISTING})
    os.mkfifo(tmp_path / "a.txt")
    assert len(given(tmp_path)) == 1


def test_a_folder_of_too_many_files_is_refused(tmp_path: Path) -> None:
    for number in range(MAX_FILES + 1):
        (tmp_path / f"{number}.gif").touch()
    with pytest.raises(TooLarge, match="over 2,000 files"):
        given(tmp_path)
