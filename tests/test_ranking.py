"""One order of questions: information exact by trying every answer, contradictions first, nothing shown of a neutral prior."""

import re
import subprocess
import sys

import numpy as np
import pytest

from auditor.audit import audit
from auditor.finding import CONTRADICTION
from auditor.origin.evidence import FEATURE, MAKER, NUMBER, SILENCE, STATEMENT, Evidence
from auditor.origin.family import family_of
from auditor.origin.information import looks
from auditor.origin.joint import joint_of
from auditor.origin.likelihood import likelihoods
from auditor.origin.neutral import neutral_looks
from auditor.origin.posterior import Posterior
from auditor.questions import IN_A_LETTER
from auditor.render import html, letter, md, text
from claims.pack import shipped_packs
from tests.cases import cases

DEMO = next(p for p in shipped_packs() if p.id == "northmark_pattern5")
TOLD = [Evidence(NUMBER, "frame", "33Q07311G"), Evidence(MAKER, "vehicle", "Quillfeather Motor Works"), Evidence(STATEMENT, "vehicle", SILENCE)]
TRACTOR = "1949 Allis Chalmers Model U, serial U 17355, runs"


def posterior(evidence: list[Evidence]) -> Posterior:
    family = family_of(DEMO)
    return Posterior(family, likelihoods(family, evidence))


def entropy(p: np.ndarray) -> float:
    p = p[p > 0]
    return float(-(p * np.log2(p)).sum())


def states(post: Posterior, part: str) -> np.ndarray:
    joint = joint_of(post, part)
    return np.array([joint.original, joint.exchanged.sum(1), *joint.later.values()])


@pytest.mark.parametrize("name", ["headstock_web", "cylinder_fins", "gearbox_lid", "plate_metal", "box_sides"])
def test_expected_information_equals_that_of_trying_every_answer(name: str) -> None:
    before, part = posterior(TOLD), DEMO.features[name].part
    look = next(k for k in looks(before, TOLD) if k.about == f"feature:{name}")
    origin, both, shares = 0.0, 0.0, 0.0
    for variant in family_of(DEMO).features[name][0]:
        after = posterior([*TOLD, Evidence(FEATURE, part, f"{name}={variant}")])
        share = after.total / before.total
        shares += share
        origin += share * entropy(after.origin)
        both += share * entropy(states(after, part).ravel())
    assert shares == pytest.approx(1, abs=1e-9)
    # where a frame or plate exchanged by itself came from is taken as independent of the rest (auditor/origin/joint.py)
    room = 0.003 if part in ("frame", "plate") else 1e-9
    assert look.of_origin == pytest.approx(entropy(before.origin) - origin, abs=room)
    assert look.bits == pytest.approx(entropy(states(before, part).ravel()) - both, abs=0.02)


def test_a_number_that_was_told_is_worth_showing_until_it_is_seen() -> None:
    def frame(evidence: list[Evidence]) -> list[float]:
        return [k.bits for k in looks(posterior(evidence), evidence) if (k.about, k.part) == ("number", "frame")]

    (alone,) = frame(TOLD)
    (with_plate,) = frame([*TOLD, Evidence(NUMBER, "plate", "33Q07311G")])
    # what agrees with the plate may have been read off the plate
    assert with_plate > alone > 0
    assert frame([*TOLD, Evidence(NUMBER, "frame", "33Q07311G", seen=True)]) == []
    (hidden,) = frame([Evidence(NUMBER, "frame", "33Q073??")])
    assert hidden > 0


def test_one_order_in_reports_and_letter() -> None:
    found = audit("1930 Quillfeather QF-5. Frame 33Q 07311 G.")
    asked = re.findall(r"^\d\. (.*(?:\n {3}.*)*)", letter.render(found), re.MULTILINE)
    assert [" ".join(a.split()) for a in asked] == [q.text for q in found.ranked[:IN_A_LETTER]]
    for render in (text.render, html.render, md.render):
        shown = " ".join(render(found).replace("\\", "").split())
        places = [shown.index(q.text) for q in found.letter]
        assert places == sorted(places)
        assert all(q.reason in shown for q in found.letter)
    assert not any(q.reason in " ".join(letter.render(found).split()) for q in found.ranked)


def test_what_clears_a_contradiction_is_in_the_first_letter() -> None:
    checked = 0
    for case in cases("planted"):
        found = audit(case.document)
        serious = {f.name for f in found.findings if f.grade == CONTRADICTION}
        if any(set(q.findings) & serious for q in found.questions):
            checked += 1
            assert any(set(q.findings) & serious for q in found.letter), case.heading
    assert checked > 30


def test_a_family_without_sourced_priors_is_asked_in_order_and_shown_no_figure() -> None:
    found = audit(TRACTOR)
    assert found.beliefs[0].looks
    assert not found.beliefs[0].has_probabilities
    assert all(q.bits is None for q in found.ranked)
    assert all(p.original is None for p in found.beliefs[0].parts)


def test_a_neutral_order_is_kept_when_the_claims_are_turned() -> None:
    found = audit("MGA 1500 1957, chassis HDC43/31234, engine 15GB/U/H/12345")
    pack = found.beliefs[0].pack
    assert pack is not None
    one, two = (neutral_looks(c, d, pack, 1) for c, d in ((found.claims, found.decodings), (found.claims[::-1], found.decodings[::-1])))
    assert [(k.about, k.part) for k in one] == [(k.about, k.part) for k in two]
    assert len(one) > 0


def test_a_makers_name_alone_is_no_family() -> None:
    found = audit("1957 BMW Isetta 300, chassis number 495001, runs well")
    assert not any(b.looks for b in found.beliefs)


def test_no_array_library_is_loaded_where_no_family_has_priors() -> None:
    script = f"import sys; from auditor.audit import audit; found = audit({TRACTOR!r}); assert found.ranked; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", script], check=False).returncode == 0
