"""Belief: exact by brute force, indifferent to what must not matter, and accounts that add up."""

import math
from pathlib import Path

import pytest

from auditor.audit import audit
from auditor.origin.account import belief_on
from auditor.origin.evidence import CASTING, FEATURE, MAKER, NUMBER, SILENCE, STATEMENT, YEAR, Evidence, evidence_of
from auditor.origin.family import Family, family_of
from auditor.origin.likelihood import likelihoods
from auditor.origin.posterior import Posterior
from auditor.origin.terms import ORIGINAL
from claims.pack import shipped_packs
from tests.cases import cases
from tests.small_world import brute_force, small_pack

DEMO = next(p for p in shipped_packs() if p.id == "northmark_pattern5")
SILENT = Evidence(STATEMENT, "vehicle", SILENCE)


def number(part: str, value: str, *, unsure: bool = False, seen: bool = False) -> Evidence:
    return Evidence(NUMBER, part, value, unsure, False, seen)


def feature(part: str, value: str) -> Evidence:
    return Evidence(FEATURE, part, value)


SMALL: dict[str, list[Evidence]] = {
    "nothing": [],
    "silence": [SILENT],
    "frame": [number("frame", "28A2")],
    "frame and plate agree": [number("frame", "28A2"), number("plate", "28A2")],
    "frame and plate differ": [number("frame", "28A2"), number("plate", "B3"), feature("plate", "rivets=two")],
    "equal numbers": [number("frame", "28A2"), number("engine", "E2")],
    "plate and engine equal": [number("plate", "28A3"), number("engine", "E3"), feature("frame", "web=round")],
    "engine of later years": [number("frame", "28A5"), number("engine", "E7"), number("plate", "28A5")],
    "no number": [number("frame", ""), number("plate", "28A1")],
    "later frame": [number("frame", "L2"), number("plate", "L2")],
    "engine without number": [number("engine", ""), number("frame", "B1")],
    "seen and told": [number("frame", "28A2"), number("frame", "28A4", seen=True), number("plate", "28A2")],
    "told twice differently": [number("frame", "28A2"), number("frame", "28A4")],
    "unsure": [number("frame", "28A2", unsure=True), Evidence(FEATURE, "frame", "web=square", True)],
    "year and maker": [Evidence(YEAR, "vehicle", "1928/1928"), Evidence(MAKER, "vehicle", "Alder")],
    "everything": [
        number("frame", "28A2"), number("plate", "28A2"), number("engine", "E2"), feature("frame", "web=square"), feature("body", "lid=low"),
        Evidence(YEAR, "vehicle", "1928/1928"), Evidence(MAKER, "vehicle", "Birch"), Evidence(STATEMENT, "vehicle", "matching_numbers"), SILENT,
    ],
    "owned up": [number("engine", "E8"), number("frame", "28A1"), Evidence(STATEMENT, "engine", "replaced"), SILENT, Evidence(YEAR, "vehicle", "1930/1930")],
    "original": [Evidence(STATEMENT, "vehicle", "original"), SILENT, feature("body", "lid=high")],
}  # fmt: skip


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Family:
    return Family(small_pack(Path(tmp_path_factory.mktemp("packs")) / "small_world"))


def posterior(family: Family, evidence: list[Evidence]) -> Posterior:
    return Posterior(family, likelihoods(family, evidence))


@pytest.mark.parametrize("name", SMALL)
def test_posterior_equals_the_sum_over_all_states(small: Family, name: str) -> None:
    post = posterior(small, SMALL[name])
    cells, states = brute_force(small, SMALL[name])
    assert post.origin.tolist() == pytest.approx(cells, abs=1e-9)
    for part, own in states.items():
        assert post.state(part) == pytest.approx({**dict.fromkeys(post.state(part), 0.0), **own}, abs=1e-9), part


