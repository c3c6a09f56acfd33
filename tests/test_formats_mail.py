"""A mail: subject, body as text or page, what is forwarded, quoted, attached."""

import base64
import contextlib
from email.message import EmailMessage
from pathlib import Path

import pytest

from extractors import Document, NothingThere, UnreadableListing
from extractors.intake import documents, read
from extractors.mail_text import listing, unflowed
from extractors.source import Source

LISTING = "Year: 1932\nFrame no.: 33Q 09488 P\n\nIt runs & stops.\nThe box is dented.\n"
FORWARDED = "From: A Seller <a@dairy.example>\nDate: Tue, 3 Nov 2026\nSubject: {subject}\nTo: b@post.example\n\n"
QUOTED_HEAD = FORWARDED.format(subject="1932 carrier")
PICTURE = b"GIF89a....picture"


def mail(text: str = LISTING, subject: str = "1932 carrier", page: str = "") -> EmailMessage:
    message = EmailMessage()
    message["From"], message["To"], message["Subject"] = "A Seller <a@dairy.example>", "b@post.example", subject
    if text:
        message.set_content(text)
    if page and text:
        message.add_alternative(page, subtype="html")
    elif page:
        message.set_content(page, subtype="html")
    return message


def given(message: EmailMessage | bytes, name: str = "mail.eml") -> list[Document]:
    return list(read(Source(name, message if isinstance(message, bytes) else message.as_bytes())))


def shape(document: Document) -> tuple[str, dict[str, str], str]:
    return document.title, {f.label: f.text for f in document.fields if f.is_attribute}, document.text


PLAIN = ("1932 carrier", {"Year": "1932", "Frame no.": "33Q 09488 P"}, "It runs & stops.\nThe box is dented.")


@pytest.mark.parametrize(
    ("subject", "text"),
    [
        ("1932 carrier", LISTING),
        ("Re: Fwd: 1932 carrier", LISTING),
        ("=?utf-8?q?1932_carrier?=", LISTING),
        ("1932 carrier", "1932 carrier\n" + LISTING),
        ("1932 carrier", LISTING + "\n-- \nA Seller, since 1931\n"),
        ("1932 carrier", LISTING + "\nOn Tue, 3 Nov 2026 at 10:11, A Buyer <b@post.example> wrote:\n> Is it a 1928?\n"),
        ("1932 carrier", LISTING + "\nOn Tue, 3 Nov 2026 at 10:11, A Buyer\n<b@post.example> wrote:\n> Is it a 1928?\n"),
        ("Re: 1932 carrier", LISTING + "\n-----Original Message-----\n" + FORWARDED.format(subject="x") + "Is it a 1928?\n"),
        ("Fwd: look", "Is this any good? A 1928?\n\n---------- Forwarded message ---------\n" + FORWARDED.format(subject="1932 carrier") + LISTING),
        ("WG: 1932 carrier", "\nVon: A <a@x.example>\nGesendet: Dienstag\nAn: b@post.example\nBetreff: 1932 carrier\n\n" + LISTING),
        ("look", "Begin forwarded message:\n\n*From: *A <a@x.example>\n*Subject: **1932 carrier*\n*Date: *3 Nov\n\n" + LISTING),
        ("Fwd: look", "> " + (FORWARDED.format(subject="Fwd: 1932 carrier") + LISTING).replace("\n", "\n> ")),
        ("Fwd: Fwd: x", "----- Forwarded -----\n" + FORWARDED.format(subject="Fwd: y") + "---- Forwarded ----\n" + QUOTED_HEAD + LISTING),
        ("Fwd: x", FORWARDED.format(subject="1932 carrier") + LISTING + "\n" + FORWARDED.format(subject="old") + "Is it a 1928?"),
    ],
)
def test_a_mail_reads_like_the_pasted_text(subject: str, text: str) -> None:
    raw = mail(text, "SUBJECT").as_bytes().replace(b"SUBJECT", subject.encode())
    assert [shape(d) for d in given(raw)] == [PLAIN]


def test_an_answer_that_only_quotes_gives_what_it_quotes() -> None:
    text = "\nOn Tue, 3 Nov 2026, A Seller wrote:\n> " + LISTING.replace("\n", "\n> ")
    assert shape(given(mail(text, "Re: 1932 carrier"))[0]) == PLAIN


def test_a_headline_of_the_text_stays_where_the_subject_is_another() -> None:
    title, entries, text = shape(given(mail("Quillfeather carrier\n" + LISTING, "for sale"))[0])
    assert (title, entries) == ("for sale", PLAIN[1])
    assert text == "Quillfeather carrier\n\n" + PLAIN[2]


def test_a_listing_with_lines_like_headers_is_left_alone() -> None:
    text = "Date: 1932\nTo: be collected\nFrom: a barn, with two doors.\n\nIt runs."
    assert listing("1932 carrier", text) == ("1932 carrier", text)


@pytest.mark.parametrize("newline", [b"\n", b"\r\n", b"\r"])
def test_line_ends(newline: bytes) -> None:
    assert shape(given(mail().as_bytes().replace(b"\n", newline))[0]) == PLAIN


