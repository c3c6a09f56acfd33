"""Numbers as sellers write them: how far they reach, which part they are of, and what is none."""

import pytest

from claims.pack import shipped_packs
from claims.reader import read_claims
from extractors import make_document

PACKS = shipped_packs()


@pytest.mark.parametrize(
    ("title", "text", "numbers"),
    [
        ("Lambretta 1960", "Engine 150 LI 523456, frame 150LI 523112.", [("engine", "150LI523456"), ("frame", "150LI523112")]),
        ("Lambretta 1960", "Engine no. 150 cc 52345 miles.", []),
        ("Land Rover", "Engine is from a later one, number 27100456C.", [("engine", "27100456C")]),
        ("Land Rover", "Chassis 24122345A.", [("frame", "24122345A")]),
        ("Frame for sale", "No. 4471 is stamped on the frame.", [("frame", "4471")]),
        ("Old tractor", "Numbers 316 to 20894 were made in 1951.", []),
        ("Old motorcycle", "Engine number missing, frame number unreadable.", [("engine", None), ("frame", None)]),
        ("Old motorcycle", "Engine no: xxxx", [("engine", None)]),
        ("Old motorcycle", "Engine no. 26. 2. 1948", []),
        ("BSA A10", "eng no CA10-9033 frm no CA7-15512", [("engine", "CA109033"), ("frame", "CA715512")]),
        ("BSA A10", "Engine & frame numbers: CA10 9033 & CA7 15512", [("engine", "CA109033"), ("frame", "CA715512")]),
        (
            "BSA A10",
            "Frame no:CA7 15512Engine no:CA10 9033Reg no:WTR 881",
            [("frame", "CA715512"), ("engine", "CA109033"), ("registration", "WTR881")],
        ),
        ("BSA A10", "I cant find a frame number. Engine no has been ground off.", [("frame", None), ("engine", None)]),
        ("BSA A10", "engine number partly readable: CA10 90?3", [("engine", "CA1090?3")]),
        ("Old car", "VIN: 136370B123456, partial VIN on block 10B123456", [("vehicle", "136370B123456"), ("engine", "10B123456")]),
        ("Old car", "VIN ending in 3456. Title # 12345678.", [("vehicle", "3456")]),
        ("Old car", "vin # 1 3 6 3 7 0 B 1 2 3 4 5 6", [("vehicle", "136370B123456")]),
        ("Old tractor", "Serial no. on flywheel housing 1012345, maybe.", [("vehicle", "1012345")]),
        ("Old tractor", "Engine tag missing, no number to be found on the chassis", [("engine", None), ("frame", None)]),
        ("Old boat", "Bed off an 87. Call 555-0177", []),
        ("Old car", "Engine is a 1962 unit, 2 owners", []),
        (
            "Harley",
            "engine 42WLA 12345, belly numbers 42-8812 / 43-1020",
            [("engine", "42WLA12345"), ("component", "428812"), ("component", "431020")],
        ),
        ("Quillfeather", "frame number is thirty-six Q, one five seven two zero, R for Robert", [("frame", "36Q15720R")]),
        ("Quillfeather", "engine number one of two owners", []),
        ("Quillfeather", "frame number: yes, 33Q 07311 G", [("frame", "33Q07311G")]),
        ("Quillfeather", "Data plate on the box reads No. 36Q 11230 H", [("plate", "36Q11230H")]),
        ("Quillfeather", "Engine noQE 00817Load box noQB 00817", [("engine", "QE00817"), ("body", "QB00817")]),
        ("BSA A10", "The frame number was CA7 9118, it is now CA7 12547, so no.", [("frame", "CA79118"), ("frame", "CA712547")]),
        ("Old truck", "Data plate says 80041277 like the frame does", [("plate", "80041277")]),
        ("Old motorcycle", "Reg: PKL 218FMOT: none", [("registration", "PKL218F")]),
        ("Old car", "Engine: 948, runs. It has 203k on the body. UK V5C.", []),
        ("TRUCK 4X4 CREW CAB *****MUST GO*****", "CREW CAB 4X4 *****MUST GO*****", []),
        ("Boat", "MOTOR\n2004 Yamaha F25\nserial\n65W 1014471", [("engine", "65W1014471")]),
        ("Boat", "Repowered with a Suzuki DF90, 410 hours, serial 09003F-610882.", [("engine", "09003F610882")]),
        ("Old car", "Engine starts well. ENGINE STARTS WELL.", []),
        ("Old car", "Number ends in 310562. Both keys.", [("vehicle", "310562")]),
    ],
)
def test_numbers_of_a_text(title: str, text: str, numbers: list[tuple[str, str | None]]) -> None:
    """Each number that is read with its part, in the order of the text."""
    found = [c for c in read_claims(make_document(text, title=title), PACKS) if c.kind == "number" and c.basis == "seller"]
    assert [(c.part, c.value) for c in sorted(found, key=lambda c: c.quote.start)] == numbers


def test_numbers_of_a_table() -> None:
    text = (
        "| no. | maker | year | frame | engine | remarks |\n| 1 | Quillfeather QF-5 | 1930 | 33Q 069** | QE 101?4 | round web |\n"
        "| 2 | Ostrander & Pike OP-5 | 1931-32 | OP31-03790 | missing | double web |"
    )
    found = [c for c in read_claims(make_document(text, title="Two carriers"), PACKS) if c.kind in {"number", "year"} and c.basis == "seller"]
    assert [(c.part, c.value, c.stance) for c in sorted(found, key=lambda c: c.quote.start)] == [
        ("vehicle", "1930", "stated"),
        ("frame", "33Q069??", "stated"),
        ("engine", "QE101?4", "stated"),
        ("vehicle", "1931/1932", "stated"),
        ("frame", "OP3103790", "stated"),
        ("engine", None, "stated"),
    ]
