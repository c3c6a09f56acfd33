"""What a pack covers: its dating tables by rows, numbers and years; and what it cannot tell, said from its own data."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from claims.number_runs import keys_of
from claims.pack import Pack, Row
from claims.pack_rows import NEVER_ALONE, STANDINGS
from claims.standards.edtf import OPEN_END, OPEN_START, Span

DATES = ("year1", "year2", "season", "week", "month")
FIRST_YEAR, LAST_YEAR = 1850, 2030
YEARS_APART = 11
"""Months that a period may last to count as a date by month."""


@dataclass(frozen=True)
class TableCoverage:
    """A dating table: its rows, the numbers and the years that they hold, the standings of their sources."""

    table: str
    rows: int
    first: int
    last: int
    years: str
    standings: str
    sources: int


def tables(pack: Pack) -> list[TableCoverage]:
    """Every dating table of a pack, by name."""
    return [_covered(name, rows) for name, rows in sorted(dated_rows(pack).items()) if rows]


def dated_rows(pack: Pack) -> dict[str, Sequence[Row]]:
    """The rows of every table that a form of number is dated by."""
    out: dict[str, Sequence[Row]] = {}
    for scheme in pack.schemes.values():
        for table in keys_of(scheme.decode):
            out.setdefault(table, pack.dated(table, int(scheme.decode.get("season", {}).get("start", 0)), scheme.period_kind))
    return out


def _covered(name: str, rows: Sequence[Row]) -> TableCoverage:
    counted = Counter(r.source.standing for r in rows)
    return TableCoverage(
        name, len(rows), min(r.first for r in rows), max(r.last for r in rows), years([r.period.span for r in rows]),
        ", ".join(f"{counted[s]} {s}" for s in STANDINGS if counted[s]), len({r.source.source_id for r in rows}),
    )  # fmt: skip


def years(spans: Sequence[Span]) -> str:
    """First and last year of spans, open ends left out; empty for none."""
    first = [s.first_year for s in spans if s.first != OPEN_START]
    last = [s.last_year for s in spans if s.last != OPEN_END]
    if not first and not last:
        return ""
    low, high = min(first or last), max(last or first)
    return str(low) if low == high else f"{low}–{high}"


def years_without_row(spans: Sequence[Span]) -> str:
    """Years inside the tables' span that no row speaks of; empty for none."""
    closed = [s for s in spans if s.first != OPEN_START and s.last != OPEN_END]
    held = {y for s in closed for y in range(s.first_year, s.last_year + 1)}
    if not held or len(closed) < len(spans):
        return ""
    out: list[list[int]] = []
    for year in (y for y in range(min(held), max(held)) if y not in held):
        if out and out[-1][-1] == year - 1:
            out[-1].append(year)
        else:
            out.append([year])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in out)


def span_of_years(pack: Pack) -> str:
    """The years that a pack speaks of: of its tables, else of its production, forms and features."""
    spans = [r.period.span for rows in dated_rows(pack).values() for r in rows]
    if not spans and (made := pack.production_span()):
        spans = [made]
    if found := years(spans):
        return found
    dated: tuple[Any, ...] = (*pack.schemes.values(), *pack.names, *pack.spans)
    edges = [e[:4] for row in dated for e in (row.from_, row.to)]
    known = sorted(e for e in edges if e.isdigit() and len(e) == 4 and FIRST_YEAR <= int(e) <= LAST_YEAR)
    return f"{known[0]}–{known[-1]}" if known else ""


def row_count(pack: Pack) -> int:
    """All rows that carry knowledge: of blocks and of tables."""
    named = {str(how.get("table", "")) for s in pack.schemes.values() for how in s.decode.values()} - {""}
    listed = (pack.names, pack.parts, pack.schemes, pack.blocks, pack.equalities, pack.features, pack.variants, pack.spans, pack.marks)
    more = (pack.places, pack.traps, pack.cautions, pack.innocents)
    return sum(map(len, (*listed, *more))) + sum(map(len, dated_rows(pack).values())) + sum(len(pack.table(t)) for t in named)


def standing_words(pack: Pack) -> str:
    """How far the pack's sources may be trusted: the standings of its dated rows, else of its sources."""
    counted = Counter(r.source.standing for rows in dated_rows(pack).values() for r in rows) or Counter(s.standing for s in pack.sources.values())
    of = "" if any(dated_rows(pack).values()) else " of sources"
    words = ", ".join(f"{s} {100 * counted[s] // sum(counted.values()) or 'under 1'} %" for s in STANDINGS if counted[s])
    words += of
    return f"{words}; weak: a doubt at most" if pack.strength == "weak" else words


def cannot_tell(pack: Pack) -> list[str]:
    """What a pack cannot tell, as its own data say."""
    rows = [r for found in dated_rows(pack).values() for r in found]
    spans = [r.period.span for r in rows]
    coded = any(
        how["decoder"] in DATES or how.get("gives") in {"year", "month", "season"} for s in pack.schemes.values() for how in s.decode.values()
    )
    out = []
    if not pack.schemes:
        out.append("anything by a number: it has no form of number")
    elif not rows and not coded:
        out.append("a date: its forms of number are not dated")
    elif rows and not coded and all(s.last - s.first > 0 for s in spans):
        out.append("the month of building" if any(s.last - s.first <= YEARS_APART for s in spans) else "the year: its numbers tell longer spans")
    if missing := years_without_row(spans):
        out.append(f"numbers of {missing}: no row")
    if pack.identity == "unknown" and pack.schemes and not all(s.earliest for s in pack.schemes.values()):
        out.append("which part carries the identity")
    undated = sorted(
        {p.part for p in pack.parts.values() if p.numbered == "yes"} - {part for s in pack.schemes.values() for part in (s.part, *s.also_parts)}
    )
    if undated:
        out.append(f"anything by the number of the {', '.join(undated)}")
    if pack.schemes and all(s.earliest for s in pack.schemes.values()):
        out.append("a latest date: a part's date is the earliest for the vehicle")
    if pack.slack_years:
        out.append(f"a year better than give or take {pack.slack_years}")
    if rows and all(r.source.standing in NEVER_ALONE for r in rows):
        out.append("more than a doubt: its dates rest on memory or practice")
    if not pack.features and not pack.marks:
        out.append("change points and marks")
    return out


def page(packs: Sequence[Pack]) -> str:
    """The manual's page of what every pack covers, as Markdown."""
    lines = [
        "# Coverage",
        "",
        "Generated; do not edit. What each shipped pack covers: the years of its tables (else of its production, forms and features), the rows "
        "that carry knowledge, its sources, how far the sources of its dated rows may be trusted, and what it cannot tell. "
        "A pack that cannot tell a thing stays silent about it.",
        "",
        "| pack | family | years | rows | of them dated | sources | standing | it cannot tell |",
        "|---|---|---|---:|---:|---:|---|---|",
    ]
    for pack in packs:
        dated = sum(map(len, dated_rows(pack).values()))
        cells = (
            f"[{pack.id}](packs.md#{pack.id})", pack.family, span_of_years(pack) or "not said", str(row_count(pack)), str(dated),
            str(len(pack.sources)), standing_words(pack), "; ".join(cannot_tell(pack)) or "nothing that its tables miss as a whole",
        )  # fmt: skip
        lines.append("| " + " | ".join(c.replace("|", "\\|") for c in cells) + " |")
    total = sum(map(row_count, packs))
    lines += ["", f"{len(packs)} packs, {total} rows."]
    return "\n".join(lines) + "\n"