def test_a_page_for_a_body() -> None:
    page = "<p>Year: 1932<br>Frame no.: 33Q 09488 P</p><p>It runs &amp; stops.<br>The box is dented.</p><p style='display:none'>1928</p>"
    assert shape(given(mail("", page=page))[0]) == PLAIN
    page = "<table><tr><td>Year<td>1932<tr><td>Frame no.<td>33Q 09488 P</table><p>It runs &amp; stops.<br>The box is dented.</p>"
    assert shape(given(mail("", page=page))[0]) == PLAIN
    assert shape(given(mail("See page", page=page))[0]) == PLAIN
    assert shape(given(mail(page="<p>short</p>"))[0]) == PLAIN


def test_a_quoted_header_in_a_table_is_no_entry() -> None:
    head = "<table><tr><th>Subject: <td>1932 carrier<tr><th>Date: <td>3 Nov 2026<tr><th>From: <td>a@dairy.example</table>"
    page = head + "<p>Year: 1932<br>Frame no.: 33Q 09488 P</p><p>It runs &amp; stops.<br>The box is dented.</p>"
    assert shape(given(mail("", "Fwd: x", page))[0]) == PLAIN


def test_flowed_text_is_joined_again() -> None:
    assert unflowed("It runs \nand stops.\n  indented\n> quoted \n-- \nA") == "It runs and stops.\n indented\n> quoted \n-- \nA"
    raw = b"From: a\nSubject: 1932 carrier\nContent-Type: text/plain; format=flowed\n\nYear: 1932\n\nIt runs \nand stops.\n"
    assert shape(given(raw)[0]) == ("1932 carrier", {"Year": "1932"}, "It runs and stops.")


@pytest.mark.parametrize(
    ("declared", "encoding", "sign"),
    [("iso-8859-1", "cp1252", "£"), ("utf-8", "cp1252", "£"), ("punycode", "utf-8", "£"), ("koi8-r", "koi8-r", "р")],
)
def test_character_sets(declared: str, encoding: str, sign: str) -> None:
    raw = f"From: a\nSubject: x\nContent-Type: text/plain; charset={declared}\n\nprice {sign}".encode(encoding)
    assert [d.text for d in given(raw)] == [f"price {sign}"]


def test_nobody_is_named() -> None:
    (found,) = given(mail())
    assert not [f for f in found.fields if "example" in f.text]


def test_attachments_come_in_again() -> None:
    message = mail()
    message.add_attachment(b'{"id": 7, "title": "1930 carrier", "text": "x"}', maintype="application", subtype="json", filename="../../record.json")
    message.add_attachment("<h1>1931 carrier</h1><p>x</p>", subtype="html", filename="page.html")
    message.add_attachment(mail(subject="1933 carrier"))
    message.add_attachment(PICTURE, maintype="image", subtype="gif", filename="a.gif")
    message.add_attachment(b"BEGIN:VCARD", maintype="text", subtype="vcard", filename="me.vcf")
    found = given(message)
    assert [d.title for d in found] == ["1932 carrier", "1930 carrier", "1931 carrier", "1933 carrier"]
    assert [[p.name for p in d.photos] for d in found] == [["a.gif"], [], [], []]


def test_pictures_of_a_mail_without_text_go_with_its_one_listing() -> None:
    message = EmailMessage()
    message["From"], message["Subject"] = "a", "carrier"
    message.add_attachment(LISTING, filename="listing.txt")
    message.add_attachment(PICTURE, maintype="image", subtype="gif", filename="a.gif")
    (found,) = given(message)
    assert [p.name for p in found.photos] == ["a.gif"]


@pytest.mark.parametrize(("content", "what"), [(b"PK\x03\x04....", "a ZIP archive"), (b"%PDF-1.4", "a PDF file"), (bytes(range(256)), "binary data")])
def test_what_cannot_be_read_is_refused_in_one_line_after_the_rest(content: bytes, what: str) -> None:
    message = mail()
    message.add_attachment(content, maintype="application", subtype="zip", filename="more.zip")
    message.add_attachment(LISTING, filename="listing.txt")
    found: list[Document] = []
    with pytest.raises(UnreadableListing, match=what) as raised:
        found.extend(read(Source("mail.eml", message.as_bytes())))
    assert len(found) == 2
    assert "\n" not in str(raised.value)
    assert str(raised.value).startswith("mail.eml: attachment more.zip: ")


def test_a_mail_without_text_says_so() -> None:
    with pytest.raises(NothingThere, match="without text"):
        given(b"From: a\nSubject: b\nMIME-Version: 1.0\n\n\n")


def test_a_mail_is_known_by_its_headers(tmp_path: Path) -> None:
    raw = b"Received: by x\nFrom: a@b.example\nSubject: 1932 carrier\nMessage-ID: <1@x>\n\n" + LISTING.encode()
    path = tmp_path / "pasted"
    path.write_bytes(raw)
    assert [shape(d) for d in documents(str(path))] == [PLAIN]
    assert given(b"From: 1932 on it stood in a barn\n\nIt runs.", "listing.txt")[0].text.startswith("It runs")


def test_unhappy_encodings_raise_nothing_else() -> None:
    read_at_all = 0
    for body in (b"=3D=ZZ=", base64.b64encode(b"hello")[:-1] + b"*", b"begin 644 x\nM\n"):
        for encoding in (b"base64", b"quoted-printable", b"x-uuencode", b"rot13"):
            head = b"From: a\nSubject: =?x?b?=?= =?utf-8?b?/w=?= 1932\nContent-Type: text/plain; charset*=utf-9''%ff\n"
            raw = head + b"Content-Transfer-Encoding: " + encoding + b"\n\n" + body
            with contextlib.suppress(UnreadableListing):
                read_at_all += len(given(raw))
    assert read_at_all > 6
