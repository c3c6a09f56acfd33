"""Decoding: `python -m tests.bench.decoding [COUNT]` decodes COUNT numbers (1,000,000) against all packs, a tenth of them decodable.

Two yardsticks on the same numbers: one re2.Set over all patterns plus one match for groups on the first form that fits,
and the same with a match for groups on every form that fits. Decoding is timed twice: as in a listing, where a number
stands beside the maker of one pack (its own, or any for a number that none dates), and with all packs named, so that
every form that fits is read by its tables. Times are of the process, since machines are shared.
"""

import gc
import random
import resource
import string
import sys
from collections.abc import Callable, Sequence
from time import process_time
from typing import Any

import re2

from claims.claim import STATED, Claim, compact
from claims.decode import Decoder
from claims.pack import shipped_packs
from extractors import make_document
from tests.published import published

COUNT = 1_000_000
DECODABLE = 10
"""One number in so many is decodable."""
SEED = 1952
BATCH = 50_000


def sample(count: int, decoder: Decoder) -> list[Claim]:
    """Number claims in a mixed order: a tenth from the published examples that are dated, the others of made-up forms that no pack dates."""
    chance = random.Random(SEED)
    known = [claim_of(e.written, e.part) for e in published() if e.kind == "number" and e.spans and not e.undated_because]
    known = [c for c in known if any(d.spans for d in decoder.decode(c))]
    pool: list[Claim] = []
    while len(pool) < BATCH:
        claim = claim_of(_made_up(chance), chance.choice(("frame", "engine", "vehicle")))
        if not any(d.spans for d in decoder.decode(claim)):
            pool.append(claim)
    return [chance.choice(known) if n % DECODABLE == 0 else chance.choice(pool) for n in range(count)]


def family(decoder: Decoder, claim: Claim) -> str:
    """The pack that dates a number; empty for none."""
    return next((d.pack.id for d in decoder.decode(claim) if d.pack and d.spans), "")


def decode_pair(pair: tuple[Decoder, Claim]) -> object:
    """A number read by the decoder of its listing."""
    return pair[0].decode(pair[1])


def claim_of(written: str, part: str) -> Claim:
    """A number as a claim."""
    return Claim("number", part, compact(written), STATED, make_document(written).quote("text", 0, len(written)))


def _made_up(chance: random.Random) -> str:
    letters = "".join(chance.choices(string.ascii_uppercase, k=chance.randint(1, 4)))
    figures = "".join(chance.choices(string.digits, k=chance.randint(3, 9)))
    return chance.choice(
        (
            f"{letters}{figures}",
            f"{letters} {figures}",
            f"{figures}{letters}",
            f"{letters}-{figures}-{chance.choice(string.ascii_uppercase)}",
            figures,
        )
    )


def yardstick(patterns: Sequence[str], *, every: bool) -> Callable[[bytes], object]:
    """One pattern set, and a match for groups on the first form that fits or on every one; bytes, which cost the library least."""
    options = re2.Options()
    options.max_mem = 1 << 26
    together = re2.Set.SearchSet(options)
    for pattern in patterns:
        together.Add(pattern)
    together.Compile()
    match, compiled = together.Match, [re2.compile(p) for p in patterns]

    def first(number: bytes) -> object:
        found = match(number)
        return compiled[found[0]].search(number).groupdict() if found else None

    def each(number: bytes) -> object:
        return [compiled[n].search(number).groupdict() for n in match(number) or ()]

    return each if every else first


def timed(works: Sequence[tuple[Callable[[Any], object], Sequence[Any]]]) -> list[float]:
    """Seconds that each work takes over its inputs; they take turns by batches, since the machine is shared."""
    seconds = [0.0] * len(works)
    count = len(works[0][1])
    for first in range(0, count, BATCH // 5):
        for n, (work, over) in enumerate(works):
            batch = over[first : first + BATCH // 5]
            start = process_time()
            for one in batch:
                work(one)
            seconds[n] += process_time() - start
    return seconds


def main(count: int) -> None:
    """Print counts, microseconds a number and the two ratios."""
    packs = shipped_packs()
    decoder = Decoder(packs, [p.id for p in packs])
    claims = sample(count, decoder)
    beside = {p.id: Decoder(packs, [p.id]) for p in packs}
    chance = random.Random(SEED)
    paired = [(beside[family(decoder, c) or chance.choice(packs).id], c) for c in claims]
    numbers = [(c.value or "").encode() for c in claims]
    patterns = [s.pattern for p in packs for s in p.schemes.values()]
    dated = sum(any(d.spans for d in decoder.decode(c)) for c in claims[:BATCH]) / min(BATCH, count)
    works = [(yardstick(patterns, every=False), numbers), (yardstick(patterns, every=True), numbers), (decode_pair, paired), (decoder.decode, claims)]
    timed([(work, over[:BATCH]) for work, over in works])
    gc.collect()
    gc.freeze()  # the sample is the bench's own: the collector need not walk it
    one, every, listed, whole = timed(works)
    print(f"{count:,} numbers, {dated:.1%} of them dated, {len(packs)} packs, {len(patterns)} forms")
    for name, seconds in (
        ("set and one match", one),
        ("set and a match for each form that fits", every),
        ("decoding beside one maker", listed),
        ("decoding with all named", whole),
    ):
        print(f"{name}: {seconds / count * 1e6:.2f} µs a number")
    for name, seconds in (("beside one maker", listed), ("with all named", whole)):
        print(f"decoding {name}: {seconds / one:.2f} times the set and one match, {seconds / every:.2f} times the set and a match for each form")
    print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main(int(sys.argv[1].replace(",", "")) if len(sys.argv) > 1 else COUNT)
