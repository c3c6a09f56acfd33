"""The report as Markdown, for notes, files and trackers: the same parts as the page, in plain text and tables.

Words from outside are escaped, so that nothing in them is read as markup. A claim stands in single angle quotes with
the number of its note behind it: ‹1928›¹.
"""

import re
from collections.abc import Iterable, Iterator, Sequence

from auditor.audit import Audit
from auditor.questions import IN_A_LETTER
from auditor.render import report
from auditor.render.answered import HEADING
from auditor.render.asked import THEN
from auditor.render.marked import Line, Mark, Marked
from auditor.render.plain import harmless, one_line
from auditor.render.report import Report, Shown, report_of
from auditor.sheet import WITNESSES, Cell, Sheet

_MARKUP = re.compile(r"([\\`*_{}\[\]<>|~&$#@])")
_AT_START = re.compile(r"^(\s*)([-+=]|\d+(?=[.)]))")
_LINK = re.compile(r"(?i)(\b(?:https?|ftp|mailto|www))([:.])")
_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


def render(audit: Audit) -> str:
    """The whole report with a line end."""
    r = report_of(audit)
    parts = [
        _head(r),
        _answered(r),
        _findings(r),
        _words(r.marked),
        _dates(r),
        _accounts(r),
        _numbers(r.sheet),
        _places(r),
        _questions(r),
        _sources(r),
        _cautions(r),
    ]
    return "\n".join(line.rstrip() for part in parts for line in part) + "\n"


def escaped(text: str) -> str:
    """Text from outside on one line that no reader of Markdown takes for markup or a link.

    >>> escaped("*new* <b>[x](http://y)")
    '\\\\*new\\\\* \\\\<b\\\\>\\\\[x\\\\](http\\\\://y)'
    >>> escaped("1) first"), escaped("- no list"), escaped("www.example.org")
    ('1\\\\) first', '\\\\- no list', 'www\\\\.example.org')
    """
    return _started(_inline(one_line(text)))


def _inline(text: str) -> str:
    """Text with every sign of markup and every beginning of a link escaped."""
    return _LINK.sub(r"\1\\\2", _MARKUP.sub(r"\\\1", text))


def _started(text: str) -> str:
    """A line whose beginning is no item of a list, no rule and no heading."""
    found = _AT_START.match(text)
    if not found:
        return text
    at = found.end() if found[2].isdigit() else found.start(2)
    return f"{text[:at]}\\{text[at:]}"


def _head(r: Report) -> Iterator[str]:
    yield f"# {escaped(r.title)}"
    yield from ("", r.result, "")
    yield f"Read with the tables of {escaped('; '.join(r.tables))}." if r.tables else report.NO_TABLES


def _answered(r: Report) -> Iterator[str]:
    if r.answered is None:
        return
    yield from ("", f"## {HEADING}")
    for heading, lines in r.answered.groups:
        yield from ("", *([f"### {heading}", ""] if heading else []), *(f"- {escaped(line)}" for line in lines))


def _findings(r: Report) -> Iterator[str]:
    yield from ("", "## Findings")
    if not r.grades:
        yield from ("", r.result)
    for _, heading, shown in r.grades:
        yield from ("", f"### {heading}")
        for s in shown:
            yield from ("", *_finding(s))


def _finding(s: Shown) -> Iterator[str]:
    machine = f"Machine {s.item}: " if s.item else ""
    yield f"**Finding {s.number}.** {machine}{escaped(s.finding.message)}"
    yield ""
    if s.marks:
        yield f"- Words: {', '.join(f'{m.number} “{escaped(m.quote.text)}”' for m in s.marks)}"
    if s.finding.rule:
        yield f"- Rule: {escaped(s.finding.rule)}"
    for c in s.sources:
        yield f"- Source {c.letter}: {escaped(c.words)}"
    for text in s.finding.innocent:
        yield f"- Could be innocent: {escaped(text)}"
    if s.finding.settle:
        yield f"- Would settle it: {escaped(s.finding.settle)}"


def _words(marked: Marked) -> Iterator[str]:
    yield from ("", "## The listing, with its claims marked")
    begun: set[int] = set()
    for block in marked.blocks:
        if block.said_in:
            yield from ("", f"### {escaped(block.said_in)}")
        yield from ([] if block.goes_on else [""])
        for n, (label, line) in enumerate(block.lines):
            last = n == len(block.lines) - 1
            yield f"> {f'{escaped(label)}: ' if label else ''}{_line(line, begun)}{'' if last else chr(92)}"
        if block.marks:
            yield ""
            yield from (_note(m) for m in block.marks)
    if marked.elsewhere:
        yield from ("", "Said elsewhere:", "")
        yield from (f"- {_raised(m)} “{escaped(m.quote.text)}”: {escaped('; '.join(m.notes))}{_ties(m.findings)}" for m in marked.elsewhere)


def _line(line: Line, begun: set[int]) -> str:
    """The words of a line, each once, with an opening and a closing angle for every mark; `begun` are the marks opened so far."""
    out: list[str] = []
    for piece in line.pieces:
        new = [m for m in piece.marks if m.number not in begun]
        begun |= {m.number for m in new}
        text = harmless(piece.text)
        room = len(text) - len(text.lstrip())
        out.append(f"{_kept(text[:room])}{'‹' * len(new)}{_kept(text[room:])}{''.join(f'›{_raised(m)}' for m in piece.ends)}")
    return _started("".join(out).strip())


