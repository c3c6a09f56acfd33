"""A spreadsheet's lines to the rows of a dating table; what cannot be seen is asked for, never guessed."""

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from auditor.keeper.cell_values import DAY_OR_MONTH, SEASON_OR_SPAN, Number, When, is_open, number_and_open, number_range, when
from auditor.keeper.cells import Line
from auditor.keeper.columns import ROLES, Layout, layout
from auditor.keeper.errors import KeeperError, Unsaid

PERIOD_KINDS = ("calendar year", "model year", "factory season")
COLUMNS = ("first", "last", "period", "period_kind", "prefix", "maker", "model", "source_id", "remark")
MOST_FAULTS = 10
COMPUTED = "last computed from the next first"
FIRST_COMPUTED = "first computed from the last before"
ONLY_LAST = "no first given: only its last number is certain"
ONLY_FIRST = "no end given: only its first number is certain"
_TOTAL = re.compile(r"(?:total|sum|gesamt|summe|somme|totaal|totale|altogether)\b.*", re.IGNORECASE)
ONE_RUN, BY_PREFIX = "one", "by-prefix"


@dataclass(frozen=True)
class Row:
    """A row of the table to be; an open `last` is None."""

    line: int
    first: int | None
    last: int | None
    period: When
    prefix: str = ""
    suffix: str = ""
    figures: int = 0
    maker: str = ""
    model: str = ""
    source: str = ""
    remark: str = ""
    period_kind: str = ""
    is_padded: bool = False
    """Whether its numbers were written with noughts in front."""


@dataclass
class Answers:
    """What the keeper said: columns by role, and what a table cannot show."""

    columns: dict[str, str] = field(default_factory=dict)
    period_kind: str = ""
    dates: str = ""
    """`day-first` or `month-first`."""
    runs: str = ""
    """`one`, or `by-prefix` where each prefix has a counter of its own."""
    last_number: str = ""
    """The last number of the row without an end (`PREFIX=NUMBER,…` for several runs), or `none`."""


@dataclass(frozen=True)
class Made:
    """The rows, and what was done on the way, for the keeper to read."""

    rows: tuple[Row, ...]
    notes: tuple[str, ...]
    is_one_run: bool = True


def table(lines: Sequence[Line], answers: Answers) -> Made:
    """The dating table of a spreadsheet; raises `KeeperError` for cells that cannot be read, `Unsaid` with every open question."""
    found = layout(lines, {role: name for role, name in answers.columns.items() if role in ROLES and name})
    notes = [f"{role}: {found.name(column)}" for role, column in found.roles.items()]
    rows, passed = _rows(found)
    if passed:
        notes.append(
            "passed over, without a number or a year: "
            + ", ".join(f"line {n}" for n in passed[:MOST_FAULTS])
            + (" …" if passed[MOST_FAULTS:] else "")
        )
    asked: list[tuple[str, str]] = []
    rows = _dates_settled(rows, answers, asked)
    rows = _kinds_settled(rows, found, answers, asked)
    is_one = _is_one_run(rows, answers, asked)
    rows = list(_ends_settled(rows, is_one, answers, asked))
    if asked:
        raise Unsaid(asked)
    for row in rows:
        if row.first is None or row.last is None or row.first > row.last:
            raise KeeperError(
                f"line {row.line}: the range runs backwards ({row.first} to {row.last}); is a column taken for another? Say --first and --last"
            )
    if computed := sum(r.remark.endswith((COMPUTED, FIRST_COMPUTED)) for r in rows):
        notes.append(f"{computed} ends computed from the neighbouring row")
    return Made(tuple(rows), tuple(notes), is_one)


def _rows(found: Layout) -> tuple[list[Row], list[int]]:
    rows, passed, faults = [], [], []
    for line in found.body:
        period_text = found.cell(line, "period")
        numbers = [found.cell(line, role) for role in ("first", "last", "range")]
        has_number = any(any(c.isdigit() for c in text) for text in numbers)
        if _TOTAL.fullmatch(period_text) or not any(numbers) or (not has_number and not when(period_text)):
            passed.append(line.number)
            continue
        try:
            rows.append(_row(found, line))
        except ValueError as error:
            faults.append(f"line {line.number}: {error}")
    if faults:
        more = f"; and {len(faults) - MOST_FAULTS} more" if len(faults) > MOST_FAULTS else ""
        raise KeeperError("; ".join(faults[:MOST_FAULTS]) + more)
    return rows, passed


