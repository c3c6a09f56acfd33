"""The readable fixtures as records: every level-2 heading of a Markdown file under `fixtures` with its fenced blocks.

A case has a `listing` block (form of a gold listing: `title: …`, entries `Name: value`, an empty line, the text) and
at most one block of each other name: `findings`, `conflict`, `claims`.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from auditor.finding import Finding
from extractors.document import Document, make_document

FIXTURES = Path(__file__).parent.parent / "fixtures"
BLOCK = re.compile(r"^```(listing|findings|conflict|claims)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_HEADING = re.compile(r"^## (.+)\n", re.MULTILINE)


@dataclass(frozen=True)
class Case:
    """One heading of a fixture file (its stem, its place in `fixtures`) with its blocks by name."""

    file: str
    heading: str
    blocks: dict[str, str]

    @property
    def document(self) -> Document:
        """The listing; raises `ValueError` where a line above the empty one is no `Name: value`."""
        head, _, text = f"\n{self.blocks['listing']}".partition("\n\n")
        lines = [line.partition(": ") for line in head.strip("\n").split("\n") if line]
        if wrong := next((name for name, colon, _ in lines if not colon), ""):
            raise ValueError(f"{self.file}: {self.heading}: {wrong!r} is no `Name: value`; an empty line parts entries and text")
        entries = {name: value for name, _, value in lines}
        return make_document(text.removesuffix("\n"), title=entries.pop("title", ""), attributes=entries, id=self.heading)

    def lines(self, block: str) -> list[str]:
        """The lines of a block, without empty ones."""
        return [line.strip() for line in self.blocks[block].splitlines() if line.strip()]


def cases(folder: str) -> Iterator[Case]:
    """Every case of the Markdown files of a folder of `fixtures`, file by file; raises `ValueError` for a block that comes twice."""
    for path in sorted((FIXTURES / folder).glob("*.md")):
        _, *sections = _HEADING.split(path.read_text(encoding="utf-8"))
        for heading, section in zip(sections[::2], sections[1::2], strict=True):
            found = BLOCK.findall(section)
            if len(dict(found)) != len(found) or "listing" not in dict(found):
                raise ValueError(f"{path.name}: {heading}: one listing block and no block twice, please")
            yield Case(path.stem, heading.strip(), dict(found))


def line_of(finding: Finding) -> str:
    """A finding as a line of a `findings` block: its grade and the words of each of its claims, parted by ` | `."""
    return " | ".join((finding.grade, *(claim.quote.text.replace("\n", "⏎") for claim in finding.claims)))


def shown(case: Case, expected: list[str], got: list[str]) -> str:
    """What a failing test prints."""
    return "\n".join(["", f"{case.file}: {case.heading}", case.blocks["listing"], "expected:", *expected, "got:", *got])