FULL = [
    number("frame", "33Q07311G"), number("engine", "QE10412"), number("plate", "28Q02960"), number("gearbox", "QGE09118"), number("body", "HD06120"),
    number("registration", "NPD11804"), feature("frame", "headstock_web=rounded"), feature("plate", "plate_metal=zinc"), Evidence(CASTING, "axle", "1930-07"),
    Evidence(YEAR, "vehicle", "1931/1931"), Evidence(MAKER, "vehicle", "Quillfeather Motor Works"), Evidence(STATEMENT, "vehicle", "matching_numbers"), SILENT,
]  # fmt: skip


def result(evidence: list[Evidence]) -> tuple[list[float], dict[str, dict[str, float]]]:
    post = posterior(family_of(DEMO), evidence)
    return post.origin.tolist(), {p: post.state(p) for p in post.family.parts}


def test_order_of_evidence_is_irrelevant() -> None:
    origin, states = result(FULL)
    turned, others = result(FULL[::-1])
    assert turned == pytest.approx(origin, abs=1e-12)
    for part in states:
        assert others[part] == pytest.approx(states[part], abs=1e-12)


def test_irrelevant_evidence_changes_nothing() -> None:
    origin, states = result(FULL)
    more, others = (
        result([*FULL, feature("frame", "no_such_feature=x")])
        if "no_such_feature" in DEMO.features
        else result([*FULL, Evidence(STATEMENT, "vehicle", "restored")])
    )
    assert more == origin
    assert others == states


def test_probabilities_add_to_one() -> None:
    origin, states = result(FULL)
    assert sum(origin) == pytest.approx(1)
    for own in states.values():
        assert sum(own.values()) == pytest.approx(1)
        assert min(own.values()) >= 0


def test_relabelled_makers_relabel_the_answer(tmp_path: Path) -> None:
    small = small_pack(tmp_path / "one")
    folder = tmp_path / "two"
    small_pack(folder)
    for path in folder.iterdir():
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace("Alder", "§").replace("Birch", "Alder").replace("§", "Birch"), encoding="utf-8")
    from claims.pack import read_pack

    one, two = Family(small), Family(read_pack(folder))
    evidence = [e for e in SMALL["everything"] if e.kind != MAKER]
    a = posterior(one, [*evidence, Evidence(MAKER, "vehicle", "Birch")])
    b = posterior(two, [*evidence, Evidence(MAKER, "vehicle", "Alder")])
    swap = {"Alder": "Birch", "Birch": "Alder"}
    of_a = {(m, t): p for m, t, p in zip(one.makers, one.months, a.origin, strict=True)}
    of_b = {(swap[m], t): p for m, t, p in zip(two.makers, two.months, b.origin, strict=True)}
    # the fashion for a maker's name is the pack's own and was relabelled with it
    assert of_b == pytest.approx(of_a, abs=1e-12)


def test_the_same_said_twice_by_one_speaker_counts_once() -> None:
    once = audit("1930 Quillfeather QF-5. Frame 33Q 07311 G. Engine QE 10412.")
    twice = audit(
        "1930 Quillfeather QF-5. Frame 33Q 07311 G. Engine QE 10412.\n\nIt is a Quillfeather. Again: engine no. QE 10412, frame no. 33Q 07311 G."
    )
    assert len(twice.claims) > len(once.claims)
    assert twice.beliefs[0].months == pytest.approx(once.beliefs[0].months)
    for a, b in zip(once.beliefs[0].parts, twice.beliefs[0].parts, strict=True):
        assert b.original == pytest.approx(a.original)


@pytest.mark.parametrize(
    "one",
    [number("frame", "33Q07311G"), number("plate", "28Q02960"), feature("frame", "headstock_web=double"), feature("plate", "plate_metal=zinc"),
     Evidence(YEAR, "vehicle", "1931/1931"), Evidence(STATEMENT, "vehicle", "matching_numbers")],
)  # fmt: skip
def test_no_part_is_certain_from_one_weak_source(one: Evidence) -> None:
    _, states = result([one])
    for own in states.values():
        assert 0.005 < own[ORIGINAL] < 0.995