def _kept(text: str) -> str:
    """Escaped words with the white space at their ends kept as one blank."""
    if not text.strip():
        return " " if text else ""
    return f"{' ' if text[0].isspace() else ''}{_inline(one_line(text))}{' ' if text[-1].isspace() else ''}"


def _raised(mark: Mark) -> str:
    return str(mark.number).translate(_RAISED)


def _note(mark: Mark) -> str:
    return f"- {_raised(mark)} {escaped('; '.join(mark.notes))}{_ties(mark.findings)}"


def _ties(findings: Sequence[int]) -> str:
    return f" → finding{'s' if len(findings) > 1 else ''} {', '.join(map(str, findings))}" if findings else ""


def _dates(r: Report) -> Iterator[str]:
    yield from ("", "## What is dated")
    if not r.pictures:
        yield from ("", "Nothing in the listing is dated.")
    for p in r.pictures:
        yield ""
        if len(r.sheet.items) > 1:
            yield from (f"### Machine {p.item}", "")
        rows = ([row.label, row.when, row.where, ", ".join(map(str, row.findings))] for row in p.rows)
        yield from _table(["what", "when", "where it stands", "finding"], rows)
        for g in p.gaps:
            early, late = escaped(p.rows[g.early_row].label), escaped(p.rows[g.late_row].label)
            yield from ("", f"{g.ties.capitalize()}: {early} and {late} do not meet: {g.words}.")


def _accounts(r: Report) -> Iterator[str]:
    if not r.accounts:
        return
    yield from ("", f"## {report.PARTS_HEADING}")
    for a in r.accounts:
        yield ""
        if len(r.accounts) > 1:
            yield from (f"### Machine {a.item}", "")
        for line in a.lines:
            yield f"- **{escaped(line.name)}**: {escaped('; '.join(filter(None, (line.story, line.share))))}"
            yield from (f"  - {escaped(row.text)}: {row.words}" for row in line.rows)
            if line.change:
                yield f"  - would change it most: {escaped(line.change)}"
        if a.untouched:
            yield f"- nothing is said of {escaped(', '.join(a.untouched))}"
    yield from ("", escaped(report.HOW_BELIEVED))


def _numbers(sheet: Sheet) -> Iterator[str]:
    yield from ("", "## The numbers sheet")
    for item in sheet.items:
        yield ""
        if len(sheet.items) > 1:
            yield from (f"### Machine {item}", "")
        yield from _table(["part", *WITNESSES], ([row.name, *map(_cell, row.cells)] for row in sheet.rows if row.item == item))
    if sheet.asks:
        yield from ("", "Letters in empty cells are questions:", "")
        yield from (f"- **{a.label}** {escaped(a.text)}" for a in sheet.asks)
    yield from ("", "Completed at the vehicle on: ………  by: ………  signed: ………")


def _cell(cell: Cell) -> str:
    said = []
    for e in cell.entries:
        about = "; ".join(filter(None, (e.manner, e.says, e.by, e.on)))
        said.append(f"{one_line(e.text)} ({one_line(about)}){_ties(e.findings)}")
    return " / ".join(said) if said else f"({cell.ask})" if cell.ask else "–"


def _places(r: Report) -> Iterator[str]:
    yield from ("", "## Where to read the number first")
    if not r.families:
        yield from ("", report.NO_PLACES)
    for f in r.families:
        if len(r.families) > 1:
            yield from ("", f"### {escaped(f.family)}")
        yield ""
        for n, p in enumerate(f.readings, 1):
            carries = f" (carries the identity{f', by {escaped(f.identity)}' if f.identity else ''})" if p.carries_identity else ""
            yield f"{n}. **{escaped(p.name)}**{carries}{f': {escaped(p.where)}' if p.where else ''}"
            yield from (f"   - {escaped(one)}" for one in p.places if p.has_choice)
            yield from (f"   - not its number: {escaped(one)}" for one in p.not_the_number)
    yield from ("", report.NO_CLEANING)


def _questions(r: Report) -> Iterator[str]:
    yield from ("", "## Questions for the seller", "")
    first, more, rest = r.questions
    if not first:
        yield "No finding calls for a question. The empty cells of the numbers sheet do."
    elif more or rest:
        yield from (f"The first {IN_A_LETTER} go into a letter; more get no reply.", "")
    yield from (f"{n}. {escaped(q.text)}{f' ({escaped(q.reason)})' if q.reason else ''}" for n, q in enumerate((*first, *more), 1))
    if rest:
        yield from ("", f"{THEN} {escaped('; '.join(rest))}.")


def _sources(r: Report) -> Iterator[str]:
    yield from ("", "## Rules and sources", "")
    if not r.sources:
        yield "Nothing above rests on a table."
    for c in r.sources:
        carries = [*(f"finding {n}" for n in c.findings), *(f"what was read from “{escaped(m.quote.text)}” ({m.number})" for m in c.readings)]
        about = ", ".join(filter(None, (escaped(c.remark), escaped(c.address))))
        yield f"- **{c.letter}** {escaped(c.words)}{f' ({about})' if about else ''}. Carries {', '.join(carries)}."


def _cautions(r: Report) -> Iterator[str]:
    yield from ("", "## Cautions", "")
    yield from (f"- {escaped(text)}" for text in (*r.cautions, *r.faults))
    yield from ("", report.KEEP_PRIVATE)


def _table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    yield f"| {' | '.join(heads)} |"
    yield f"|{' --- |' * len(heads)}"
    yield from (f"| {' | '.join(escaped(harmless(cell)) or ' ' for cell in row)} |" for row in rows)
