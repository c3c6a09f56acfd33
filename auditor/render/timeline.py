"""The picture of time: a bar for each dated statement, reading and event on one scale, so that what cannot meet is seen.

Bars that a finding sets against each other stand one below the other, with the distance between them measured like a
dimension in a drawing. `pictures(audit)` gives one picture a machine; `timeline.svg.j2` draws it, and its rows are
also a table in words.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from auditor.audit import Audit
from auditor.case import stated_span
from auditor.finding import CONTRADICTION, DOUBT, Finding
from auditor.render.dates_in_words import apart_words, date_words, span_words
from auditor.render.plain import one_line, place
from auditor.render.time_axis import LEFT, RIGHT, Axis, axis_of
from auditor.sheet import packs_of
from claims.claim import DENIED, OTHER_ITEM, STATED, Claim
from claims.pack import Pack
from claims.pack_rows import Source
from claims.reading_of_number import Decoding
from claims.standards import edtf
from claims.standards.edtf import OPEN_END, OPEN_START, Span
from extractors.document import Quote

SAID, READ, EVENT, KNOWN = "said", "read", "event", "known"
"""Kinds of bar: a date stated, a number read by a table, an event, what a pack knows of a model or feature."""
MOST_ROWS = 60
NARROWEST = 0.6
"""Width of a month's bar at least, in percent."""
LONGEST_LABEL = 44
_EVENTS = {"registered": "registered", "delivered": "sold or delivered", "restored": "restored"}
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


@dataclass(frozen=True, slots=True)
class Bar:
    """A drawn span: x and width in percent; `before`, `after` are the x of its room's ends (its own where it has none)."""

    x: float
    width: float
    before: float
    after: float


@dataclass(frozen=True, slots=True)
class Gap:
    """The distance between two rows that do not meet: from the end of the earlier to the start of the later."""

    finding: int
    grade: str
    start_x: float
    end_x: float
    words: str
    first_row: int
    second_row: int
    """Indexes of the two rows in the picture."""


