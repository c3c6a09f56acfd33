"""Belief against a general exact-inference library: the same small world as a Bayesian network, solved by pyAgrum."""

import math
from pathlib import Path

import numpy as np
import pytest

from auditor.origin.evidence import FEATURE, NUMBER, Evidence
from auditor.origin.family import Family
from auditor.origin.likelihood import likelihoods
from auditor.origin.posterior import COPIED_OFF_PLATE, DONOR, FROM_DONOR, Posterior
from tests.small_world import LATE, NUMBERS, Sums, small_pack

gum = pytest.importorskip("pyagrum")

MACHINES = len(NUMBERS)
BORNE: list[tuple[object, ...] | None] = [*NUMBERS, *LATE, None]
"""Every number that a frame or plate can bear, and none."""
OWN, DONORS, FRESH, LATER, NONE, COPY, ANY = range(7)
FRAME_HOMES = ((OWN, 0.8), (LATER, 0.03), (NONE, 0.01), (ANY, 0.01))
PLATE_HOMES = ((OWN, 0.3), (NONE, 0.05), (COPY, 0.3), (ANY, 0.15))
CASES = {
    "frame": [Evidence(NUMBER, "frame", "28A2")],
    "agree": [Evidence(NUMBER, "frame", "28A2"), Evidence(NUMBER, "plate", "28A2"), Evidence(FEATURE, "body", "lid=low")],
    "differ": [Evidence(NUMBER, "frame", "28A2"), Evidence(NUMBER, "plate", "B3")],
    "engine too": [Evidence(NUMBER, "frame", "28A2"), Evidence(NUMBER, "plate", "28A5"), Evidence(NUMBER, "engine", "E2")],
    "seen": [Evidence(NUMBER, "frame", "B1", seen=True), Evidence(NUMBER, "frame", "28A1"), Evidence(NUMBER, "engine", "E7")],
}


def homes(shares: tuple[tuple[int, float], ...], exchanged: float) -> np.ndarray:
    """(has a donor, home) of a part."""
    out = np.zeros((2, 7))
    for home, share in shares:
        out[:, home] = share
    out[0, FRESH], out[1, FRESH], out[1, DONORS] = exchanged, exchanged * (1 - FROM_DONOR), exchanged * FROM_DONOR
    return out


def network(sums: Sums):  # type: ignore[no-untyped-def]
    """The network and the names of its nodes of evidence with their likelihoods."""
    bn = gum.BayesNet()

    def node(name: str, size: int, parents: tuple[str, ...], table: np.ndarray) -> None:
        bn.add(gum.LabelizedVariable(name, name, size))
        for parent in parents:
            bn.addArc(parent, name)
        order = [p for p in bn.cpt(name).names if p != name]
        axes = [parents.index(p) for p in reversed(order)]
        bn.cpt(name)[:] = np.ascontiguousarray(np.transpose(table, (*axes, len(parents))))

    even = np.full(MACHINES, 1 / MACHINES)
    for name in ("vehicle", "donor", "frame_fresh", "plate_fresh"):
        node(name, MACHINES, (), even)
    node("has_donor", 2, (), np.array([1 - DONOR, DONOR]))
    node("frame_home", 7, ("has_donor",), homes(FRAME_HOMES, 0.15))
    node("plate_home", 7, ("has_donor",), homes(PLATE_HOMES, 0.2))
    frame = np.zeros((MACHINES, MACHINES, MACHINES, 7, len(BORNE)))
    for v in range(MACHINES):
        for d in range(MACHINES):
            for n in range(MACHINES):
                for home, place in ((OWN, v), (DONORS, d), (FRESH, n), (ANY, n), (COPY, n), (NONE, len(BORNE) - 1)):
                    frame[v, d, n, home, place] = 1
                frame[v, d, n, LATER, MACHINES : MACHINES + 3] = 1 / 3
    node("frame", len(BORNE), ("vehicle", "donor", "frame_fresh", "frame_home"), frame)
    plate = np.zeros((MACHINES, MACHINES, MACHINES, len(BORNE), 7, len(BORNE)))
    for f in range(len(BORNE)):
        plate[:, :, :, f] = frame
        plate[:, :, :, f, COPY] = 0
        if f < len(BORNE) - 1:
            plate[:, :, :, f, COPY, f] = 1
        else:
            for n in range(MACHINES):
                plate[:, :, n, f, COPY, n] = 1
    node("plate", len(BORNE), ("vehicle", "donor", "plate_fresh", "frame", "plate_home"), plate)
    node("off_plate", 2, (), np.array([1 - COPIED_OFF_PLATE, COPIED_OFF_PLATE]))
    read = np.zeros((len(BORNE), len(BORNE), 2, len(BORNE)))
    for f in range(len(BORNE)):
        for p in range(len(BORNE)):
            read[f, p, 0, f] = 1
            read[f, p, 1, p if p < len(BORNE) - 1 else f] = 1
    node("read", len(BORNE), ("frame", "plate", "off_plate"), read)
    for part in ("engine", "body"):
        node(f"{part}_told", 2, ("vehicle", "donor", "has_donor"), told(sums, part))
    return bn


def told(sums: Sums, part: str) -> np.ndarray:
    """P(what is told of engine or body | vehicle, donor, has donor), its states summed out."""
    out = np.zeros((MACHINES, MACHINES, 2, 2))
    for v, vehicle in enumerate(NUMBERS):
        for d, donor in enumerate(NUMBERS):
            for has in (0, 1):
                back = FROM_DONOR * has
                if part == "engine":
                    p = sum(w for _, w in sums.engines(vehicle, donor if has else None, back))
                else:
                    fresh = sum(sums.look("body", n[3]) for n in NUMBERS) / MACHINES
                    p = (
                        0.4 * sums.look("body", vehicle[3])
                        + 0.2 * sums.look("body", "Later")
                        + 0.4 * ((1 - back) * fresh + back * sums.look("body", donor[3]))
                    )
                out[v, d, has] = 1 - p, p
    return out


@pytest.mark.parametrize("name", CASES)
def test_posterior_equals_that_of_a_general_library(tmp_path: Path, name: str) -> None:
    evidence = CASES[name]
    family = Family(small_pack(tmp_path / "small_world"))
    sums = Sums(family, evidence)
    inference = gum.LazyPropagation(network(sums))
    likely = {
        "frame": [sums.told("frame", True, n) for n in BORNE], "plate": [sums.told("plate", False, n) for n in BORNE],
        "read": [sums.told("frame", False, n) for n in BORNE], "engine_told": [0.0, 1.0], "body_told": [0.0, 1.0],
    }  # fmt: skip
    for node, values in likely.items():
        inference.addEvidence(node, [v / max(values) for v in values])
    inference.makeInference()
    machines = inference.posterior("vehicle").toarray()
    cells = [math.fsum(p for p, n in zip(machines, NUMBERS, strict=True) if n[3] == cell) for cell in range(3)]
    post = Posterior(family, likelihoods(family, evidence))
    assert post.origin.tolist() == pytest.approx(cells, abs=1e-9)
    for part in ("frame", "plate"):
        homes_now = inference.posterior(f"{part}_home").toarray()
        assert post.state(part)["original"] == pytest.approx(homes_now[OWN], abs=1e-9)
        assert post.state(part)["exchanged"] == pytest.approx(homes_now[DONORS] + homes_now[FRESH], abs=1e-9)
