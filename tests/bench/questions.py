"""How many answers it takes to be 95 % sure of the true maker and month: the tool's order of questions against others.

`python -m tests.bench.questions [N] [--seed S]` simulates N vehicles (default 1,000) of which nothing is told, lets the
simulator answer (slips and misnamings included) and prints, for the tool's order, a checklist that asks for numbers
first, one part after another, and random order: the median count of answers and the share done within three. Goals: at
most 3, at least 68 %. Then the time of a posterior and of a ranking, as ratios to the reading of the same listings.
"""

import argparse
import random
import statistics
import sys
import time
from collections.abc import Callable, Sequence

import auditor.origin  # noqa: F401 (asks numpy for one thread before it starts)
from auditor.origin.belief import Look
from auditor.origin.copying import meant
from auditor.origin.evidence import CASTING, FEATURE, NUMBER, Evidence
from auditor.origin.family import Family, family_of
from auditor.origin.information import looks
from auditor.origin.likelihood import likelihoods
from auditor.origin.posterior import Posterior
from claims.claim import compact
from claims.pack import shipped_packs
from claims.reader import read_claims
from tests.bench.calibration import read, simulated
from tests.simulated.as_evidence import as_evidence
from tests.simulated.sellers import Told, as_copied, as_named
from tests.simulated.vehicles import PLAIN, Vehicle, rows, vehicle

SURE = 0.95
Order = Callable[[Posterior, Sequence[Evidence], list[Look], random.Random], Look]


def answered(rng: random.Random, f: Family, v: Vehicle, look: Look) -> list[Evidence]:
    """What the simulated seller answers; nothing where there is nothing to see."""
    kind, _, name = look.about.partition(":")
    if kind == "number":
        number = as_copied(rng, v.parts[look.part].number)
        return [Evidence(NUMBER, look.part, compact(number).replace("X", "?"))]
    if kind == "feature":
        return [Evidence(FEATURE, look.part, f"{name}={as_named(rng, v, next(r for r in rows('feature') if r['feature'] == name))}")]
    code = v.parts[look.part].casting
    return [e for e in as_evidence(Told(castings={look.part: code}), f.pack) if e.kind == CASTING] if code else []


def by_information(post: Posterior, known: Sequence[Evidence], still: list[Look], rng: random.Random) -> Look:
    """The tool's order."""
    open_now = {(k.about, k.part) for k in still}
    return next(k for k in looks(post, known) if (k.about, k.part) in open_now)


def numbers_first(post: Posterior, known: Sequence[Evidence], still: list[Look], rng: random.Random) -> Look:
    """A checklist: every number in the order of the parts, then the rest."""
    return min(still, key=lambda k: (k.about != "number", post.family.parts.index(k.part)))


def part_by_part(post: Posterior, known: Sequence[Evidence], still: list[Look], rng: random.Random) -> Look:
    """Everything of the first part, then of the next: features, casting, number."""
    return min(still, key=lambda k: (post.family.parts.index(k.part), ("f", "c", "n").index(k.about[0])))


def at_random(post: Posterior, known: Sequence[Evidence], still: list[Look], rng: random.Random) -> Look:
    """Any of them."""
    return rng.choice(still)


ORDERS: dict[str, Order] = {"expected information": by_information, "numbers first": numbers_first, "part by part": part_by_part, "random": at_random}


def answers_needed(f: Family, v: Vehicle, order: Order, everything: Sequence[Look], seed: str) -> int:
    """Answers until the true maker and month is believed at 95 %; one more than there are looks where it never is.

    The same question on the same vehicle has the same answer in every order.
    """
    rng = random.Random(seed)
    year, month = map(int, v.origin.month.split("-"))
    true = f.cells[v.origin.maker, year * 12 + month - 1]
    known: list[Evidence] = []
    still = list(everything)
    for n in range(len(everything)):
        post = Posterior(f, likelihoods(f, known))
        if post.origin[true] >= SURE:
            return n
        chosen = order(post, known, still, rng)
        still = [k for k in still if (k.about, k.part) != (chosen.about, chosen.part)]
        known += answered(random.Random(f"{seed} {chosen.about} {chosen.part}"), f, v, chosen)
    return len(everything) if Posterior(f, likelihoods(f, known)).origin[true] >= SURE else len(everything) + 1


def speed(f: Family, count: int, seed: int) -> None:
    """Processor times of reading, of the posterior with every part's states, and of ranking, listing by listing, and their ratios; no
    number was read before."""
    packs = shipped_packs()
    documents = [d for _, _, d in simulated(PLAIN, count, seed)]
    evidence = [read(d, packs) for d in documents]
    looks(Posterior(f, likelihoods(f, ())), ())
    meant.cache_clear()
    reading = believing = ranking = 0.0
    for d, e in zip(documents, evidence, strict=True):
        start = time.process_time()
        read_claims(d, packs)
        reading += time.process_time() - start
        start = time.process_time()
        post = Posterior(f, likelihoods(f, e))
        states = {p: post.state(p) for p in f.parts}
        believing += time.process_time() - start
        start = time.process_time()
        ranks = looks(post, e)
        ranking += time.process_time() - start
        assert states
        assert ranks
    print(f"a listing: reading {1e3 * reading / count:.1f} ms; posterior {1e3 * believing / count:.1f} ms ({believing / reading:.2f} × reading); "
          f"ranking {1e3 * ranking / count:.1f} ms ({ranking / reading:.2f} × reading)")  # fmt: skip


def main() -> int:
    """Print the figures; 0 always."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("count", nargs="?", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    f = family_of(next(p for p in shipped_packs() if p.id == "northmark_pattern5"))
    everything = looks(Posterior(f, likelihoods(f, ())), ())
    speed(f, min(given.count, 200), given.seed)
    print(f"{given.count} vehicles, {len(everything)} things to ask")
    for name, order in ORDERS.items():
        needed = []
        for n in range(given.count):
            rng = random.Random(f"{given.seed} questions {n}")
            needed.append(answers_needed(f, vehicle(rng, PLAIN), order, everything, f"{given.seed} answers {n}"))
        within = sum(n <= 3 for n in needed) / len(needed)
        never = sum(n > len(everything) for n in needed) / len(needed)
        print(f"  {name:22} median {statistics.median(needed):4.1f} answers, within three {within:.3f}, never {never:.3f}", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
