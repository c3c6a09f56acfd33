"""What every renderer needs: text from outside made harmless, and the words that all reports share."""

import unicodedata

from auditor.audit import Audit
from auditor.finding import CONTRADICTION, DOUBT, GAP, NOTE, Finding
from claims.claim import Claim
from claims.pack_rows import Source

HEADINGS = {
    CONTRADICTION: "Cannot both hold",
    DOUBT: "Doubtful",
    GAP: "Not given",
    NOTE: "Worth knowing",
}
STANDING_WORDS = {
    "published": "published", "invented": "invented demo data", "secondary": "second-hand source",
    "practice": "common practice, no source", "memory": "from memory, not checked",
}  # fmt: skip
STANDING_CAUTIONS = (
    "This report compares statements; it is no proof of identity and accuses nobody. Registries, local law and licensed inspectors decide.",
    "Before paying, ask the official registers about finance, theft, write-off and import; a registration paper "
    "names the keeper, not always the owner.",
)
_SHOWN_AS = "\N{SYMBOL FOR NULL}"


def harmless(text: str) -> str:
    """Text from outside without control sequences: control and direction characters become visible or vanish.

    >>> harmless("a\\x1b[31mb")
    'a␛[31mb'
    """
    if text.isprintable():
        return text
    return "".join(c if c == "\n" or c.isprintable() else _visible(c) for c in text)


def _visible(c: str) -> str:
    if c in "\t\r":
        return " "
    if ord(c) < 32:
        return chr(ord(_SHOWN_AS) + ord(c))
    return "" if unicodedata.category(c) in {"Cf", "Cs"} else " " if c.isspace() else "\N{REPLACEMENT CHARACTER}"


def one_line(text: str) -> str:
    """Harmless text on one line."""
    return " ".join(harmless(text).split())


def place(claim: Claim) -> str:
    """Where a claim stands, as a form shows it."""
    return claim.quote.field.removeprefix("attributes.")


def source_words(source: Source) -> str:
    """A source in one line: title, publisher, year, standing."""
    about = ", ".join(filter(None, (source.publisher if source.publisher != source.standing else "", source.year)))
    return f"{source.title}{f' ({about})' if about else ''}; {STANDING_WORDS[source.standing]}"


def by_grade(audit: Audit) -> list[tuple[str, list[Finding]]]:
    """(grade, findings) for every grade that has any, the gravest first."""
    return [(grade, found) for grade in HEADINGS if (found := [f for f in audit.findings if f.grade == grade])]


def title_of(audit: Audit) -> str:
    """What a report calls the listing: its headline, else its first words."""
    text = one_line(audit.document.title or audit.document.text or "listing")
    return text if len(text) <= 90 else text[:87].rsplit(" ", 1)[0] + " …"