def test_the_rows_of_every_account_add_up_to_its_result() -> None:
    family = family_of(DEMO)
    checked = 0
    for evidence in (FULL, FULL[:3], []):
        belief = belief_on(family, evidence)
        for part in belief.parts:
            assert part.original is not None
            odds = math.log2(part.original / (1 - part.original))
            assert sum(r.bits or 0.0 for r in part.rows) == pytest.approx(odds, abs=1e-9)
            checked += len(part.rows)
        top = max(posterior(family, evidence).origin)
        assert sum(r.bits or 0.0 for r in belief.rows) == pytest.approx(math.log2(top / (1 - top)), abs=1e-9)
    assert checked > 50


def test_what_is_read_becomes_evidence_once_and_nothing_else() -> None:
    found = audit("For sale: Quillfeather QF-5, frame 33Q 07311 G, engine QE 10412, seven-fin cylinder. Wanted: a frame OP31-01872.")
    evidence = evidence_of(found.claims, found.decodings, DEMO)
    said = {(e.kind, e.part, e.value) for e in evidence}
    assert said == {
        (NUMBER, "frame", "33Q07311G"), (NUMBER, "engine", "QE10412"), (FEATURE, "engine", "cylinder_fins=seven"),
        (MAKER, "vehicle", "Quillfeather Motor Works"), (STATEMENT, "vehicle", SILENCE),
    }  # fmt: skip


def test_families_without_sourced_priors_get_readings_and_no_probability() -> None:
    checked = 0
    for case in cases("consistent"):
        found = audit(case.document)
        for belief in found.beliefs:
            if belief.pack is None or belief.pack.id == DEMO.id:
                continue
            checked += 1
            assert not belief.months
            for part in belief.parts:
                assert part.original is None
                assert (part.story == "nothing known") is not bool(part.rows)
    assert checked > 20


def test_never_an_accusing_word() -> None:
    for case in [*cases("planted"), *cases("consistent")][:40]:
        for belief in audit(case.document).beliefs:
            text = " ".join([belief.story, *(p.story for p in belief.parts), *(r.text for p in belief.parts for r in p.rows if not r.claims)]).lower()
            assert "fake" not in text
            assert "forg" not in text


def test_questions_are_ranked_by_information_and_lead_no_witness() -> None:
    found = audit("1930 Quillfeather QF-5. Frame 33Q 07311 G.")
    assert found.ranked[0].about == "number"
    assert found.ranked[0].part in {"engine", "gearbox", "body"}
    measured = [q for q in found.ranked if q.bits is not None]
    assert len(measured) > 20
    assert all(q.reason for q in measured)
    # a question about a place names every place that is known
    variants = {v.variant.replace("_", " ") for v in DEMO.variants if "_" in v.variant and not v.feature.endswith("_place")}
    for q in found.ranked:
        assert not any(v in q.text for v in variants)
        assert q.reason not in q.text or not q.reason


def test_own_inspection_outweighs_the_seller() -> None:
    told = posterior(family_of(DEMO), [number("frame", "33Q07311G"), number("frame", "OP3101872", seen=True)])
    top = int(told.origin.argmax())
    assert told.family.makers[top] == "Ostrander & Pike"


def test_a_missing_tag_and_its_missing_number_are_one_piece_of_news() -> None:
    once = audit("Quillfeather QF-5 carrier. No tag on the box.").beliefs[0]
    twice = audit("Quillfeather QF-5 carrier. No tag on the box, load box has no number.").beliefs[0]
    body = {p.part: p.original for p in once.parts}["body"]
    assert {p.part: p.original for p in twice.parts}["body"] == pytest.approx(body)
    assert not [k for k in once.looks if (k.about, k.part) == ("number", "body")]
