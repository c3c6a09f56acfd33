"""What replies and notes changed: findings cleared, new and standing, against the same run without them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from auditor.finding import Finding
from auditor.replies.later_word import OWN_READING, Replaced
from claims.claim import NOTES, PHOTO, REPLY, Claim

WITNESS = {REPLY: "the seller's reply", NOTES: "own notes", PHOTO: "a photograph"}
MISSING = "number_missing"


@dataclass(frozen=True, slots=True)
class Change:
    """A finding of one part that was cleared, is new or stands; a gap that names several parts is one change for each."""

    name: str
    part: str
    item: int
    message: str
    grade: str
    was: str = ""
    """The grade before, where it stands with another."""
    witness: str = ""
    """By whose word it was cleared or came up, with the words."""


@dataclass(frozen=True, slots=True)
class Changes:
    """Findings cleared, new and standing, and the words that others replaced."""

    cleared: tuple[Change, ...]
    new: tuple[Change, ...]
    standing: tuple[Change, ...]
    replaced: tuple[Replaced, ...]


Rows = Sequence[tuple[Finding, str, int]]
"""(finding, part, item): a finding once for each part that it is about."""


def changes(before: Rows, after: Rows, told: Sequence[Claim], words: Sequence[Replaced]) -> Changes:
    """Compare the findings of two runs; `told` are the claims of the letters, `words` those replaced."""
    old, new = list(before), list(after)
    standing: list[Change] = []
    for same in (_same_ground, _same_matter):
        for one in list(new):
            if found := next((o for o in old if same(o, one)), None):
                old.remove(found)
                new.remove(one)
                was = found[0].grade if found[0].grade != one[0].grade else ""
                standing.append(_change(one, was))
    order = {id(f): n for n, (f, _, _) in enumerate(after)}
    standing.sort(key=lambda c: next((order[id(f)] for f, p, i in after if (f.name, p, i) == (c.name, c.part, c.item)), 0))
    return Changes(
        tuple(_change(row, witness=_cleared_by(row, told, words)) for row in old),
        tuple(_change(row, witness=_raised_by(row[0])) for row in new),
        tuple(standing),
        tuple(words),
    )


def _same_ground(one: tuple[Finding, str, int], other: tuple[Finding, str, int]) -> bool:
    return _same_matter(one, other) and [c.quote for c in one[0].claims] == [c.quote for c in other[0].claims]


def _same_matter(one: tuple[Finding, str, int], other: tuple[Finding, str, int]) -> bool:
    return (one[0].name, *one[1:]) == (other[0].name, *other[1:])


def _change(row: tuple[Finding, str, int], was: str = "", witness: str = "") -> Change:
    finding, part, item = row
    return Change(finding.name, part, item, finding.message, finding.grade, was, witness)


def _cleared_by(row: tuple[Finding, str, int], told: Sequence[Claim], words: Sequence[Replaced]) -> str:
    """Whose word cleared a finding: what replaced a claim that it rests on, else what was told of its part."""
    finding, part, item = row
    quotes = {c.quote for c in finding.claims}
    by = [r.later for r in words if r.earlier.quote in quotes]
    if not by:
        by = [c for c in told if c.item == item and c.part == part and c.value and (c.kind == "number" or finding.name != MISSING)]
    by = by or [c for c in told if c.item == item]
    return _words(by[0]) if by else ""


def _raised_by(finding: Finding) -> str:
    return next((_words(c) for c in finding.claims if c.basis in WITNESS), "")


def _words(claim: Claim) -> str:
    return f"{WITNESS.get(claim.basis, WITNESS[REPLY])}: “{claim.quote.text}”"


def outranked(words: Sequence[Replaced]) -> Iterator[Claim]:
    """The numbers that one's own reading replaced: they are still set against it."""
    return (r.earlier for r in words if r.why == OWN_READING and r.earlier.kind == "number")
