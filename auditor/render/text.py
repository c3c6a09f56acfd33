"""The report for a terminal: 80 columns, readable without colour and in a pipe."""

import textwrap
from collections.abc import Iterator

from auditor.audit import Audit
from auditor.finding import Finding
from auditor.questions import IN_A_LETTER
from auditor.render.accounts import HEADING as PARTS_HEADING
from auditor.render.accounts import HOW, accounts
from auditor.render.answered import HEADING, answered
from auditor.render.asked import THEN, asked
from auditor.render.plain import (
    HEADINGS,
    STANDING_CAUTIONS,
    by_grade,
    harmless,
    one_line,
    place,
    source_words,
    title_of,
)  # fmt: skip
from claims.claim import OTHER_ITEM, STATED, Claim
from claims.reading_of_number import readings_words

WIDTH = 80
INDENT = 12
LONGEST_CLAIM = 60
NOT_SHOWN = ("hazard", "vehicle_type")
"""Kinds that serve cautions and the choice of tables."""


def render(audit: Audit) -> str:
    """The whole report as text with a line end."""
    lines = [
        *_head(audit),
        *_answered(audit),
        *_findings(audit),
        *_accounts(audit),
        *_numbers(audit),
        *_claimed(audit),
        *_questions(audit),
        *_cautions(audit),
    ]
    return "\n".join(harmless(line).rstrip() for line in lines) + "\n"


def _head(audit: Audit) -> Iterator[str]:
    yield from textwrap.wrap(title_of(audit), WIDTH)
    yield "=" * min(WIDTH, max(20, len(title_of(audit))))
    families = "; ".join(p.family for p in audit.packs)
    yield from _entry("tables", families or "no table here knows this make: only the words were compared")
    yield from _entry("result", _summary(audit))


def _summary(audit: Audit) -> str:
    counts = {grade: len(found) for grade, found in by_grade(audit)}
    words = {"contradiction": "contradiction", "doubt": "doubt", "gap": "gap", "note": "note"}
    said = [f"{n} {words[grade]}{'s' if n > 1 else ''}" for grade, n in counts.items()]
    return ", ".join(said) if said else "nothing found against what is said"


def _answered(audit: Audit) -> Iterator[str]:
    shown = answered(audit)
    if shown is None:
        return
    yield from ("", HEADING.upper())
    for heading, lines in shown.groups:
        if heading:
            yield f"  {heading}"
        for line in lines:
            yield from textwrap.wrap(line, WIDTH, initial_indent="  -  ", subsequent_indent="     ")


def _findings(audit: Audit) -> Iterator[str]:
    number = 0
    for grade, found in by_grade(audit):
        yield ""
        yield HEADINGS[grade].upper()
        for finding in found:
            number += 1
            yield from _finding(finding, number)


def _finding(finding: Finding, number: int) -> Iterator[str]:
    yield from textwrap.wrap(one_line(finding.message), WIDTH, initial_indent=f"{number:>3}  ", subsequent_indent="     ")
    said = dict.fromkeys(f"{place(c)}: “{one_line(c.quote.text)}”" for c in finding.claims)
    if said:
        yield from _entry("said", "; ".join(said))
    if finding.rule or finding.sources:
        yield from _entry("rule", "; ".join([finding.rule, *dict.fromkeys(source_words(s) for s in finding.sources)]))
    for text in finding.innocent[:2]:
        yield from _entry("innocent", text)
    if finding.settle:
        yield from _entry("settles", finding.settle)