def _row(found: Layout, line: Line) -> Row:
    text = found.cell(line, "period")
    period = when(text)
    if period is None:
        raise ValueError(f"{text[:40]!r} is no year or date" if text else "no year or date beside the number")
    if to := found.cell(line, "period_to"):
        end = when(to)
        if end is None and not is_open(to):
            raise ValueError(f"{to[:40]!r} is no year or date")
        if end and end.text != period.text:
            period = When(f"{period.text.partition('/')[0]}/{end.text.rpartition('/')[2]}", "span")
    first, last = _ends(found, line)
    known = first or last
    if known is None:
        raise ValueError("no number beside the year")
    if first and last and last.prefix not in {first.prefix, ""}:
        raise ValueError(f"first and last number have different letters ({first.prefix} and {last.prefix})")
    prefix = found.cell(line, "prefix")
    letters = "".join(c for c in prefix.upper() if c.isalnum()) if prefix and not is_open(prefix) else known.prefix
    return Row(
        line.number, first.serial if first else None, last.serial if last else None, period, letters, known.suffix,
        max(n.figures for n in (first, last) if n), found.cell(line, "maker"), found.cell(line, "model"), found.cell(line, "source"),
        found.cell(line, "remark"), period.said_kind, any(len(str(n.serial)) < n.figures for n in (first, last) if n),
    )  # fmt: skip


def _ends(found: Layout, line: Line) -> tuple[Number | None, Number | None]:
    if ranged := found.cell(line, "range"):
        if pair := number_range(ranged):
            return pair
        first, is_left_open = number_and_open(ranged)
        if not first:
            raise ValueError(f"{ranged[:40]!r} is no range of numbers")
        return first, None if is_left_open else first
    out: list[Number | None] = []
    for role in ("first", "last"):
        text = found.cell(line, role)
        value, _ = number_and_open(text)
        if value is None and not is_open(text):
            if role == "first" and (pair := number_range(text)):
                return pair
            raise ValueError(f"{text[:40]!r} is no number")
        out.append(value)
    return out[0], out[1]


def _dates_settled(rows: list[Row], answers: Answers, asked: list[tuple[str, str]]) -> list[Row]:
    """Day or month first, by the cells that show it, else by the keeper; seasons from the pairs of years around them."""
    unclear = [r for r in rows if r.period.unclear == DAY_OR_MONTH]
    if unclear and not answers.dates:
        asked.append(("dates", f"line {unclear[0].line}: does the day or the month come first (day-first or month-first)?"))
    pairs = [r for r in rows if r.period.unclear == SEASON_OR_SPAN]
    are_years = any(r.period.kind == "span" for r in rows) or len(pairs) > 2
    out = []
    for r in rows:
        if r.period.unclear == DAY_OR_MONTH and answers.dates == "month-first":
            r = replace(r, period=When(r.period.other, "month"))
        elif r.period.unclear == SEASON_OR_SPAN and r.period.kind == "month" and are_years:
            r = replace(r, period=When(r.period.other, "span", SEASON_OR_SPAN, r.period.other))
        out.append(r)
    return out


