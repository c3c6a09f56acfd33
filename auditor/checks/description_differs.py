"""What the number says of fuel, steering or body is not what the listing describes.

Letters in a number may tell the engine's fuel, the market or the body. Engines and bodies are exchanged, and cars are
converted, so that it is a doubt; silent where the listing owns up to a change.
"""

import re
from collections.abc import Iterator

from auditor.case import Case
from auditor.finding import DOUBT, Finding

ASK = "Has anything about the {part} been changed since it was built, as far as you know?"
ABOUT = "statement"
PART_OF = {"fuel": "engine", "steering": "vehicle", "body_style": "body"}
WORDS = {
    "gasoline": "petrol",
    "tvo": "paraffin",
    "vaporising oil": "paraffin",
    "kerosene": "paraffin",
    "lamp oil": "paraffin",
    "lhd": "left",
    "rhd": "right",
    "left hand drive": "left",
    "right hand drive": "right",
    "sedan": "saloon",
    "fixed head coupe": "coupe",
    "drophead coupe": "convertible",
}


def check(case: Case) -> Iterator[Finding]:
    """Compare each thing that a number tells with the same thing as described."""
    for decoding in case.decodings:
        for what, value in decoding.said:
            part = PART_OF.get(what)
            if part is None or case.is_owned_up(part):
                continue
            described = [c for c in case.said(what) if c.value]
            if not described or any(_stands_for(value, str(c.value)) for c in described):
                continue
            number = case.part_name(decoding.part)
            yield Finding(
                "description_differs",
                DOUBT,
                f"“{described[0].quote.text}” is said, but {number} number {decoding.claim.quote.text} stands for {value}.",
                part,
                (described[0], decoding.claim),
                decoding.rule,
                decoding.sources,
                False,
                ("It may have been converted, or the part exchanged.",),
                f"A photograph of the {number} number, and what was changed.",
            )


def _stands_for(value: str, said: str) -> bool:
    """Whether one of the readings of a number (`value`, between " | ") names what is `said`, alone or among more words
    ("diesel three-cylinder")."""
    for reading in value.lower().split(" | "):
        for words, plain in WORDS.items():
            reading = re.sub(rf"\b{re.escape(words)}\b", plain, reading)
        if set(re.findall(r"\w+", said.lower())) <= set(re.findall(r"\w+", reading)):
            return True
    return False
