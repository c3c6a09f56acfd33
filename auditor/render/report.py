"""What the HTML and the Markdown report both show: findings tied to words, rules and sources, and everything around them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from auditor.audit import Audit
from auditor.finding import CONTRADICTION, GRADES, Finding
from auditor.render.accounts import HEADING, HOW, Account, accounts
from auditor.render.answered import Answered, answered
from auditor.render.asked import THEN, Asked, asked
from auditor.render.marked import Mark, Marked, marked
from auditor.render.places import Family, families
from auditor.render.plain import HEADINGS, STANDING_CAUTIONS, source_words, title_of
from auditor.render.timeline import Picture, pictures
from auditor.sheet import Sheet, sheet_of
from claims.pack_rows import Source
from extractors.document import Quote

PARTS_HEADING, HOW_BELIEVED, THEN_TELLING = HEADING, HOW, THEN
NO_TABLES = "No table here knows this make: only the words were compared."
NOTHING_FOUND = "Nothing was found against what is said. That is no proof that it is true."
NOTHING_READ = "Nothing was claimed that this tool reads: no maker, model, year, number or part."
NO_PLACES = (
    "No table here says where this make bears its numbers. An owners' club, the maker's handbook or a licensed inspector can; "
    "read the vehicle itself, not papers or a plate alone."
)
NO_CLEANING = (
    "Look and photograph as it stands, square on, with a dated note beside it. Do not clean, rub, scrape or strip anything: "
    "what is altered can no longer be read, and altering a number is an offence in many places."
)
KEEP_PRIVATE = "This report may repeat the seller's words and numbers in full. To show it to others, make it again with --share, which hides both."


@dataclass(frozen=True, slots=True)
class Cited:
    """A source with its letter, and what rests on it: findings by number, readings by their words."""

    letter: str
    words: str
    address: str
    remark: str
    findings: tuple[int, ...]
    readings: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """A finding with its number, the marks of the words it rests on, and the letters of its sources."""

    number: int
    finding: Finding
    marks: tuple[Mark, ...]
    sources: tuple[Cited, ...]
    item: int
    """The machine it is about, where the advert offers several and its words tell; else 0."""


@dataclass(frozen=True, slots=True)
class Report:
    """Everything that a full report shows, in its order."""

    title: str
    result: str
    tables: tuple[str, ...]
    grades: tuple[tuple[str, str, tuple[Shown, ...]], ...]
    """(grade, heading, findings), the gravest first; a grade without findings is absent."""
    marked: Marked
    pictures: tuple[Picture, ...]
    accounts: tuple[Account, ...]
    """What each vehicle and its parts probably are; empty where no family has sourced priors."""
    sheet: Sheet
    families: tuple[Family, ...]
    questions: Asked
    sources: tuple[Cited, ...]
    cautions: tuple[str, ...]
    faults: tuple[str, ...]
    source_name: str
    answered: Answered | None
    """What replies and notes changed; None where there are none."""


def report_of(audit: Audit) -> Report:
    """The report of an audit."""
    words = marked(audit)
    sources = tuple(_cited(audit, words))
    sheet, by_quote = sheet_of(audit), words.by_quote
    shown = [_shown(n, f, by_quote, sources, len(sheet.items) > 1) for n, f in enumerate(audit.findings, 1)]
    grades = tuple((g, HEADINGS[g], own) for g in GRADES if (own := tuple(s for s in shown if s.finding.grade == g)))
    return Report(
        title_of(audit), _result(audit), tuple(p.family for p in audit.packs), grades, words, pictures(audit), accounts(audit), sheet, families(audit),
        asked(audit), sources, (*audit.cautions, *STANDING_CAUTIONS),
        tuple(f"{f.where} failed and was left out: {f.message}" for f in audit.faults), _source_name(audit), answered(audit),
    )  # fmt: skip


def _source_name(audit: Audit) -> str:
    """The file that the listing came from and its own id, where it has them."""
    document = audit.document
    return ", ".join(dict.fromkeys(filter(None, (document.source, str(document.id) if document.source else ""))))


def _result(audit: Audit) -> str:
    """How many findings of each grade, in words."""
    counts = [(grade, sum(f.grade == grade for f in audit.findings)) for grade in GRADES]
    said = [f"{n} {grade}{'s' if n > 1 else ''}" for grade, n in counts if n]
    if not said:
        return NOTHING_FOUND if any(not c.is_decoded for c in audit.claims) else NOTHING_READ
    return f"{', '.join(said)}{'' if any(f.grade == CONTRADICTION for f in audit.findings) else '; no contradiction'}."


def _shown(number: int, finding: Finding, by_quote: Mapping[Quote, Mark], sources: Sequence[Cited], several: bool) -> Shown:
    item = finding.claims[0].item if several and finding.claims else 0
    marks = {m.number: m for c in finding.claims if (m := by_quote.get(c.quote))}
    return Shown(number, finding, tuple(marks[n] for n in sorted(marks)), tuple(s for s in sources if number in s.findings), item)


def _cited(audit: Audit, words: Marked) -> Iterator[Cited]:
    """Every source that a finding or a reading of a number rests on, lettered in the order of their first use."""
    by_quote = words.by_quote
    findings: dict[Source, list[int]] = {}
    readings: dict[Source, dict[int, Mark]] = {}
    for number, finding in enumerate(audit.findings, 1):
        for source in finding.sources:
            findings.setdefault(source, []).append(number)
    for decoding in audit.decodings:
        mark = by_quote.get(decoding.claim.quote)
        for source in (s for r in decoding.readings for s in r.sources) if decoding.readings else decoding.sources:
            own = readings.setdefault(source, {})
            if mark:
                own[mark.number] = mark
    merged: dict[str, list[Source]] = {}
    for source in [*findings, *readings]:
        same = merged.setdefault(source_words(source), [])
        if source not in same:
            same.append(source)
    for n, (said, same) in enumerate(merged.items()):
        marks = {k: m for s in same for k, m in readings.get(s, {}).items()}
        numbers = sorted({k for s in same for k in findings.get(s, ())})
        yield Cited(_letter(n), said, same[0].address, same[0].remark, tuple(numbers), tuple(marks[k] for k in sorted(marks)))


def _letter(n: int) -> str:
    """A, B, … Z, AA, AB, …"""
    return (_letter(n // 26 - 1) if n >= 26 else "") + chr(ord("A") + n % 26)
