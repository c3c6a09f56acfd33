"""A letter taken apart: whose words each line is, its day, its pictures; any letter at all keeps its places."""

from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from extractors.errors import NothingThere, TooLarge, UnreadableListing
from extractors.letter import ASIDE, MAX_LETTER, OWN, QUOTED, number_of, own_words, passages
from extractors.letters import letter, letter_of
from extractors.source import Source

PNG = b"\x89PNG\r\n\x1a\n" + b"0" * 40
LINES = st.lists(
    st.sampled_from(["> quoted?", "> 2. Which?", "1) yes", "2. no", "Hi Tom,", "Cheers", "-- ", "", "  ", "On Mon, A wrote:", "Sent from my phone", "33Q 07311 G", "a\u2028b"])
    | st.text(max_size=30),
    max_size=25,
)  # fmt: skip


def own(text: str) -> list[tuple[int, str]]:
    return [(p.number, p.of(text)) for p in passages(text) if p.kind == OWN]


@pytest.mark.parametrize(("text", "expected"), [
    ("Hello Mr Lowe,\nit runs.\n\nKind regards\nA. Pym\nTollenby", [(0, "it runs.")]),
    ("> What is it?\nA carrier.", [(0, "A carrier.")]),
    ("Engine is QE 07455\n\nOn Tue, 3 Nov 2026, A Buyer wrote:\n> Which engine?\n", [(0, "Engine is QE 07455")]),
    ("See below\n\nOn Tue, 3 Nov 2026, A Buyer wrote:\n> Which engine?\nQE 07455\n> Which year?\n1931", [(0, "See below"), (0, "QE 07455"), (0, "1931")]),
    ("It runs.\n\nFrom: A\nSent: today\nTo: B\nSubject: carrier\n\nDoes it run?", [(0, "It runs.")]),
    ("From: A\nSent: today\nTo: B\nSubject: carrier\n\nIt runs.", [(0, "It runs.")]),
    ("1. yes\n2) no\n(3) maybe\nQ4: 1931", [(1, "yes"), (2, "no"), (3, "maybe"), (4, "1931")]),
    ("1 K4 62010\n2 K4 62010", [(1, "K4 62010"), (2, "K4 62010")]),
    ("2 owners and 3 keys", [(0, "2 owners and 3 keys")]),
    ("1.5 litres\n16.5.1931 it says", [(0, "1.5 litres\n16.5.1931 it says")]),
    ("It runs.\nThanks\nTom\n\nPS the engine is QE 07455", [(0, "It runs."), (0, "PS the engine is QE 07455")]),
    ("Thanks for asking, it runs.", [(0, "Thanks for asking, it runs.")]),
    ("It runs.\n-- \nTom Lowe\n33Q 07311 G", [(0, "It runs.")]),
    ("Guten Tag,\nläuft gut.\n\nMit freundlichen Grüßen\nD. Kassel", [(0, "läuft gut.")]),
    ("It runs.\nSent from my telephone", [(0, "It runs.")]),
])  # fmt: skip
def test_only_the_writers_own_words_are_read(text: str, expected: list[tuple[int, str]]) -> None:
    assert own(text) == expected


@given(LINES.map("\n".join))
def test_any_letter_keeps_its_places(text: str) -> None:
    found = passages(text)
    assert all(p.start < p.end <= len(text) and p.kind in {QUOTED, OWN, ASIDE} for p in found)
    assert all(a.end <= b.start for a, b in pairwise(found))
    kept = own_words(text)
    assert len(kept) == len(text)
    assert all(k in (c, " ") for k, c in zip(kept, text, strict=True))
    assert all(p.of(text) == kept[p.start : p.end] for p in found if p.kind == OWN)


def test_a_number_before_a_line_is_told_quoted_or_not() -> None:
    assert [number_of(line) for line in ("> 2. Which?", "3) this", "1931 it is", ">> #4 that", "12.5 mm")] == [2, 3, 0, 4, 0]


def test_a_mail_is_read_whole_with_its_day_and_pictures(tmp_path: Path) -> None:
    from email.message import EmailMessage

    mail = EmailMessage()
    mail["From"], mail["To"], mail["Subject"], mail["Date"] = "a@x.example", "b@x.example", "Re: carrier", "Tue, 3 Nov 2026 23:30:00 +0100"
    mail["Message-ID"] = "<1@x.example>"
    mail.set_content("QE 07455\n\nOn Mon, 2 Nov 2026, A Buyer wrote:\n> Which engine?\n")
    mail.add_attachment(PNG, maintype="image", subtype="png", filename="pad.png")
    path = tmp_path / "answer.eml"
    path.write_bytes(mail.as_bytes())
    read = letter(str(path))
    assert own(read.text) == [(0, "QE 07455")]
    assert "> Which engine?" in read.text
    assert read.seen == "2026-11-03"
    assert [(p.name, p.data) for p in read.photos] == [("pad.png", PNG)]


def test_pasted_text_has_no_headline_and_no_form_and_may_begin_with_its_day() -> None:
    read = letter_of(Source("notes.txt", b"2026-11-14\nFrame: 33Q 07311 G\n\nPlate gone."))
    assert [f.name for f in read.fields] == ["text"]
    assert read.seen == "2026-11-14"
    assert letter_of(Source("notes.txt", b"14 November, dry")).seen == ""
    assert letter_of(Source("page.html", b"<html><body><p>Engine QE 07455</p></body></html>")).text.strip() == "Engine QE 07455"


def test_a_letter_that_cannot_be_read_is_refused_in_one_line(tmp_path: Path) -> None:
    for data, error in ((b"", NothingThere), (b"a " * MAX_LETTER, TooLarge), (b"%PDF-1.7", UnreadableListing)):
        path = tmp_path / "letter.txt"
        path.write_bytes(data)
        with pytest.raises(error) as raised:
            letter(str(path))
        assert "\n" not in str(raised.value)
