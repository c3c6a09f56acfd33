"""What the reports are tried on: every fixture, the demo listings, and texts that are hostile, empty, long or of two machines."""

from collections.abc import Iterator

from auditor.audit import Audit
from auditor.cli import DEMO
from auditor.finding import CONTRADICTION, Finding
from auditor.render.plain import harmless
from claims.claim import HEDGED, STATED, Claim
from extractors.document import Document, make_document
from extractors.intake import documents
from tests.cases import cases

FIXTURES = [*cases("consistent"), *cases("planted")]
HOSTILE = "\n".join([
    "title: \u202e1929 Quillfeather\u202c \x1b[31mcarrier <script>alert(1)</script>", "Year: 1931",
    'Make: Quillfeather "><img src=x onerror=alert(1)>', "Frame: 36Q 13283 T", "", "טרקטור ישן 1929 Quillfeather, 36Q 13283 T. דראגה",
    "{{ 7*7 }} {% raw %} </style></title> &amp; &#x41; \x00\x07\x9b31m tab\there",
    "http://evil.example/x?a=1&b=2 www.evil.example a@evil.example javascript:alert(1) " + "W" * 400, "built in 1928\u2028line two",
    "first registered in March 1926 *bold* __x__ [link](http://x) `code` | pipe", "# heading", "- list", "+ list", "1. one", "2) two",
    "    code", "> quote", "~~~", "```", "===", "---", "![i](http://x/y.png) <details open ontoggle=alert(1)> [^1] [1]: http://x",
    "<http://x> <!-- c --> $x$ :-) |a|b|",
])  # fmt: skip
TWO = "Two carriers\n\n1) 1927 Quillfeather, frame 28Q 01905.\n2) 1930 Ostrander & Pike, frame OP31-01539."
PROSE = "The lane runs past the mill and over the bridge, and the carrier went with it in all weathers. "
TEXTS = {
    "nothing": "hello", "hostile": HOSTILE, "two machines": TWO,
    "20,000 words": "1929 Quillfeather\n\n" + f"{PROSE * 100}Frame 36Q 13283 T, or so the papers of 1931 say.\n\n" * 11,
}  # fmt: skip


def listings() -> Iterator[tuple[str, Document | str]]:
    """(name, listing) of everything here."""
    yield from ((c.heading, c.document) for c in FIXTURES)
    yield from ((p.stem, d) for p in sorted(DEMO.glob("*.txt")) for d in documents(str(p)))
    yield from TEXTS.items()


ALL = dict(listings())


def received(document: Document) -> list[str]:
    """The words of a listing in order, as a report shows them."""
    return [word for f in document.fields for word in harmless(f.text).split()]


def with_claims(text: str, spans: list[tuple[int, int]]) -> Audit:
    """An audit of a text with a claim at each span, and a finding on the first two."""
    document = make_document(text)
    claims = [Claim("model", "vehicle", f"m{n}", STATED if n % 2 else HEDGED, document.quote("text", *s)) for n, s in enumerate(spans)]
    findings = (Finding("years_disagree", CONTRADICTION, "a message", claims=tuple(claims[:2])),) if claims else ()
    return Audit(document, tuple(claims), (), findings, (), (), ())
