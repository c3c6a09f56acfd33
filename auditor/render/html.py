"""The report as one self-contained page: no script, nothing loaded from elsewhere, light and dark, screen and paper.

Everything that a template prints passes `harmless` and is escaped; only the templates themselves are markup.
"""

from functools import cache
from typing import TYPE_CHECKING, Any

from auditor.audit import Audit
from auditor.questions import IN_A_LETTER
from auditor.render import report
from auditor.render.answered import HEADING
from auditor.render.dated_rows import EVENT, KNOWN, READ, SAID
from auditor.render.plain import harmless
from auditor.sheet import WITNESSES

if TYPE_CHECKING:
    from jinja2 import Environment

BAR_WORDS = {SAID: "stated", READ: "read from a number by a table", EVENT: "event", KNOWN: "what the tables know"}
"""The legend of the picture."""


def render(audit: Audit) -> str:
    """The whole page with a line end."""
    page = templates().get_template("report.html.j2")
    shown = report.report_of(audit)
    return (
        page.render(r=shown, words=report, in_a_letter=IN_A_LETTER, witnesses=WITNESSES, bar_words=BAR_WORDS, answered_heading=HEADING).strip() + "\n"
    )


@cache
def templates() -> "Environment":
    """The templates of this folder: everything printed is made harmless and escaped."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    return Environment(
        loader=PackageLoader("auditor", "render"), autoescape=True, undefined=StrictUndefined, finalize=_shown,
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip


def _shown(value: Any) -> Any:
    """What a template prints: text made harmless before it is escaped; markup, which only templates make, as it is."""
    return harmless(value) if type(value) is str else value