def _accounts(audit: Audit) -> Iterator[str]:
    for account in accounts(audit):
        yield ""
        yield PARTS_HEADING.upper() + (f" (machine {account.item})" if account.item > 1 else "")
        for line in account.lines:
            yield from _entry(line.name, "; ".join(filter(None, (line.story, line.share))))
            for row in line.rows:
                yield from textwrap.wrap(f"{one_line(row.text)}: {row.words}", WIDTH, initial_indent=" " * 18 + "- ", subsequent_indent=" " * 20)
            if line.change:
                yield from textwrap.wrap(f"would change it most: {line.change}", WIDTH, initial_indent=" " * 18, subsequent_indent=" " * 20)
        if account.untouched:
            yield from _entry("nothing said", ", ".join(account.untouched))
        yield from textwrap.wrap(HOW, WIDTH, initial_indent="     ", subsequent_indent="     ")


def _numbers(audit: Audit) -> Iterator[str]:
    if not audit.decodings:
        return
    yield ""
    yield "WHAT THE NUMBERS SAY"
    for decoding in audit.decodings:
        name = decoding.pack.parts[decoding.part].name if decoding.pack and decoding.part in decoding.pack.parts else decoding.part
        yield from _entry(name, f"{one_line(decoding.claim.quote.text)}: {readings_words(decoding)}")


def _claimed(audit: Audit) -> Iterator[str]:
    said = [c for c in audit.claims if not c.is_decoded and c.kind not in NOT_SHOWN]
    if not said:
        yield ""
        yield "Nothing was claimed that this tool reads: no maker, model, year, number or part."
        return
    yield ""
    yield "WHAT IS CLAIMED"
    for item in sorted({c.item for c in said}):
        own = [c for c in said if c.item == item]
        if item > 1:
            yield f"  machine {item}"
        for kind in dict.fromkeys(c.kind for c in own):
            texts = dict.fromkeys(_claim(c) for c in own if c.kind == kind)
            yield from _entry(kind, "; ".join(texts))


def _claim(claim: Claim) -> str:
    value = one_line(claim.value if claim.value is not None else "none given")
    part = "" if claim.part == "vehicle" else f"{claim.part} "
    quote = one_line(claim.quote.text)
    if len(quote) > LONGEST_CLAIM:
        quote = quote[:LONGEST_CLAIM] + "…"
    words = "" if quote.lower() == value.lower() else f" “{quote}”"
    manner = "" if claim.stance == STATED else f" ({'of another thing' if claim.stance == OTHER_ITEM else claim.stance})"
    return f"{part}{value.replace('_', ' ') if claim.kind == 'originality' else value}{words}{manner}"


def _questions(audit: Audit) -> Iterator[str]:
    first, more, rest = asked(audit)
    if not first:
        return
    yield ""
    yield f"QUESTIONS FOR THE SELLER (the first {IN_A_LETTER} go into a letter)"
    for number, question in enumerate((*first, *more), 1):
        yield from textwrap.wrap(one_line(question.text), WIDTH, initial_indent=f"{number:>3}  ", subsequent_indent="     ")
        if question.reason:
            yield from textwrap.wrap(f"for you: {question.reason}", WIDTH, initial_indent="     ", subsequent_indent="     ")
    if rest:
        yield from textwrap.wrap(f"{THEN} {'; '.join(rest)}.", WIDTH, initial_indent="     ", subsequent_indent="     ")


def _cautions(audit: Audit) -> Iterator[str]:
    yield ""
    yield "CAUTIONS"
    for text in (*audit.cautions, *STANDING_CAUTIONS):
        yield from textwrap.wrap(text, WIDTH, initial_indent="  -  ", subsequent_indent="     ")
    for fault in audit.faults:
        yield from textwrap.wrap(
            f"Left out: {fault.where} failed ({one_line(fault.message)}).", WIDTH, initial_indent="  -  ", subsequent_indent="     "
        )


def _entry(name: str, text: str) -> list[str]:
    """A labelled paragraph with a hanging indent."""
    return textwrap.wrap(
        one_line(text),
        WIDTH,
        initial_indent=f"     {name:<{INDENT}} "[: max(6 + INDENT, 6 + len(name))],
        subsequent_indent=" " * (6 + INDENT),
        break_long_words=True,
    )
