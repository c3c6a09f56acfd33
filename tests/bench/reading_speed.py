"""How fast claims are read, against spaCy's blank English tokenizer on the same texts and one core; and peak memory.

`python -m tests.bench.reading_speed [N]` prints, in one run, texts a second of both and their ratio (goal: at least a
third; the median of rounds in which one follows the other), the peak memory at a tenth and at the end of N listings
that all differ (default 20,000; goal: flat), and the time of texts of 100 kB and 1 MB (goal: in proportion).
"""

import itertools
import resource
import statistics
import sys
import time
from collections.abc import Callable, Iterable, Iterator

from claims.pack import shipped_packs
from claims.reader import read_claims
from extractors import Document, make_document
from tests.cases import cases
from tests.gold import annotated

ROUNDS = 9


def listings() -> list[Document]:
    """The listings of the fixtures, tuned gold among them."""
    return [c.document for folder in ("consistent", "planted") for c in cases(folder)] + [a.document for a in annotated("gold/tuned")]


def distinct(documents: list[Document]) -> Iterator[Document]:
    """The listings over and over, each time with words and numbers of its own, so that whatever is remembered is seen to grow."""
    for number, d in enumerate(itertools.cycle(documents)):
        more = f"\nStock no. ZQ{number:06d}, seen at Place{number:x} by M{number * 7919 % 999983}r."
        yield make_document(d.text + more, title=d.title, attributes={f.label: f.text for f in d.fields if f.is_attribute})


def seconds(work: Callable[[], None]) -> float:
    """Processor time of one go."""
    start = time.process_time()
    work()
    return time.process_time() - start


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
    drain(read_claims(d, packs) for d in documents)
    for number, document in enumerate(itertools.islice(distinct(documents), many), 1):
        read_claims(document, packs)
        if number in (many // 10, many):
            print(f"peak memory after {number:>7} listings: {peak()} MB")
    for size in (10_000, 100_000, 1_000_000):
        document = make_document(("\n".join(texts) * 40)[:size])
        taken = min(seconds(lambda d=document: drain(read_claims(d, packs))) for _ in range(2))  # type: ignore[misc]
        print(f"a text of {size // 1000:>5} kB: {taken:6.2f} s, {taken / size * 1e6:5.2f} s a MB; peak memory {peak()} MB")
    import spacy

    nlp = spacy.blank("en")
    drain(nlp.make_doc(t) for t in texts)
    rounds = [
        (seconds(lambda: drain(read_claims(d, packs) for d in documents)), seconds(lambda: drain(nlp.make_doc(t) for t in texts)))
        for _ in range(ROUNDS)
    ]
    words = sum(len(t.split()) for t in texts) / len(texts)
    ours, theirs = (len(texts) / statistics.median(side) for side in zip(*rounds, strict=True))
    ratio = statistics.median(spacys / reader for reader, spacys in rounds)
    print(f"{len(texts)} listings of {words:.0f} words: reader {ours:,.0f} a second, spaCy's blank tokenizer {theirs:,.0f}; ratio {ratio:.2f}")


if __name__ == "__main__":
    main()
