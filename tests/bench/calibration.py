"""Belief against truth on simulated vehicles: text in, belief out.

`python -m tests.bench.calibration [N] [--seed S] [--mode MODE] [--picture FILE.svg]` simulates N vehicles a mode (default 2,000) and
prints for *plain*, *whole donors* and *plates copied by sellers*: the calibration error of "original" over all parts, the
log score of part states between the prior alone and the exact posterior on the structured evidence, how often months
claimed at 95 % are right and how often they are claimed, and how many parts called surely not original are original;
the last two modes also with the coupling in question left out. Goals: issue 6.
"""

import argparse
import random
import sys
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

import auditor.origin  # noqa: F401 (asks numpy for one thread before it starts)
from auditor.origin.assessment import pack_with_shares
from auditor.origin.evidence import Evidence, evidence_of
from auditor.origin.family import family_of
from auditor.origin.likelihood import likelihoods
from auditor.origin.posterior import COPIED_OFF_PLATE, DONOR, Couplings, Posterior
from auditor.origin.terms import ORIGINAL
from claims.decode import decode_numbers, decoded_claims
from claims.pack import Pack, shipped_packs
from claims.reader import read_claims
from extractors.document import Document
from tests.simulated.as_evidence import as_evidence
from tests.simulated.sellers import Told, listing, tell
from tests.simulated.vehicles import COPIED_PLATES, MODES, PLAIN, WHOLE_DONORS, Vehicle, vehicle

SURE, SURELY_NOT = 0.95, 0.05
BINS = 10
TRUE_COUPLINGS = {PLAIN: Couplings(0.0, 0.0), WHOLE_DONORS: Couplings(1.0, 0.0), COPIED_PLATES: Couplings(0.0, 0.5)}
SHARES = {
    "donor share halved": Couplings(donor=DONOR / 2), "donor share doubled": Couplings(donor=2 * DONOR),
    "plate-read share halved": Couplings(copied_off_plate=COPIED_OFF_PLATE / 2), "plate-read share doubled": Couplings(copied_off_plate=2 * COPIED_OFF_PLATE),
}  # fmt: skip
"""The two shares without a source, halved and doubled."""
LEFT_OUT = {WHOLE_DONORS: Couplings(donor=0.0), COPIED_PLATES: Couplings(copied_off_plate=0.0)}
FLOOR = 1e-9


@dataclass
class Score:
    """What is counted of one way to believe."""

    said: list[float] = field(default_factory=list)
    true: list[bool] = field(default_factory=list)
    log: list[float] = field(default_factory=list)
    sure: list[bool] = field(default_factory=list)
    vehicles: int = 0

    def add(self, v: Vehicle, post: Posterior) -> None:
        """One vehicle."""
        self.vehicles += 1
        top = int(post.origin.argmax())
        if post.origin[top] >= SURE:
            month = post.family.months[top]
            self.sure.append((post.family.makers[top], f"{month // 12:04d}-{month % 12 + 1:02d}") == (v.origin.maker, v.origin.month))
        for part, own in v.parts.items():
            state = post.state(part)
            self.said.append(state[ORIGINAL])
            self.true.append(own.state == "original")
            later = 1 - state["original"] - state["exchanged"]
            right = later if own.state == "made_later" else state[own.state]
            self.log.append(float(np.log(max(FLOOR, right))))

    @property
    def error(self) -> float:
        """Expected calibration error: mean distance of belief and share over ten equal bins, by their sizes."""
        return sum(n * abs(said - true) for said, true, n in self.bins) / len(self.said)

    @property
    def bins(self) -> list[tuple[float, float, int]]:
        """(mean belief, share that is original, count) of each bin."""
        said, true = np.array(self.said), np.array(self.true, float)
        place = np.minimum((said * BINS).astype(int), BINS - 1)
        return [(float(said[place == b].mean()), float(true[place == b].mean()), int((place == b).sum())) for b in range(BINS) if (place == b).any()]

    @property
    def wrongly_not(self) -> tuple[float, int]:
        """(share that is original, count) of the parts called surely not original."""
        low = [t for s, t in zip(self.said, self.true, strict=True) if s <= SURELY_NOT]
        return (sum(low) / len(low) if low else 0.0), len(low)


def read(document: Document, packs: Sequence[Pack]) -> list[Evidence]:
    """The evidence that the tool reads in a listing; nothing where it sees no family with priors."""
    said = read_claims(document, packs)
    decodings = decode_numbers(said, packs)
    claims = [*said, *decoded_claims(decodings)]
    pack = pack_with_shares(claims, packs, 1)
    return list(evidence_of(claims, decodings, pack, 1)) if pack else []


