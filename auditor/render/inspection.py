"""The inspection sheet: a page to print and take along, or text for a terminal."""

import textwrap
from collections.abc import Iterator, Sequence

from auditor.audit import Audit
from auditor.inspection import AS_IT_STANDS, NUMBER, PHOTOGRAPH, Inspection, Look, inspections
from auditor.render.html import templates
from auditor.render.plain import STANDING_CAUTIONS, harmless, one_line, title_of
from auditor.render.report import NO_PLACES

WIDTH = 80
BOX = "[ ]"


def html(audit: Audit, private: bool) -> str:
    """A page set for paper (A4 or Letter) on which no row is cut; `private` adds rows that are for the owner's eyes only."""
    page = templates().get_template("inspection.html.j2")
    return page.render(
        title=title_of(audit), sheets=inspections(audit, private), photograph=PHOTOGRAPH, as_it_stands=AS_IT_STANDS, no_tables=NO_PLACES,
        caution=STANDING_CAUTIONS[0],
    ).strip() + "\n"  # fmt: skip


def text(audit: Audit, private: bool) -> str:
    """The same as text."""
    sheets = inspections(audit, private)
    lines = [title_of(audit), "=" * min(WIDTH, max(20, len(title_of(audit))))]
    lines += _list("Beware", sheets[0].cautions, "-")
    lines += _list("Photograph", (*PHOTOGRAPH, AS_IT_STANDS), BOX)
    for sheet in sheets:
        lines += _walk(sheet, len(sheets) > 1)
    lines += ["", "Seen on ……………… at ……………………… by ……………………… signed ………………………", "", *textwrap.wrap(STANDING_CAUTIONS[0], WIDTH)]
    return "\n".join(harmless(line).rstrip() for line in lines) + "\n"


def _walk(sheet: Inspection, several: bool) -> Iterator[str]:
    if several:
        yield from ("", f"MACHINE {sheet.item}")
    if not sheet.families:
        yield from ("", *textwrap.wrap(NO_PLACES, WIDTH))
    for station in sheet.stations:
        yield from ("", station.name.upper())
        for look in station.looks:
            yield from _look(look)
    yield from _list("What misleads", sheet.traps, "-")


def _look(look: Look) -> Iterator[str]:
    head = ": ".join(filter(None, (look.what, look.where)))
    yield from textwrap.wrap(one_line(head), WIDTH, initial_indent="  ", subsequent_indent="    ")
    about = "; ".join(filter(None, (look.how, look.remark, f"said: {'; '.join(look.said[:3])}" if look.said else "")))
    if about:
        yield from textwrap.wrap(one_line(about), WIDTH, initial_indent="      ", subsequent_indent="      ")
    for choice in look.choices:
        words = choice.meaning if look.kind == NUMBER else ": ".join(filter(None, (choice.words, choice.meaning)))
        yield from textwrap.wrap(one_line(f"{BOX} {words}"), WIDTH, initial_indent="      ", subsequent_indent="          ")
    if look.kind == NUMBER:
        yield f"      {BOX} stamped  {BOX} tag  {BOX} painted  {BOX} raised    {BOX} pad as made  {BOX} disturbed"
        yield "      found: …………………………………………   height of figures: …… mm"
    else:
        yield f"      {BOX} another  {BOX} none seen: …………………………………………"


def _list(heading: str, entries: Sequence[str], sign: str) -> Iterator[str]:
    if entries:
        yield from ("", heading)
        for entry in entries:
            yield from textwrap.wrap(one_line(f"{sign} {entry}"), WIDTH, initial_indent="  ", subsequent_indent=" " * (3 + len(sign)))
