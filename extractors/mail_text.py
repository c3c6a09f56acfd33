"""The listing in a mail's text: without what the mail puts around it.

A forwarded message stands under its quoted header, and its own subject is the headline. Of an answer, what it quotes
is left out: the buyer's questions are not the seller's word. A signature ends the text.
"""

import re
from typing import NamedTuple

FEWEST_HEADERS = 3
LONGEST_ATTRIBUTION = 300
_QUOTE = re.compile(r"(?:[ \t]?>)+[ \t]?")
_HEADER = re.compile(
    r"[*_ \t]{0,3}(from|sent|date|to|cc|subject|reply-to|von|gesendet|datum|an|betreff|de|envoyé|à|objet)"
    r"[*_ \t]{0,3}:[*_ \t]{0,3}(.{0,1000}?)[*_ \t]{0,3}",
    re.IGNORECASE,
)
FROM = frozenset({"from", "von", "de"})
SUBJECT = frozenset({"subject", "betreff", "objet"})
HEADERS = FROM | SUBJECT | {"sent", "date", "to", "cc", "reply-to", "gesendet", "datum", "an", "envoyé", "à"}
"""Names of a quoted header's lines in English, German and French (as mail programs write them; from memory)."""
_FORWARD = re.compile(r"(?:fwd?|wg|tr)\s*:", re.IGNORECASE)
_PREFIX = re.compile(r"(?:(?:re|aw|fwd?|wg|tr|sv|antw)\s*(?:\[\d+\])?\s*:\s*)+", re.IGNORECASE)
_FORWARD_MARK = re.compile(r"[-_ \t>]*(?:begin )?(?:forwarded|weitergeleitete|message transf)[^\n]{0,40}", re.IGNORECASE)
_WROTE = re.compile(r"(?:on|am|le) .{5,}(?:wrote|schrieb.{0,80}|a écrit)\s*:", re.IGNORECASE | re.DOTALL)
_RULE = re.compile(r"[-_ \t>]*(?:-{2,}[^\n]{0,60}-{2,}|_{5,})[ \t]*")


class Quoted(NamedTuple):
    """A quoted header: lines [start, end) and the subject in it."""

    start: int
    end: int
    subject: str


def listing(subject: str, text: str) -> tuple[str, str]:
    """(headline, text) of the listing in a mail of that subject."""
    lines = text.split("\n")
    headers = _quoted_headers(lines)
    own = _PREFIX.sub("", subject.strip(), count=1) if _PREFIX.match(subject.strip()) else subject.strip()
    if headers and (_FORWARD.match(subject.strip()) or _marked_forward(lines, headers[0])):
        first = _innermost(lines, headers)
        later = next((h.start for h in headers if h.start >= first.end), len(lines))
        own, lines = _without_prefix(first.subject) or own, _unquoted(lines[first.end : later])
    else:
        lines = _answer(lines, headers)
    return own, _body(own, lines)


def unflowed(text: str) -> str:
    """Text sent as `format=flowed` (RFC 3676) with its soft line breaks undone."""
    out: list[str] = []
    soft = False
    for line in text.split("\n"):
        line = line[1:] if line.startswith(" ") else line
        if soft and not line.startswith(">") and line != "-- ":
            out[-1] += line
        else:
            out.append(line)
        soft = line.endswith(" ") and line != "-- " and not line.startswith(">")
    return "\n".join(out)


def heads(lines: list[str]) -> list[tuple[int, int]]:
    """Lines [start, end) that open another letter inside this one: a quoted header, or a line (or two) "… wrote:"."""
    found = [(h.start, h.end) for h in _quoted_headers(lines)]
    taken = {i for start, end in found for i in range(start, end)}
    for i in range(len(lines)):
        count = next((n for n in (1, 2) if _is_attribution(" ".join(_bare(line) for line in lines[i : i + n]))), 0)
        if count and i not in taken:
            found.append((i, i + count))
            taken.update(range(i, i + count))
    return sorted(found)


def is_header(names: "set[str] | frozenset[str]") -> bool:
    """Whether a table's entries of these names are a quoted header."""
    known = {n.casefold() for n in names}
    return bool(known & FROM) and bool(known & SUBJECT)


def _quoted_headers(lines: list[str]) -> list[Quoted]:
    """Every run of header lines that names a sender and a subject."""
    found: list[Quoted] = []
    i = 0
    while i < len(lines):
        j, names, subject = i, set[str](), ""
        while j < len(lines) and (said := _HEADER.fullmatch(_bare(lines[j]))):
            names.add(said[1].casefold())
            subject = said[2] if said[1].casefold() in SUBJECT else subject
            j += 1
        if len(names) >= FEWEST_HEADERS and is_header(names):
            found.append(Quoted(i, j, subject))
        i = max(j, i + 1)
    return found


def _marked_forward(lines: list[str], header: Quoted) -> bool:
    return any(_FORWARD_MARK.fullmatch(_bare(line)) for line in lines[max(0, header.start - 3) : header.start] if line.strip())


def _innermost(lines: list[str], headers: list[Quoted]) -> Quoted:
    """The last of the headers that follow one another with nothing but marks between."""
    found = headers[0]
    for header in headers[1:]:
        between = [_bare(line) for line in lines[found.end : header.start]]
        if any(line.strip() and not _FORWARD_MARK.fullmatch(line) and not _RULE.fullmatch(line) for line in between):
            break
        found = header
    return found


def _answer(lines: list[str], headers: list[Quoted]) -> list[str]:
    """What a mail says itself; what it quotes where it says nothing else."""
    end, behind = (headers[0].start, headers[0].end) if headers else (len(lines), len(lines))
    for i in range(end):
        count = next((n for n in (1, 2) if _is_attribution(" ".join(lines[i : i + n]))), 0)
        if count:
            end, behind = i, i + count
            break
    own = lines[:end]
    while own and (not own[-1].strip() or _RULE.fullmatch(own[-1])):
        own.pop()
    return _unquoted(own if own else lines[behind:])


def _is_attribution(text: str) -> bool:
    """Whether a line (or two) says who wrote what follows."""
    return len(text) <= LONGEST_ATTRIBUTION and bool(_WROTE.fullmatch(text.strip()))


def _unquoted(lines: list[str]) -> list[str]:
    """The lines without quote marks, where all that say something bear one."""
    said = [line for line in lines if line.strip()]
    return [_bare(line) for line in lines] if said and all(_QUOTE.match(line) for line in said) else lines


def _body(title: str, lines: list[str]) -> str:
    """The lines as one text, without a signature and without a first line that repeats the headline."""
    if "-- " in lines:
        lines = lines[: lines.index("-- ")]
    text = "\n".join(lines).strip("\n")
    first, _, rest = text.partition("\n")
    return rest.lstrip("\n") if title and " ".join(first.split()).casefold() == title.casefold() else text


def _bare(line: str) -> str:
    return _QUOTE.sub("", line, count=1) if _QUOTE.match(line) else line


def _without_prefix(subject: str) -> str:
    found = _PREFIX.match(subject.strip())
    return subject.strip()[found.end() :] if found else subject.strip()
