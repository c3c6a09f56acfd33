"""What replies and notes changed, in words that every form of report shows: findings, words taken back, answers, what is open."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from auditor.audit import Audit
from auditor.render.dates_in_words import span_words
from auditor.render.plain import one_line, place
from auditor.replies.changes import Change
from auditor.replies.later_word import Replaced
from claims.standards import edtf

if TYPE_CHECKING:
    from auditor.contract import BeliefRecord, BelievedRecord

HEADING = "What replies and notes changed"
CLEARED, NEW, STANDING = "Cleared", "New", "Standing"
ANSWERED, TAKEN, OPEN = "What was answered", "Words that others replaced", "Asked before and still open"
KNOWN = "What is known, before and after"
NOTHING_KNOWN = "nothing known"
NOTHING = "Nothing: every finding stands as before."
LEAST_SHOWN = 0.01
"""Makers less likely than this are left out on screens; JSON has them."""
OUTCOME_WORDS = {
    "told": "answered", "not known": "does not know", "put off": "put off for later", "declined": "will not say", "something else": "said something else",
    "no answer": "no answer",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Answered:
    """Groups of lines under their headings, in the order in which they are shown; a group without lines is absent."""

    changes: tuple[tuple[str, tuple[str, ...]], ...]
    taken: tuple[str, ...]
    known: tuple[str, ...]
    """What is known of each part before and after, where that changed."""
    answers: tuple[tuple[str, str], ...]
    """(question, what became of it)."""
    still_open: tuple[str, ...]

    @property
    def groups(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Everything, under headings, as plain lines."""
        answers = tuple(f"{question} – {said}" for question, said in self.answers)
        changed = self.changes or (("", (NOTHING,)),)
        return tuple(
            (h, lines) for h, lines in (*changed, (TAKEN, self.taken), (KNOWN, self.known), (ANSWERED, answers), (OPEN, self.still_open)) if lines
        )


def answered(audit: Audit) -> Answered | None:
    """What the letters of an audit changed; None where it has none."""
    if audit.changes is None:
        return None
    from auditor.contract import belief

    c = audit.changes
    groups = ((CLEARED, c.cleared), (NEW, c.new), (STANDING, c.standing))
    taken = dict.fromkeys(_taken(r) for r in c.replaced)
    answers = tuple((one_line(a.topic.text), _outcome(a.words, a.outcome)) for a in audit.answers)
    return Answered(
        tuple((heading, tuple(_change(one) for one in found)) for heading, found in groups if found),
        tuple(taken), tuple(_known(b, audit) for b in belief(audit)), answers, tuple(s.text for s in audit.still_open),
    )  # fmt: skip


def _change(change: Change) -> str:
    about = change.grade if not change.was else f"{change.grade}, before: {change.was}"
    machine = f"Machine {change.item}: " if change.item > 1 else ""
    part = f" [{change.part}]" if change.name == "number_missing" else ""
    return one_line(f"{machine}{change.message}{part} ({about}){f' – by {change.witness}' if change.witness else ''}")


def _taken(r: Replaced) -> str:
    same = r.earlier.quote == r.later.quote
    how = r.later.note if same else f"now “{r.later.quote.text}” ({_where(r.later.quote.field)})"
    return one_line(f"“{r.earlier.quote.text}” ({place(r.earlier)}): {how}: {r.why}")


def _known(record: "BeliefRecord", audit: Audit) -> str:
    name = next((p.parts[record.part].name for p in audit.packs if record.part in p.parts), record.part)
    return one_line(f"{name}: {_believed(record.before)} → {_believed(record.after)}")


def _believed(record: "BelievedRecord | None") -> str:
    """What is known of a part in words: how likely it is the first one, by whom, from when."""
    if record is None:
        return NOTHING_KNOWN
    original = f"original with about {round(100 * record.original)} %" if record.original is not None else ""
    likely = sorted(record.makers.items(), key=lambda m: -(m[1] or 0))
    makers = " or ".join(name if p is None else f"{name} ({round(100 * p)} %)" for name, p in likely if p is None or p >= LEAST_SHOWN)
    built = span_words(edtf.decode(f"{record.built.first}/{record.built.last}")) if record.built else ""
    return ", ".join(filter(None, (original, makers, built))) or NOTHING_KNOWN


def _where(field: str) -> str:
    return f"own {field}" if field.startswith("notes") else field


def _outcome(words: str, outcome: str) -> str:
    said = f": “{one_line(words)}”" if words else ""
    return f"{OUTCOME_WORDS[outcome]}{said}"