def simulated(mode: str, count: int, seed: int) -> list[tuple[Vehicle, Told, Document]]:
    """Vehicles of a mode with what their sellers tell, and the words; the same for the same seed."""
    out = []
    for n in range(count):
        rng = random.Random(f"{seed} {mode} {n}")
        v = vehicle(rng, mode)
        told = tell(rng, v, mode)
        out.append((v, told, listing(rng, told, n)))
    return out


def scores(mode: str, count: int, seed: int, sensitivity: bool = False) -> dict[str, Score]:
    """A score for every way to believe, by its name."""
    packs = shipped_packs()
    pack = next(p for p in packs if p.id == "northmark_pattern5")
    f = family_of(pack)
    prior = Posterior(f, likelihoods(f, ()))
    out = {
        name: Score()
        for name in ("prior", "text", "structured", "structured, true couplings", *(["text, without the coupling"] if mode in LEFT_OUT else []), *(SHARES if sensitivity else ()))
    }
    for v, told, document in simulated(mode, count, seed):
        seen, known = likelihoods(f, read(document, packs)), likelihoods(f, as_evidence(told, pack))
        out["prior"].add(v, prior)
        out["text"].add(v, Posterior(f, seen))
        out["structured"].add(v, Posterior(f, known))
        out["structured, true couplings"].add(v, Posterior(f, known, TRUE_COUPLINGS[mode]))
        if mode in LEFT_OUT:
            out["text, without the coupling"].add(v, Posterior(f, seen, LEFT_OUT[mode]))
        for name, couplings in SHARES.items() if sensitivity else ():
            out[name].add(v, Posterior(f, seen, couplings))
    return out


def printed(mode: str, found: dict[str, Score]) -> None:
    """The figures of a mode, a line a way to believe."""
    prior, best = np.mean(found["prior"].log), np.mean(found["structured"].log)
    print(f"{mode}: {found['text'].vehicles} vehicles, {len(found['text'].said)} parts")
    for name, s in found.items():
        way = (np.mean(s.log) - prior) / (best - prior)
        wrong, called = s.wrongly_not
        print(
            f"  {name:30} calibration error {s.error:.4f}   log score {np.mean(s.log):.4f} ({way:5.2f} of the way)   months at 95 %: "
            f"right {np.mean(s.sure or [0]):.3f}, claimed in {len(s.sure) / s.vehicles:.3f}   surely not: {called}, original {wrong:.4f}"
        )


def picture(found: dict[str, dict[str, Score]]) -> str:
    """The calibration picture as SVG: belief across, share that is original upwards, a dot a bin, its area by its count."""
    colours = {PLAIN: "#34405f", WHOLE_DONORS: "#8a6a2f", COPIED_PLATES: "#5b7a5a"}
    out = ['<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 420 340" font-family="serif" font-size="13" role="img">',
           "<title>Belief in “original” against the share that is</title>",
           '<rect width="420" height="340" fill="#fcfbf8"/>', '<path d="M50 290H350M50 290V-10" stroke="#1c1b1a" fill="none"/>',
           '<path d="M50 290L330 10" stroke="#5b5750" stroke-dasharray="2 4"/>']  # fmt: skip
    for n in range(0, 11, 2):
        out.append(
            f'<text x="{50 + 28 * n}" y="306" text-anchor="middle">{n * 10}</text><text x="44" y="{294 - 28 * n}" text-anchor="end">{n * 10}</text>'
        )
    for k, (mode, ways) in enumerate(found.items()):
        for said, true, count in ways["text"].bins:
            radius = 2 + 8 * (count / len(ways["text"].said)) ** 0.5
            out.append(
                f'<circle cx="{50 + 280 * said:.1f}" cy="{290 - 280 * true:.1f}" r="{radius:.1f}" fill="none" stroke="{colours[mode]}" stroke-width="1.5"/>'
            )
        out.append(
            f'<circle cx="232" cy="{216 + 18 * k}" r="5" fill="none" stroke="{colours[mode]}" stroke-width="1.5"/><text x="244" y="{220 + 18 * k}">{mode}</text>'
        )
    out.append('<text x="190" y="330" text-anchor="middle">believed original, in 100</text></svg>')
    return "\n".join(out) + "\n"


def main() -> int:
    """Print the figures; 0 always."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("count", nargs="?", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--mode", choices=MODES, action="append")
    parser.add_argument("--picture", type=Path)
    parser.add_argument("--sensitivity", action="store_true", help="also with the two shares that have no source halved and doubled")
    given = parser.parse_args()
    found = {mode: scores(mode, given.count, given.seed, given.sensitivity) for mode in given.mode or MODES}
    for mode, own in found.items():
        printed(mode, own)
    if given.picture:
        given.picture.write_text(picture(found), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
