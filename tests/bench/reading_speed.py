"""How fast claims are read, against spaCy's blank English tokenizer on the same texts and one core; and peak memory.

`python -m tests.bench.reading_speed [N]` prints, in one run, texts a second of both and their ratio (goal: at least a
third), the peak memory at a tenth and at the end of N listings (default 20,000; goal: flat), and the time of texts of
100 kB and 1 MB (goal: in proportion).
"""

import itertools
import resource
import sys
import time
from collections.abc import Callable, Iterable

from claims.pack import shipped_packs
from claims.reader import read_claims
from extractors import Document, make_document
from tests.cases import cases
from tests.gold import annotated

ROUNDS = 3


def listings() -> list[Document]:
    """The listings of the fixtures, tuned gold among them."""
    return [c.document for folder in ("consistent", "planted") for c in cases(folder)] + [a.document for a in annotated("gold/tuned")]


def seconds(work: Callable[[], None]) -> float:
    """The shortest of some rounds."""
    taken = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return min(taken)


def peak() -> int:
    """Peak memory of this process in MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


def drain(items: Iterable[object]) -> None:
    """Go through all items."""
    for _ in items:
        pass


def main() -> None:
    """Print the figures."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
    packs, documents = shipped_packs(), listings()
    texts = ["\n".join(f.text for f in d.fields) for d in documents]
    words = sum(len(t.split()) for t in texts) / len(texts)
    drain(read_claims(d, packs) for d in documents[:50])
    ours = len(documents) / seconds(lambda: drain(read_claims(d, packs) for d in documents))
    long_texts = {size: make_document(("\n".join(texts) * 40)[:size]) for size in (100_000, 1_000_000)}
    for size, document in long_texts.items():
        start = time.perf_counter()
        read_claims(document, packs)
        print(f"a text of {size // 1000:>5} kB: {(time.perf_counter() - start) / size * 1e9:6.0f} ms a MB")
    for number, document in enumerate(itertools.islice(itertools.cycle(documents), many), 1):
        read_claims(document, packs)
        if number in (many // 10, many):
            print(f"peak memory after {number:>7} listings: {peak()} MB")
    import spacy

    nlp = spacy.blank("en")
    drain(nlp.make_doc(t) for t in texts[:50])
    theirs = len(texts) / seconds(lambda: drain(nlp.make_doc(t) for t in texts))
    print(
        f"{len(documents)} listings of {words:.0f} words: reader {ours:,.0f} a second, spaCy's blank tokenizer {theirs:,.0f}; ratio {ours / theirs:.2f}"
    )


if __name__ == "__main__":
    main()
