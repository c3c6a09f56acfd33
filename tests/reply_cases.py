"""The exchanges of `fixtures/replies` as records: a listing, what was asked, what came back, what it should have changed.

The questions stand before the reply as quoted lines (`> 1. …`), as a mail program puts them.
A line of `changes` is `cleared|new|standing | check | part | why`, or `none`.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from auditor import Audit, audit
from auditor.case import IDENTITY_PARTS
from extractors.document import Document, make_document
from extractors.formats.plain_text import parts

FOLDER = Path(__file__).parent.parent / "fixtures" / "replies"
OUTCOMES = ("cleared", "new", "standing")
_SECTION = re.compile(r"^## (listing|questions|reply|notes|changes)[ \t]*\n", re.MULTILINE)


@dataclass(frozen=True)
class Exchange:
    """One file: its habit (heading) and its sections by name, as written."""

    name: str
    habit: str
    sections: dict[str, str]

    @property
    def document(self) -> Document:
        """The listing."""
        title, entries, body = parts(self.sections["listing"])
        return make_document(body, title=title, attributes=entries, id=self.name)

    @property
    def reply(self) -> str:
        """The reply below the quoted questions; empty where nothing came back."""
        if not self.sections.get("reply"):
            return ""
        asked = [f"> {line}" for line in self.sections.get("questions", "").split("\n") if line.strip()]
        return "\n".join([*asked, "", self.sections["reply"]])

    @property
    def expected(self) -> set[tuple[str, str, str]]:
        """(outcome, check, part) of every line of `changes`."""
        lines = [[cell.strip() for cell in line.split("|")] for line in self.sections["changes"].split("\n") if line.strip()]
        return {(line[0], line[1], _part(line[2])) for line in lines if line != ["none"]}

    def audited(self) -> Audit:
        """The listing audited with its reply and notes."""
        notes = self.sections.get("notes", "")
        return audit(self.document, replies=[self.reply] if self.reply else [], notes=[notes] if notes else [], strict=True)


def exchanges() -> Iterator[Exchange]:
    """Every exchange in the order of file names."""
    for path in sorted(FOLDER.glob("*.md")):
        text = path.read_text(encoding="utf-8")
        _, *found = _SECTION.split(text)
        sections = {name: body.strip("\n") for name, body in zip(found[::2], found[1::2], strict=True)}
        yield Exchange(path.stem, text.partition("\n")[0].lstrip("# "), sections)


def changed(result: Audit) -> set[tuple[str, str, str]]:
    """(outcome, check, part) of everything that an audit's letters changed or left standing."""
    if result.changes is None:
        return set()
    return {(o, c.name, _part(c.part)) for o in OUTCOMES for c in getattr(result.changes, o)}


def _part(part: str) -> str:
    """A part as exchanges name it: those whose number stands for the whole vehicle are one ("serial number", "chassis")."""
    return "vehicle" if part in IDENTITY_PARTS else part


def is_right(exchange: Exchange, got: set[tuple[str, str, str]]) -> bool:
    """Whether all that was cleared and all that is new is what the file says, and all that it says stands does."""
    moved = {row for row in got if row[0] != "standing"}
    wanted = {row for row in exchange.expected if row[0] != "standing"}
    return moved == wanted and exchange.expected <= got


def shown(exchange: Exchange, result: Audit) -> str:
    """What a failing test prints: listing, reply, expected, got."""
    got = sorted(changed(result))
    replaced = [f"{r.earlier.quote.text!r} -> {r.later.quote.text!r} ({r.why})" for r in result.changes.replaced] if result.changes else []
    asked = [f"{a.topic.text} -> {a.words!r} ({a.outcome})" for a in result.answers]
    said = [f"{c.kind} {c.part} {c.value} {c.stance} {c.quote.text!r}" for c in result.claims if c.basis in {"reply", "notes"}]
    return "\n".join([
        "", f"{exchange.name}: {exchange.habit}", exchange.sections["listing"], "-- reply", exchange.reply, "-- notes", exchange.sections.get("notes", ""),
        "-- expected", exchange.sections["changes"], "-- got", *(" | ".join(row) for row in got), "-- replaced", *replaced, "-- answers", *asked,
        "-- claims", *said,
    ])  # fmt: skip
