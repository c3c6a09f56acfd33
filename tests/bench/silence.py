"""How often the tool accuses where nothing conflicts, and finds what was planted.

`python -m tests.bench.silence [-v]` reads `fixtures/consistent` (150 listings in which nothing conflicts),
`fixtures/ordinary` and `fixtures/plain` (460 adverts of ordinary cars and the like, as records) and `fixtures/planted` (60 with one planted
conflict), all written independently of the code and committed before the
rules were tuned. Found means: a contradiction whose claims overlap both spans in conflict.
"""

import sys
from collections.abc import Iterator

from auditor.audit import audit
from auditor.finding import CONTRADICTION
from extractors.document import Document
from extractors.formats.json_record import record
from tests.cases import FIXTURES, Case, cases

ORDINARY, PLAIN = FIXTURES / "ordinary", FIXTURES / "plain"


def accusations(document: Document) -> list[str]:
    """The contradictions that the tool reports, as text."""
    return [f"{f.name}: {f.message}" for f in audit(document, strict=True).findings if f.grade == CONTRADICTION]


def ordinary() -> Iterator[Document]:
    """The ordinary adverts, in order."""
    for path in sorted((*ORDINARY.glob("*.jsonl"), *PLAIN.glob("*.jsonl"))):
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            yield record(line, f"{path.name} line {number}")


def conflict_spans(case: Case) -> list[tuple[str, int, int]]:
    """(field, start, end) of the words that a case's `conflict` block names; raises `ValueError` for words that are not there."""
    out = []
    document = case.document
    for line in case.lines("conflict"):
        field = max((f for f in document.fields if line.startswith(f"{f.label}: ")), key=lambda f: len(f.label))
        words, _, nth = line[len(field.label) + 2 :].partition(" | @")
        start = -1
        for _ in range(int(nth or 1)):
            start = field.text.index(words, start + 1)
        out.append((field.name, start, start + len(words)))
    return out


def is_found(case: Case) -> bool:
    """Whether a reported contradiction overlaps every span of the planted one."""
    spans = conflict_spans(case)
    for finding in audit(case.document, strict=True).findings:
        quotes = [c.quote for c in finding.claims]
        if finding.grade == CONTRADICTION and all(any(q.field == f and q.start < end and start < q.end for q in quotes) for f, start, end in spans):
            return True
    return False


def main() -> None:
    """Print both figures, and each miss with -v."""
    verbose = "-v" in sys.argv[1:]
    consistent, planted = list(cases("consistent")), list(cases("planted"))
    accused = [(c.heading, found) for c in consistent if (found := accusations(c.document))]
    adverts = list(ordinary())
    accused_too = [(str(d.id), found) for d in adverts if (found := accusations(d))]
    missed = [c for c in planted if not is_found(c)]
    print(f"consistent listings with a contradiction reported: {len(accused)} of {len(consistent)}")
    print(f"ordinary adverts with a contradiction reported: {len(accused_too)} of {len(adverts)}")
    print(f"planted conflicts found with the right words: {len(planted) - len(missed)} of {len(planted)}")
    if verbose:
        for name, found in (*accused, *accused_too):
            print(f"  accused {name}: {'; '.join(found)}")
        for case in missed:
            print(f"  missed  {case.heading}: {case.lines('conflict')}")


if __name__ == "__main__":
    main()
