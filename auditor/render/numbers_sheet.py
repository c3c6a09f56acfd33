"""The numbers sheet alone: a page to print, a table for a spreadsheet, or text for a terminal."""

import csv
import io
import textwrap
from collections.abc import Iterator

from auditor.audit import Audit
from auditor.render.html import templates
from auditor.render.plain import STANDING_CAUTIONS, harmless, one_line, title_of
from auditor.sheet import WITNESSES, Cell, Entry, Sheet, sheet_of

WIDTH = 80
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def html(audit: Audit) -> str:
    """A page of its own, set for paper in landscape (A4 or Letter), that no row is cut on."""
    sheet = sheet_of(audit)
    page = templates().get_template("numbers_sheet.html.j2")
    return page.render(
        title=title_of(audit), source=audit.document.source, sheet=sheet, witnesses=WITNESSES, findings=differing(audit, sheet), caution=STANDING_CAUTIONS[0],
    ).strip() + "\n"  # fmt: skip


def differing(audit: Audit, sheet: Sheet) -> list[tuple[int, str]]:
    """(number, message) of every finding that a cell of the sheet is marked with."""
    marked = sorted({n for r in sheet.rows for c in r.cells for e in c.entries for n in e.findings})
    return [(n, one_line(audit.findings[n - 1].message)) for n in marked]


def table(audit: Audit) -> str:
    """A row for each part, as CSV (RFC 4180) with a line of names; a cell that a spreadsheet would run is kept from it by an apostrophe."""
    sheet = sheet_of(audit)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(["machine", "part", *WITNESSES, "still empty"])
    for row in sheet.rows:
        writer.writerow([row.item, _inert(row.name), *(_inert(_cell(c)) for c in row.cells), ", ".join(c.witness for c in row.cells if c.ask)])
    return out.getvalue()


def text(audit: Audit) -> str:
    """Part by part for a terminal, with the questions that would fill what is empty."""
    sheet = sheet_of(audit)
    lines = [title_of(audit), "=" * min(WIDTH, max(20, len(title_of(audit)))), *_rows(sheet)]
    for heading, found in (
        ("To fill what is empty", [(a.label, a.text) for a in sheet.asks]),
        ("Where the entries do not agree", [(str(n), m) for n, m in differing(audit, sheet)]),
    ):
        if found:
            lines += ["", heading]
            for label, words in found:
                lines += textwrap.wrap(f"{label}  {words}", WIDTH, initial_indent="  ", subsequent_indent="     ")
    lines += ["", "Completed at the vehicle on ……………… by ……………………… signed ………………………"]
    return "\n".join(harmless(line).rstrip() for line in lines) + "\n"


def _rows(sheet: Sheet) -> Iterator[str]:
    for row in sheet.rows:
        machine = f"machine {row.item}, " if len(sheet.items) > 1 else ""
        yield ""
        yield f"{machine}{row.name}"
        for cell in row.cells:
            for entry in cell.entries:
                yield from textwrap.wrap(f"{cell.witness:<15} {_entry(entry)}", WIDTH, initial_indent="  ", subsequent_indent=" " * 18)
        if empty := [f"{c.witness} ({c.ask})" for c in row.cells if c.ask]:
            yield from textwrap.wrap(f"{'still empty':<15} {', '.join(empty)}", WIDTH, initial_indent="  ", subsequent_indent=" " * 18)


def _cell(cell: Cell) -> str:
    return " / ".join(_entry(e) for e in cell.entries)


def _entry(entry: Entry) -> str:
    findings = f"finding {', '.join(map(str, entry.findings))}" if entry.findings else ""
    about = "; ".join(filter(None, (entry.manner, entry.says, entry.by, entry.on, findings)))
    return one_line(f"{entry.text} ({about})")


def _inert(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula.

    >>> _inert("=1+1"), _inert("33Q 07311 G")
    ("'=1+1", '33Q 07311 G')
    """
    return f"'{cell}" if cell.startswith(_FORMULA) else cell
