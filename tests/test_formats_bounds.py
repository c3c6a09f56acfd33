"""Hostile pages and mails: each ends soon, in a listing or in one line that says what to do."""

import base64
import random
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from extractors import Document, TooLarge, UnreadableListing
from extractors.intake import MAX_BYTES, documents, read
from extractors.page import apart, bounds
from extractors.source import Source

LISTING = Path(__file__).parent.parent / "fixtures" / "listings" / "carrier-from-the-dairy"
DAMAGE = (
    b"\n\n", b"\r", b"=?utf-8?q?=", b"--", b"Content-Type: ", b"\0", b"\xff", b'";', b"<", b"charset=utf-7",
    b"filename*=utf-9''%ff", b"message/rfc822",
)  # fmt: skip
SOON = 5.0
"""Seconds on two shared cores; the worst of these takes one when nothing else runs."""
HEAD = "From: a\nSubject: 1932 carrier\nMIME-Version: 1.0\n"


def many(count: int, one: str = "It runs.") -> str:
    return 'Content-Type: multipart/mixed; boundary="b"\n\n' + f"--b\nContent-Type: text/plain\n\n{one}\n" * count + "--b--\n"


def nested(depth: int) -> str:
    text = "Content-Type: text/plain\n\nIt runs."
    for number in range(depth):
        text = f'Content-Type: multipart/mixed; boundary="b{number}"\n\n--b{number}\n{text}\n--b{number}--\n'
    return text


def enclosed(depth: int) -> str:
    """A mail in a mail in a mail, each as an encoded attachment, so that no parser sees how deep it is."""
    text = HEAD + "\nIt runs."
    for _ in range(depth):
        coded = base64.encodebytes(text.encode()).decode()
        text = HEAD + f"Content-Type: application/octet-stream; name=a.eml\nContent-Transfer-Encoding: base64\n\n{coded}"
    return text


REFUSED: dict[str, tuple[str, str, str]] = {
    "nested tags": (".html", "<div>" * 100_000, "nested over 2,000 deep"),
    "nested tags, closed in comments": (".html", "<div><!--</div>-->" * 100_000, "nested over 2,000 deep"),
    "attributes": (".html", "<a " + " ".join(f"a{n}" for n in range(200_000)) + ">x", "over 2,000 attributes"),
    "tags": (".html", "<p>x</p>" * 200_000, "over 300,000 tags"),
    "30 MB": (".html", "<p>" + "x " * 15_000_000, "over 20 MB"),
    "mail of 70 MB": (".eml", HEAD + "\n" + "x" * 70_000_000, "over 60 MB"),
    "text of 25 MB in a mail": (".eml", HEAD + "\n" + "x" * 25_000_000, "over 20 MB of text"),
    "parts": (".eml", HEAD + many(1_000), "over 500 parts"),
    "parts without headers": (".eml", HEAD + many(5_000).replace("Content-Type: text/plain\n", ""), "over 500 parts"),
    "parted by carriage returns": (".eml", (HEAD + many(20_000)).replace("\n", "\r"), "over 500 parts"),
    "nested parts": (".eml", HEAD + nested(1_000), "nested over 40 deep"),
    "enclosed messages": (".eml", HEAD + "Content-Type: message/rfc822\n\n" * 300 + "x", "nested over 40 deep"),
    "enclosed and encoded messages": (".eml", enclosed(8), "inside over 4 mails"),
    "headers": (".eml", HEAD + "X-A: b\n" * 200_000 + "\nx", "headers too long"),
    "a folded header": (".eml", HEAD + "X-A: b\n" + " c;\n" * 2_000_000 + "\nx", "headers too long"),
    "a header of quotes": (".eml", HEAD + 'Content-Type: text/plain; a="' + ';\\"' * 100_000 + "\n\nx", "headers too long"),
    "archive of parts": (".mhtml", HEAD + many(1_000), "over 500 parts"),
    "zip": (".zip", "PK\x03\x04....", "a ZIP archive"),
}  # fmt: skip
HIDDEN = '{"@type":"Car","description":"<p>' + "".join(f"\\u003cb {n}>" for n in range(900)) + "</p>" + "<p>x" * 900 + '"}'
DISGUISED = {
    "depth": "<div/>" * 50_000,
    "attributes": "<a " + " ".join(f'a{n}=">"' for n in range(80_000)) + ">x",
    "formatting left open": "<p>" + "".join(f"<b {n}>" for n in range(1_500)) + "</p>" + "<p>x" * 5_000,
}
READ: dict[str, tuple[str, str, str]] = {
    "formatting left open": (".html", "<p>" + "".join(f"<b {n}>" for n in range(300)) + "</p>" + "<p>x" * 1_000, "x\n\nx"),
    "unclosed comments": (".html", "<p>It runs.</p>" + "<!--" * 100_000, "It runs."),
    "rows": (".html", "<table>" + "<tr><td>12<td>value" * 30_000 + "</table>", "12 | value"),
    "cells": (".html", "<table><tr>" + "<td>a" * 50_000, "a | a"),
    "deep data": (".html", '<p>It runs.<script type="application/ld+json">' + '{"a":' * 100_000 + "1" + "}" * 100_000 + "</script>", "It runs."),
    "hidden markup in data": (".html", f"<p>It runs.<script type=application/ld+json>{HIDDEN}</script>", "It runs."),
    "headings over other things": (".html", "<p>It runs.</p>" + "<h2>Similar items</h2><div><p>x</p></div>" * 5_000, "It runs."),
    "an embedded picture of 10 MB": (".html", f"<p>It runs.<img src='data:image/gif;base64,R0lGODlh{'x' * 10_000_000}'>", "It runs."),
    "parts within the bound": (".eml", HEAD + many(400), "It runs.\n\nIt runs."),
    "nested within the bound": (".eml", HEAD + nested(30), "It runs."),
    "words of a header": (".eml", HEAD + "Subject: " + "=?utf-8?q?" * 50_000 + "\n\nIt runs.", "It runs."),
}  # fmt: skip