def _kinds_settled(rows: list[Row], found: Layout, answers: Answers, asked: list[tuple[str, str]]) -> list[Row]:
    """What a year means: by its cell, its heading, the keeper."""
    heading = found.head[found.roles["period"]].lower()
    told = answers.period_kind or (
        "model year"
        if re.search(r"model ?year|modelljahr|millésime", heading)
        else "factory season"
        if "season" in heading or "saison" in heading
        else ""
    )
    needing = [r for r in rows if not r.period_kind and (r.period.kind == "year" or r.period.unclear == SEASON_OR_SPAN)]
    if needing and not told:
        asked.append(("period-kind", f"what does {needing[0].period.text} mean: {', '.join(PERIOD_KINDS)}?"))
        return rows
    out = []
    for r in rows:
        kind = r.period_kind or (told if r in needing else "date")
        if r.period.unclear == SEASON_OR_SPAN and kind == "factory season":
            r = replace(r, period=When(r.period.text.rpartition("/")[2], "year"))
        elif r.period.kind != "year":
            kind = "date"
        out.append(replace(r, period_kind=kind))
    return out


def _is_one_run(rows: list[Row], answers: Answers, asked: list[tuple[str, str]]) -> bool:
    """Whether one counter runs through all prefixes: seen where all first numbers rise with the periods, or there is one prefix."""
    prefixes = [r.prefix for r in rows]
    if len(set(prefixes)) == 1:
        return True
    if answers.runs:
        return answers.runs == ONE_RUN
    by_number = sorted((r for r in rows if r.first is not None), key=lambda r: r.first or 0)
    rises = all(a.period.text <= b.period.text for a, b in pairwise(by_number))
    if len(set(prefixes)) == len(prefixes) and rises:
        return True
    if any(r.last is None or r.first is None for r in rows):
        asked.append(("runs", "did the numbers run on through all letters (one), or has each prefix its own run (by-prefix)?"))
    return False


def _ends_settled(rows: list[Row], is_one: bool, answers: Answers, asked: list[tuple[str, str]]) -> Iterator[Row]:
    groups: dict[tuple[str, ...], list[Row]] = {}
    for r in rows:
        groups.setdefault(("" if is_one else r.prefix, r.maker, r.model), []).append(r)
    for group in groups.values():
        group.sort(key=lambda r: r.first if r.first is not None else r.last or 0)
        for n, r in enumerate(group):
            if r.first is None:
                before = group[n - 1].last if n else None
                r = replace(
                    r, first=before + 1 if before is not None else r.last, remark=_and(r.remark, FIRST_COMPUTED if before is not None else ONLY_LAST)
                )
                group[n] = r
            elif r.last is None:
                start = r.first
                following = next((o.first for o in group[n + 1 :] if o.first is not None and o.first > start), None)
                if following is not None:
                    r = replace(r, last=following - 1, remark=_and(r.remark, COMPUTED))
                elif (told := _told_last(answers.last_number, r.prefix)).isdigit() and int(told) >= start:
                    r = replace(r, last=int(told))
                elif told == "none":
                    r = replace(r, last=r.first, remark=_and(r.remark, ONLY_FIRST))
                else:
                    asked.append(
                        ("last-number", f"line {r.line}, {r.period.text} from {r.first}: what is the last number ('none' where nobody knows)?")
                    )
            yield r


def _told_last(said: str, prefix: str) -> str:
    """The last number that the keeper gave: one for all, or `PREFIX=NUMBER` for each prefix, parted by commas."""
    if "=" not in said:
        return said.strip()
    pairs = (pair.partition("=") for pair in said.split(","))
    return next((value.strip() for name, _, value in pairs if name.strip().upper() == prefix), "")


def _and(remark: str, more: str) -> str:
    return f"{remark}; {more}" if remark else more


def as_csv(made: Made, source_ids: dict[str, str]) -> str:
    """The table as a pack holds it; `source_ids` are the ids of sources by their words. Columns that nothing fills are left out."""
    rows = [
        {
            "first": r.first, "last": r.last, "period": r.period.text, "period_kind": r.period_kind, "prefix": r.prefix, "maker": r.maker,
            "model": r.model, "source_id": source_ids.get(r.source, ""), "remark": r.remark,
        }
        for r in made.rows
    ]  # fmt: skip
    is_filled = {c: any(row[c] for row in rows) for c in COLUMNS}
    columns = [c for c in COLUMNS if is_filled[c] or c in {"first", "last", "period", "source_id"}]
    out = io.StringIO()
    writer = csv.DictWriter(out, columns, extrasaction="ignore", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()