@dataclass(frozen=True, slots=True)
class Picture:
    """The rows of one machine with their bars, the scale, and the gaps, each after the row of that index."""

    item: int
    axis: Axis
    rows: tuple[Row, ...]
    bars: tuple[tuple[Bar, ...], ...]
    gaps: tuple[Gap, ...]
    left_out: int
    """Rows that were too many to draw."""

    @property
    def words(self) -> str:
        """The picture in a sentence or two, for those who do not see it."""
        said = [row.label if row.when in row.label else f"{row.label}: {row.when}" for row in self.rows]
        apart = [f"{self.rows[g.first_row].label} and {self.rows[g.second_row].label} do not meet: {g.words}, finding {g.finding}" for g in self.gaps]
        return ". ".join([*said, *apart]) + "."

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds of bar that occur."""
        return tuple(k for k in (SAID, READ, EVENT, KNOWN) if any(r.kind == k for r in self.rows))


def pictures(audit: Audit) -> tuple[Picture, ...]:
    """A picture for every machine of which something is dated."""
    items = sorted({c.item for c in audit.claims if c.stance != OTHER_ITEM})
    return tuple(p for item in items if (p := _picture(audit, item)).rows)


def _picture(audit: Audit, item: int) -> Picture:
    rows = [_with_findings(audit, row) for row in _rows(audit, item)]
    ordered = _in_order(rows)
    drawn = ordered[:MOST_ROWS]
    axis = axis_of(s for row in drawn for s in row.reach)
    if not axis.stretches:
        return Picture(item, axis, (), (), (), 0)
    gaps = tuple(g for n, f in enumerate(audit.findings, 1) if (g := _gap(drawn, axis, n, f)))
    return Picture(item, axis, tuple(drawn), tuple(_bars(row, axis) for row in drawn), gaps, len(ordered) - len(drawn))


def _rows(audit: Audit, item: int) -> Iterator[Row]:
    packs = packs_of(audit, item)
    said = [c for c in audit.claims if c.item == item and c.is_said]
    read = [d for d in audit.decodings if d.claim.item == item and d.claim.stance not in {OTHER_ITEM, DENIED}]
    yield from _known_rows(said, packs)
    yield from _said_rows([c for c in said if c.kind in _STATED], SAID)
    yield from (row for d in read if (row := _read_row(d)))
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


def _read_row(decoding: Decoding) -> Row | None:
    if not decoding.spans:
        return None
    name = decoding.pack.parts[decoding.part].name if decoding.pack and decoding.part in decoding.pack.parts else decoding.part
    spans = tuple(dict.fromkeys(decoding.spans))
    return Row(READ, f"{name} number {one_line(decoding.claim.quote.text)}", one_line(place(decoding.claim)), spans, (), (decoding.claim.quote,), decoding.rule)


def _known_rows(said: Sequence[Claim], packs: Sequence[Pack]) -> Iterator[Row]:
    """When the model named, else the family, was built: by its pack."""
    for pack in packs:
        models = {c.value for c in said if c.kind == "model" and c.part == "vehicle"}
        named = [n for n in pack.models if (n.from_ or n.to) and n.canonical in models]
        for name in named:
            yield Row(KNOWN, f"{name.canonical} was built", _table(pack, name.source_id), (edtf.decode(f"{name.from_}/{name.to}"),), rule=f"{pack.id}/production")
        if not named and (span := pack.production_span()):
            yield Row(KNOWN, f"{pack.family.partition(' (')[0]} was built", _table(pack, ""), (span,), rule=f"{pack.id}/production")


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
    return Row(KNOWN, f"“{one_line(claim.quote.text)}” was fitted", _table(pack, pack.features[name].source_id), spans, (), (claim.quote,))


def _table(pack: Pack, source_id: str) -> str:
    source: Source = pack.source(source_id)
    return one_line(source.title)


def _with_findings(audit: Audit, row: Row) -> Row:
    numbers = tuple(n for n, f in enumerate(audit.findings, 1) if _rests_on(f, row))
    return replace(row, findings=numbers)


def _rests_on(finding: Finding, row: Row) -> bool:
    if row.kind == KNOWN and not row.quotes:
        return bool(row.rule) and finding.rule == row.rule
    if not any(c.quote in row.quotes for c in finding.claims):
        return False
    return row.kind != READ or "/" not in finding.rule or finding.rule == row.rule or finding.name != "number_dates_another_year"


def _in_order(rows: Sequence[Row]) -> list[Row]:
    """Rows set against each other first, by their finding; then the others as they came."""
    tied = sorted((r for r in rows if r.findings), key=lambda r: r.findings[0])
    return [*tied, *(r for r in rows if not r.findings)]


def _bars(row: Row, axis: Axis) -> tuple[Bar, ...]:
    out = []
    for span, reach in zip(row.spans, row.reach, strict=True):
        x, end = _x(axis, span)
        before, after = _x(axis, reach)
        width = max(NARROWEST, round(end - x, 3))
        out.append(Bar(min(x, RIGHT - NARROWEST), width, before, max(after, x + width)))
    return tuple(out)


def _x(axis: Axis, span: Span) -> tuple[float, float]:
    start = LEFT if span.first == OPEN_START else axis.at(span.first)
    end = RIGHT if span.last == OPEN_END else axis.at(span.last + 1)
    return start, end


def _gap(rows: Sequence[Row], axis: Axis, number: int, finding: Finding) -> Gap | None:
    """The widest distance between two rows of a finding that says they cannot or hardly both hold; None where all meet."""
    if finding.grade not in {CONTRADICTION, DOUBT}:
        return None
    own = [i for i, r in enumerate(rows) if number in r.findings]
    apart = [(months, i, j, start, end) for n, i in enumerate(own) for j in own[n + 1 :] if (found := _apart(rows[i], rows[j])) for months, start, end in [found]]
    if not apart:
        return None
    months, i, j, start, end = max(apart, key=lambda a: a[0])
    words = f"{apart_words(months)} apart" if months else "no month in common"
    return Gap(number, finding.grade, axis.at(start), axis.at(end), words, i, j)


def _apart(one: Row, other: Row) -> tuple[int, int, int] | None:
    """(months between, first month after the earlier, first month of the later) where no spans of two rows meet."""
    found = []
    for a in one.reach:
        for b in other.reach:
            early, late = sorted((a, b), key=lambda s: s.first)
            if late.first <= early.last:
                return None
            found.append((late.first - early.last - 1, early.last + 1, late.first))
    return min(found)
