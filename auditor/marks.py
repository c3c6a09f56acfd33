"""What registration marks tell a case: the period for which a mark was issued, by public forms and by packs."""

from auditor.case import Case
from claims.claim import Claim
from claims.pack_rows import Source
from claims.standards import uk_mark
from claims.standards.edtf import Span

UK_SOURCE = Source("UK marks", "year letters and age identifiers of United Kingdom marks", "published", "SI 2001/561; collected tables")


def issued(case: Case, claim: Claim) -> tuple[Span, Source] | None:
    """(earliest to latest month of issue, source) of a dated mark; None for one that tells no date or is partly hidden."""
    if "?" in (claim.value or ""):
        return None
    for decoding in case.decodings:
        if decoding.claim is claim and decoding.spans:
            spans = decoding.spans
            return Span(min(s.first for s in spans), max(s.last for s in spans)), decoding.readings[0].sources[0]
    try:
        mark = uk_mark.decode(claim.quote.text)
    except ValueError:
        return None
    if not mark.is_dated:
        return None
    return Span(min(s.first for s in mark.issue), max(s.last for s in mark.issue)), UK_SOURCE