@pytest.fixture(autouse=True)
def ends_soon() -> Iterator[None]:
    begun = time.monotonic()
    yield
    assert time.monotonic() - begun < SOON


def given(tmp_path: Path, suffix: str, content: str) -> list[Document]:
    path = tmp_path / f"listing{suffix}"
    path.write_bytes(content.encode("latin-1"))
    return list(documents(str(path)))


@pytest.mark.parametrize("kind", REFUSED)
def test_past_a_bound_is_refused_in_one_line(tmp_path: Path, kind: str) -> None:
    suffix, content, why = REFUSED[kind]
    with pytest.raises(UnreadableListing, match=why) as raised:
        given(tmp_path, suffix, content)
    assert "\n" not in str(raised.value)
    assert "listing" in str(raised.value)


@pytest.mark.parametrize("kind", READ)
def test_within_the_bounds_is_read(tmp_path: Path, kind: str) -> None:
    suffix, content, text = READ[kind]
    (found,) = given(tmp_path, suffix, content)
    assert found.text.startswith(text)


@pytest.mark.parametrize("kind", DISGUISED)
def test_what_deceives_the_counts_meets_the_deadline(kind: str) -> None:
    page = DISGUISED[kind]
    bounds.check("page.html", page)
    assert not bounds.is_small(page)
    with pytest.raises(TooLarge, match=r"^page\.html: a page that takes over 0\.5 seconds to read; save its text alone$"):
        apart.page_of("page.html", page, deadline=0.5)


def test_a_page_that_ends_its_process_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(apart, "_START", "import os; os.abort()")
    with pytest.raises(TooLarge, match="too large or too broken"):
        apart.page_of("page.html", "<p>x" + " " * 40_000)


def test_the_process_starts_nothing_of_the_folder_it_is_called_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("json", "selectolax", "extractors", "re"):
        (tmp_path / f"{name}.py").write_text("raise SystemExit(3)")
    monkeypatch.chdir(tmp_path)
    assert apart.page_of("page.html", "<p>x" + " " * 40_000).text == "x"


def test_memory_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("resource")
    start = apart._START.replace("import main; main()", "import _bound_memory; _bound_memory(); bytearray(3_000_000_000)")
    monkeypatch.setattr(apart, "_START", start)
    with pytest.raises(TooLarge, match="too large or too broken"):
        apart.page_of("page.html", "<p>x" + " " * 40_000)


def test_attachments_share_one_time(monkeypatch: pytest.MonkeyPatch) -> None:
    from extractors.formats import mail

    monkeypatch.setattr(mail, "ATTACHMENT_SECONDS", 0.2)
    slow = f"Content-Type: text/html; name=a.html\n\n<p>x</p>{' ' * 40_000}"
    parts = "".join(f"--b\n{slow}\n" for _ in range(30))
    with pytest.raises(UnreadableListing, match="takes too long"):
        list(read(Source("mail.eml", f'{HEAD}Content-Type: multipart/mixed; boundary="b"\n\n{parts}--b--\n'.encode())))


def test_size_is_bounded_wherever_bytes_come_from() -> None:
    with pytest.raises(TooLarge, match="over 20 MB"):
        list(read(Source("page.html", b"x" * (MAX_BYTES + 1))))


@pytest.mark.parametrize("form", ["page.html", "page.mhtml", "mail.eml"])
@pytest.mark.parametrize("seed", range(60))
def test_damaged_files_end_in_documents_or_one_line(form: str, seed: int) -> None:
    chance = random.Random(seed)
    data = bytearray((LISTING / form).read_bytes())
    for _ in range(chance.randint(1, 20)):
        at = chance.randrange(len(data))
        if chance.random() < 0.4:
            del data[at : at + chance.randint(1, 200)]
        else:
            data[at:at] = chance.choice(DAMAGE)
    found: list[Document] = []
    refused = ""
    try:
        found += read(Source(form, bytes(data)))
    except UnreadableListing as error:
        refused = str(error)
    assert "\n" not in refused
    assert found or refused
    for document in found:
        assert len({f.name for f in document.fields}) == len(document.fields) > 0
        assert all(document.quote(f.name, 0, len(f.text)).text == f.text for f in document.fields)


def test_parsers_are_loaded_only_when_needed() -> None:
    loaded = "sys.exit(bool({'selectolax', 'email.message'} & set(sys.modules)))"
    code = "import sys; from extractors.intake import documents; list(documents(sys.argv[1])); " + loaded
    assert subprocess.run([sys.executable, "-c", code, str(LISTING / "listing.txt")], check=False).returncode == 0
