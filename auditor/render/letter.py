"""A letter to the seller: three open questions, no reasons, no expected answers."""

import textwrap

from auditor.audit import Audit
from auditor.render.plain import harmless, one_line, title_of

WIDTH = 76


def render(audit: Audit) -> str:
    """The letter as text; with nothing to ask it says so."""
    questions = audit.letter
    if not questions and audit.still_open:
        open_points = [line for s in audit.still_open for line in textwrap.wrap(s.text, WIDTH, initial_indent="-  ", subsequent_indent="   ")]
        return harmless("\n".join(["Nothing new to ask. Asked before and still open:", "", *open_points])) + "\n"
    if not questions:
        return "Nothing to ask: every question that this tool knows is answered by the listing.\n"
    lines = [
        "Hello,",
        "",
        *textwrap.wrap(f"{_opening(audit)}could you help me with {_count(len(questions))}{' more' if audit.changes else ''}?", WIDTH),
        "",
    ]
    for number, question in enumerate(questions, 1):
        lines += textwrap.wrap(one_line(question.text), WIDTH, initial_indent=f"{number}. ", subsequent_indent="   ")
    lines += [
        "",
        *textwrap.wrap(
            "One photograph with today's date on a slip of paper beside the number would be ideal. Please leave everything as it is: no cleaning or rubbing is needed. If you prefer not to show a number in public, a private message is fine.",
            WIDTH,
        ),
        "",
        "Thank you and kind regards",
    ]
    return harmless("\n".join(lines)) + "\n"


def _opening(audit: Audit) -> str:
    title = title_of(audit)
    return (
        f"Thank you for your answer about “{title}”. If I may, " if audit.changes else f"I am interested in “{title}”. Before we arrange anything, "
    )


def _count(n: int) -> str:
    return "one question" if n == 1 else f"{('two', 'three')[n - 2]} questions"
