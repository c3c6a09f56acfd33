"""A page saved in one file: which of its parts is the page, which pictures belong to it."""

import base64

import pytest

from extractors import BrokenRecord, Document
from extractors.intake import read
from extractors.source import Source

PICTURE = b"GIF89a....\r\n\x1a\rx"
HEAD = 'From: <Saved by a browser>\nMIME-Version: 1.0\nContent-Type: multipart/related; boundary="b"{more}\n\n'
PAGE = "<h1>1932 carrier</h1><p>It runs – well.</p>{images}"


def part(kind: str, where: str, body: bytes, encoding: str = "base64") -> bytes:
    text = base64.encodebytes(body) if encoding == "base64" else body
    return f"--b\nContent-Type: {kind}\nContent-Transfer-Encoding: {encoding}\n{where}\n\n".encode() + text + b"\n"


def given(*parts: bytes, more: str = "", name: str = "page.mhtml") -> Document:
    (found,) = read(Source(name, HEAD.format(more=more).encode() + b"".join(parts) + b"--b--\n"))
    return found


def page(images: str = "") -> bytes:
    return PAGE.format(images=images).encode()


@pytest.mark.parametrize("encoding", ["base64", "binary"])
@pytest.mark.parametrize(
    ("where", "address"),
    [
        ("Content-Location: https://x.example/img/a.gif", "https://x.example/img/a.gif"),
        ("Content-Location: https://x.example/img/a.gif", "../img/a.gif"),
        ("Content-ID: <a@x>", "cid:a@x"),
    ],
)
def test_pictures_are_found_by_address(encoding: str, where: str, address: str) -> None:
    home = "Content-Location: https://x.example/ads/1"
    found = given(part("text/html; charset=utf-8", home, page(f'<img src="{address}">')), part("image/gif", where, PICTURE, encoding))
    assert (found.title, found.text) == ("1932 carrier", "It runs – well.")
    assert [p.size for p in found.photos] == [len(PICTURE)]


def test_a_picture_that_the_page_does_not_show_stays_out() -> None:
    home = "Content-Location: https://x.example/ads/1"
    picture = part("image/gif", "Content-Location: https://x.example/a.gif", PICTURE)
    found = given(part("text/html", home, page("<img src=https://y.example/b.gif>")), picture)
    assert found.photos == ()


def test_the_page_is_the_part_that_the_archive_names() -> None:
    other = part("text/html", "Content-Location: https://x.example/frame\nContent-ID: <f>", b"<p>a frame</p>")
    home = part("text/html", "Content-Location: https://x.example/ads/1\nContent-ID: <p>", page())
    assert given(other, home, more="\nSnapshot-Content-Location: https://x.example/ads/1").title == "1932 carrier"
    assert given(other, home, more='; start="<p>"').title == "1932 carrier"
    assert given(home, other).title == "1932 carrier"


def test_known_by_its_headers_too() -> None:
    assert given(part("text/html", "Content-ID: <p>", page()), name="-").title == "1932 carrier"


def test_an_archive_without_a_page_says_so() -> None:
    with pytest.raises(BrokenRecord, match="no page in this archive"):
        given(part("image/gif", "Content-ID: <a>", PICTURE))


def test_strange_addresses_raise_nothing() -> None:
    home = "Content-Location: https://[x.example/ads"
    images = "<img src='//[z/a.gif'><img src='http://x:99999999/a.gif'>"
    found = given(part("text/html", home, page(images)), part("image/gif", "Content-Location: a.gif", PICTURE))
    assert found.photos == ()
