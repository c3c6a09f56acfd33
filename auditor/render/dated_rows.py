"""What is dated in a listing: a row for each date stated, number read, event, and what the tables know of it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from auditor.audit import Audit
from auditor.case import stated_span
from auditor.render.dates_in_words import date_words, span_words
from auditor.render.plain import one_line, place
from auditor.sheet import packs_of
from auditor.ties import findings_on
from claims.claim import DENIED, OTHER_ITEM, STATED, Claim
from claims.pack import Pack
from claims.reading_of_number import Decoding
from claims.standards import edtf
from claims.standards.edtf import OPEN_END, Span
from extractors.document import Quote

SAID, READ, EVENT, KNOWN = "said", "read", "event", "known"
"""Kinds of row: a date stated, a number read by a table, an event, what a pack knows of a model or feature."""
_EVENTS = {"registered": "registered", "delivered": "sold or delivered", "restored": "restored", "used": "used"}
BY_READING = "number_dates_another_year"
"""The finding that rests on one reading of a number where several packs or schemes read it."""
_STATED = {"year": "year", "built": "built"}


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the picture: what it is, the spans it can mean (any one of them), and what they rest on."""

    kind: str
    label: str
    where: str
    spans: tuple[Span, ...]
    """Every span it can mean, one of them being enough."""
    room: tuple[Span, ...] = ()
    """The same spans with the room that "circa" and doubt give; empty where they have none."""
    quotes: tuple[Quote, ...] = ()
    rule: str = ""
    findings: tuple[int, ...] = ()

    @property
    def reach(self) -> tuple[Span, ...]:
        """The spans with their room."""
        return self.room or self.spans

    @property
    def when(self) -> str:
        """Its spans in words."""
        return " or ".join(dict.fromkeys(span_words(s) for s in self.spans))


def dated_rows(audit: Audit, item: int) -> list[Row]:
    """Every row of one machine, with the findings that rest on it."""
    tied = findings_on(audit)
    by_rule: dict[str, list[int]] = {}
    for number, finding in enumerate(audit.findings, 1):
        by_rule.setdefault(finding.rule, []).append(number)
    return [replace(row, findings=tuple(_findings(audit, row, tied, by_rule))) for row in _rows(audit, item)]


def _rows(audit: Audit, item: int) -> Iterator[Row]:
    packs = packs_of(audit, item)
    said = [c for c in audit.claims if c.item == item and c.is_said]
    read = [d for d in audit.decodings if d.claim.item == item and d.claim.stance not in {OTHER_ITEM, DENIED}]
    yield from _known_rows(said, packs)
    yield from _said_rows([c for c in said if c.kind in _STATED], SAID)
    yield from _read_rows(read)
    yield from _said_rows([c for c in said if c.kind in _EVENTS], EVENT)
    yield from (row for c in said if c.kind == "feature" and (row := _feature_row(c, packs, read)))


def _said_rows(claims: Sequence[Claim], kind: str) -> Iterator[Row]:
    """A row for each date said; the same date of the same thing said again is the same row."""
    same: dict[tuple[str, str, str | None, str], list[Claim]] = {}
    for claim in claims:
        same.setdefault((claim.kind, claim.part, claim.value, claim.stance), []).append(claim)
    for own in same.values():
        first, room = own[0], stated_span(own[0])
        if room is None:
            continue
        span = edtf.decode(first.value or "")
        part = "" if first.part == "vehicle" else f"{first.part} "
        manner = "" if first.stance == STATED else f" ({first.stance})"
        label = f"{part}{(_STATED | _EVENTS)[first.kind]} {date_words(first.value or '')}{manner}"
        where = ", ".join(dict.fromkeys(one_line(place(c)) for c in own))
        yield Row(kind, label, where, (span,), (room,) if (room.first, room.last) != (span.first, span.last) else (), tuple(c.quote for c in own))


def _read_rows(read: Sequence[Decoding]) -> Iterator[Row]:
    """A row for each dated number: what it dates its part to; the same number given again is the same row.

    A casting date is the earliest that the part can have, so its bar is open.
    """
    same: dict[tuple[str, str, str], list[Decoding]] = {}
    for decoding in read:
        if decoding.spans:
            same.setdefault((decoding.part, decoding.number, decoding.rule), []).append(decoding)
    for own in same.values():
        first = own[0]
        name = first.pack.parts[first.part].name if first.pack and first.part in first.pack.parts else first.part
        casting = first.scheme is not None and first.scheme.earliest
        what = "cast" if casting else "mark" if first.part == "registration" and not first.pack else "number"
        spans = tuple(dict.fromkeys(Span(s.first, OPEN_END) if casting else s for s in first.spans))
        where = ", ".join(dict.fromkeys(one_line(place(d.claim)) for d in own))
        yield Row(READ, f"{name} {what} {one_line(first.claim.quote.text)}", where, spans, (), tuple(d.claim.quote for d in own), first.rule)


def _known_rows(said: Sequence[Claim], packs: Sequence[Pack]) -> Iterator[Row]:
    """When the model named, else the family, was built: by its pack."""
    for pack in packs:
        models = {c.value for c in said if c.kind == "model" and c.part == "vehicle"}
        named = [n for n in pack.models if (n.from_ or n.to) and n.canonical in models]
        rule = f"{pack.id}/production"
        for name in named:
            span = edtf.decode(f"{name.from_}/{name.to}")
            yield Row(KNOWN, f"production: {name.canonical}", _table(pack, name.source_id), (span,), rule=rule)
        production = pack.production_span()
        if production and not named:
            yield Row(KNOWN, f"production: {pack.family.partition(' (')[0]}", _table(pack, ""), (production,), rule=rule)


def _feature_row(claim: Claim, packs: Sequence[Pack], read: Sequence[Decoding]) -> Row | None:
    """When a feature was fitted, by the makers that the numbers name, else by any; None where the pack gives no months."""
    pack = next((p for p in packs if p.id == claim.family), None)
    name, _, variant = (claim.value or "").partition("=")
    if pack is None or name not in pack.features:
        return None
    makers = {m for d in read if d.pack is pack and d.part == pack.identity for m in d.makers}
    rows = [s for s in pack.spans if s.feature == name and s.variant == variant and (not makers or s.maker in makers) and (s.from_ or s.to)]
    spans = tuple(dict.fromkeys(edtf.decode(f"{s.from_[:7]}/{s.to[:7]}") for s in rows))
    if not spans:
        return None
    return Row(KNOWN, f"fitted: “{one_line(claim.quote.text)}”", _table(pack, pack.features[name].source_id), spans, (), (claim.quote,))


def _table(pack: Pack, source_id: str) -> str:
    return one_line(pack.source(source_id).title)


def _findings(audit: Audit, row: Row, tied: Mapping[Quote, tuple[int, ...]], by_rule: Mapping[str, Sequence[int]]) -> list[int]:
    """The findings that rest on a row: on its words, and where it is a number on its own reading; on its rule where it has no words."""
    if not row.quotes:
        return list(by_rule.get(row.rule, ())) if row.rule else []
    numbers = sorted({n for quote in row.quotes for n in tied.get(quote, ())})
    if row.kind != READ:
        return numbers
    return [n for n in numbers if audit.findings[n - 1].name != BY_READING or audit.findings[n - 1].rule in {"", row.rule}]
