"""The dossier for a registrar, a club or a licensed inspector: what was received and what tables read in it, without a verdict.

`dossier_of(audit)` gathers; `auditor/render/dossier.py` draws it. Findings appear as open points, without their grades:
who reads the dossier judges.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from auditor.audit import Audit
from auditor.render.answered import OUTCOME_WORDS
from auditor.render.marked import letter_name
from auditor.render.plain import one_line, place, source_words, title_of
from auditor.sheet import NAMES, Sheet, sheet_of
from claims.claim import OTHER_ITEM
from claims.pack import Pack
from claims.reading_of_number import readings_words
from extractors.document import Photo

NOTHING_OPEN = "No open point is known here. That is no proof that there is none."


@dataclass(frozen=True, slots=True)
class Received:
    """Words as received: what they are called, their day where it is known, and the words."""

    name: str
    day: str
    text: str


@dataclass(frozen=True, slots=True)
class Reading:
    """What a table reads from a number: the part, the number as written, where it stands, what it says, by which source."""

    part: str
    number: str
    where: str
    says: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Relied:
    """A table or rule set that was relied on, with its source in full."""

    words: str
    address: str
    remark: str


@dataclass(frozen=True, slots=True)
class Dossier:
    """Everything that is handed over, in its order."""

    title: str
    source: str
    received: tuple[Received, ...]
    sheet: Sheet
    readings: tuple[Reading, ...]
    account: tuple[tuple[str, tuple[str, ...]], ...]
    """(part, what is dated or said of it, one line each)."""
    answers: tuple[tuple[str, str], ...]
    open_points: tuple[str, ...]
    relied: tuple[Relied, ...]
    photos: tuple[Photo, ...]
    photos_left_out: int
    cautions: tuple[str, ...]


def dossier_of(audit: Audit, photos: int = 0) -> Dossier:
    """The dossier of an audit (a shared one hides what it must); `photos` is how many pictures were left out of it."""
    answers = tuple((one_line(a.topic.text), _answered(a.words, a.outcome)) for a in audit.answers)
    return Dossier(
        title_of(audit), audit.document.source, tuple(_received(audit)), sheet_of(audit), tuple(_readings(audit)), tuple(_account(audit)),
        answers, tuple(dict.fromkeys(_open(audit))) or (NOTHING_OPEN,), tuple(_relied(audit)), audit.document.photos, photos, audit.cautions,
    )  # fmt: skip


def _received(audit: Audit) -> Iterator[Received]:
    days = dict(audit.days)
    listing = [f for f in audit.document.fields if not letter_name(f.name)]
    words = "\n".join(f"{f.label}: {f.text}" if f.is_attribute else f.text for f in listing)
    yield Received("The listing", audit.document.seen, words)
    yield from (Received(name, days.get(f.name, ""), f.text) for f in audit.document.fields if (name := letter_name(f.name)))


def _readings(audit: Audit) -> Iterator[Reading]:
    seen: set[tuple[str, str]] = set()
    for d in audit.decodings:
        says = readings_words(d)
        if (d.number, says) not in seen:
            seen.add((d.number, says))
            sources = (s for r in d.readings for s in r.sources) if d.readings else iter(d.sources)
            yield Reading(
                _part(d.part, audit.packs), d.claim.quote.text, place(d.claim), says, tuple(dict.fromkeys(source_words(s) for s in sources))
            )


def _account(audit: Audit) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Part by part, what has been said of it by whom and what its numbers read."""
    said: dict[str, list[str]] = {}
    reads = {d.claim.quote: readings_words(d) for d in audit.decodings}
    for claim in audit.claims:
        if claim.is_decoded or claim.stance == OTHER_ITEM or claim.kind in {"hazard", "vehicle_type"}:
            continue
        manner = "" if claim.stance == "stated" else f", {claim.stance}"
        read = f", read as {reads[claim.quote]}" if claim.kind == "number" and claim.quote in reads else ""
        line = f"{claim.kind.replace('_', ' ')}: “{one_line(claim.quote.text)}”{read} ({place(claim)}{manner})"
        name = _part(claim.part, audit.packs)
        if line not in said.setdefault(name, []):
            said[name].append(line)
    yield from ((name, tuple(lines)) for name, lines in said.items())


def _open(audit: Audit) -> Iterator[str]:
    for finding in audit.findings:
        yield one_line(f"{finding.message}{f' To settle: {finding.settle}' if finding.settle else ''}")
    yield from (one_line(q.text) for q in audit.ranked if q.findings)
    yield from (s.text for s in audit.still_open)
    yield from (f"Left out by the tool: {f.where} failed." for f in audit.faults)


def _relied(audit: Audit) -> Iterator[Relied]:
    """Every source that a reading or an open point rests on, with the family's own where its rows were used."""
    found = {s: None for d in audit.decodings for s in ([s for r in d.readings for s in r.sources] or d.sources)}
    found |= {s: None for f in audit.findings for s in f.sources}
    seen: set[str] = set()
    for source in found:
        words = source_words(source)
        if words not in seen:
            seen.add(words)
            yield Relied(words, source.address, source.remark)


def _part(part: str, packs: tuple[Pack, ...]) -> str:
    named = {**NAMES, "vehicle": "the vehicle as a whole"}
    return next((p.parts[part].name for p in packs if part in p.parts), named.get(part, part))


def _answered(words: str, outcome: str) -> str:
    return f"{OUTCOME_WORDS[outcome]}{f': “{one_line(words)}”' if words else ''}"
