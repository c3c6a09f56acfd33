"""What hangs on which words: the findings that rest on a quote, and what the tables read from it.

The number of a finding is its place in the report, counted from 1.
`Audit.findings` stands in the order in which every report shows it, the gravest first.
"""

from collections.abc import Mapping

from auditor.audit import Audit
from claims.reading_of_number import Decoding
from extractors.document import Quote


def findings_on(audit: Audit) -> Mapping[Quote, tuple[int, ...]]:
    """The numbers of the findings that rest on each quote; a quote that none rests on is absent."""
    out: dict[Quote, tuple[int, ...]] = {}
    for number, finding in enumerate(audit.findings, 1):
        for quote in dict.fromkeys(claim.quote for claim in finding.claims):
            out[quote] = (*out.get(quote, ()), number)
    return out


def readings_on(audit: Audit) -> Mapping[Quote, tuple[Decoding, ...]]:
    """What decoding made of the number at each quote; a quote that was not decoded is absent."""
    out: dict[Quote, tuple[Decoding, ...]] = {}
    for decoding in audit.decodings:
        out[decoding.claim.quote] = (*out.get(decoding.claim.quote, ()), decoding)
    return out
