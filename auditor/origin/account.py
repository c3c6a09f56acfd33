"""The account of a belief: each piece of evidence with its weight, so that the rows add up to the result.

A weight is the change of the log-odds (base 2) of "original" when the piece is added to those before it, in a fixed
order that does not depend on the listing's; the first row is the prior odds. Words after the ENFSI verbal scale.
"""

import math
from collections.abc import Sequence

import numpy as np

from auditor.origin.belief import Belief, PartBelief, Weight, shortest_span
from auditor.origin.evidence import CASTING, FEATURE, MAKER, NUMBER, SILENCE, STATEMENT, YEAR, Evidence, evidence_of
from auditor.origin.family import Family, Vector, family_of
from auditor.origin.information import looks
from auditor.origin.joint import joint_of
from auditor.origin.likelihood import likelihoods
from auditor.origin.posterior import Posterior
from auditor.origin.terms import EXCHANGED, ORIGINAL
from claims.claim import Claim
from claims.pack import Pack
from claims.reading_of_number import Decoding
from claims.standards.edtf import month_text

SCALE = (
    (2, "no support either way"), (10, "weak support"), (100, "moderate support"), (1_000, "moderately strong support"),
    (10_000, "strong support"), (1_000_000, "very strong support"), (math.inf, "extremely strong support"),
)  # fmt: skip
"""Likelihood ratios up to and their phrases: ENFSI Guideline for Evaluative Reporting in Forensic Science (2015)."""
TOLD_APART = 0.05
"""Rows of less weight than this (bits) stand together in one."""
MOST_STEPS = 24
LEAST_SHOWN = 0.0005
LOW, HIGH = 0.2, 0.8
SURELY = 0.95
SPIKE = 0.25
"""A month believed so much is named as the likeliest."""
TINY = 1e-12


def words_for(bits: float) -> str:
    """The phrase for a weight.

    >>> words_for(0.2), words_for(-5.0), words_for(11.0)
    ('no support either way', 'moderate support against', 'strong support')
    """
    phrase = next(p for top, p in SCALE if 2 ** abs(bits) < top)
    return phrase if bits >= 0 or phrase == SCALE[0][1] else f"{phrase} against"


def believed(claims: Sequence[Claim], decodings: Sequence[Decoding], pack: Pack, item: int) -> Belief:
    """The belief on one vehicle of a family with sourced priors."""
    f = family_of(pack)
    evidence = evidence_of(claims, decodings, pack, item)
    return belief_on(f, evidence, item)


def belief_on(f: Family, evidence: Sequence[Evidence], item: int = 1) -> Belief:
    """The belief from evidence, with its account."""
    ends = _ends(evidence)
    pieces = [evidence[i] for i in ends]
    steps = [Posterior(f, likelihoods(f, evidence[: n + 1])) for n in (-1, *ends)]
    last = steps[-1]
    top = int(last.origin.argmax())
    states = [{p: s.state(p) for p in f.parts} for s in steps]
    parts = tuple(_part(f, last, p, pieces, [s[p] for s in states]) for p in f.parts)
    makers = {m: float(last.origin[[k == m for k in f.makers]].sum()) for m in dict.fromkeys(f.makers)}
    months: dict[str, float] = {}
    for t, p in zip(f.months, last.origin, strict=True):
        months[month_text(t)] = months.get(month_text(t), 0.0) + float(p)
    rows = _rows(pieces, [_log_odds(float(s.origin[top])) for s in steps])
    story = _story_of_vehicle(f, last, {p.part: p for p in parts})
    return Belief(
        item, f.pack, makers, {m: p for m, p in sorted(months.items()) if p >= LEAST_SHOWN}, parts, rows, story, tuple(looks(last, evidence))
    )


def _ends(evidence: Sequence[Evidence]) -> list[int]:
    """The places of the pieces that have a row: all of them, or in a long listing the last of each kind and part."""
    if len(evidence) <= MOST_STEPS:
        return list(range(len(evidence)))
    return [n for n, one in enumerate(evidence) if n + 1 == len(evidence) or (one.kind, one.part) != (evidence[n + 1].kind, evidence[n + 1].part)]


def _log_odds(p: float) -> float:
    p = min(1 - TINY, max(TINY, p))
    return math.log2(p / (1 - p))


def _rows(evidence: Sequence[Evidence], odds: Sequence[float]) -> tuple[Weight, ...]:
    """The prior's row, a row for each piece that weighs, and one for all that hardly do; their bits add up to the last odds."""
    out = [Weight("as such machines survive, before anything is said", odds[0], "prior odds")]
    rest = 0.0
    for one, before, after in zip(evidence, odds, odds[1:], strict=False):
        bits = after - before
        if abs(bits) < TOLD_APART:
            rest += bits
        else:
            out.append(Weight(described(one), bits, words_for(bits), one.claims))
    if rest:
        out.append(Weight("everything else that was said", rest, words_for(rest)))
    return tuple(out)


def described(one: Evidence) -> str:
    """A piece of evidence in words: as quoted where it rests on words."""
    quoted = f"“{one.claims[0].quote.text}”" if one.claims else one.value.replace("_", " ")
    manner = " (seen)" if one.seen else " (unsure)" if one.unsure else ""
    what = {
        NUMBER: f"{one.part} number {quoted}" if one.value else f"{one.part}: no number, {quoted}",
        FEATURE: f"{one.part}: {quoted}{' denied' if one.denied else ''}",
        CASTING: f"{one.part}: cast date {quoted}",
        STATEMENT: "what owners of such a machine mostly say and this one does not" if one.value == SILENCE else f"said: {quoted}",
        YEAR: f"year given: {quoted}",
        MAKER: f"maker given: {quoted}",
    }
    return what[one.kind] + manner


def _part(f: Family, post: Posterior, part: str, evidence: Sequence[Evidence], states: Sequence[dict[str, float]]) -> PartBelief:
    state, joint = states[-1], joint_of(post, part)
    later = {s: p for s, p in state.items() if s not in (ORIGINAL, EXCHANGED)}
    makers: dict[str, float | None] = {m: float(joint.cells[[k == m for k in f.makers]].sum()) for m in dict.fromkeys(f.makers)}
    makers |= later
    by_month: dict[int, float] = {}
    for t, p in zip(f.months, joint.cells, strict=True):
        by_month[t] = by_month.get(t, 0.0) + float(p)
    first, last = shortest_span(by_month)
    name = f.pack.parts[part].name if part in f.pack.parts else part
    touched = any(e.part == part for e in evidence)
    return PartBelief(
        part, name, state[ORIGINAL], state[EXCHANGED], sum(later.values()), makers, first, last,
        _rows(evidence, [_log_odds(s[ORIGINAL]) for s in states]), _story(f, name, state, joint.exchanged.sum(0), first, last, touched),
        touched, tuple(sorted(by_month.items())),
    )  # fmt: skip


def _story(f: Family, name: str, state: dict[str, float], donor: Vector, first: str, last: str, touched: bool) -> str:
    """What the part probably is, in one sentence; never an accusation."""
    if not touched:
        return f"nothing said of it; of surviving machines about {round(100 * state[ORIGINAL])} in 100 have their own"
    original = state[ORIGINAL]
    when = f"built {first}" if first == last else f"built {first} to {last}"
    if original >= SURELY:
        return f"very probably as first fitted, {when}"
    if original >= HIGH:
        return f"probably as first fitted, {when}"
    likely = max((k for k in state if k != ORIGINAL), key=lambda k: state[k])
    if likely == EXCHANGED:
        source = f"exchanged, from {_donor(f, donor)}"
    else:
        source = f"made later: {likely}"
    if original <= LOW:
        return f"probably not first fitted; likeliest {source}"
    return f"undecided: as first fitted, or {source}"


def _donor(f: Family, donor: Vector) -> str:
    """The machine that an exchanged part came from, as far as anything says which."""
    top, total = int(donor.argmax()), float(donor.sum())
    same = np.array([m == f.makers[top] for m in f.makers])
    if not total or float(donor[same].sum()) < HIGH * total:
        return "another machine"
    near = float(donor[same & (np.abs(f.month_array - f.months[top]) <= 6)].sum())
    return f"a machine of {f.makers[top]}" + (f" of about {f.months[top] // 12}" if near >= total / 2 else "")


def _when(f: Family, post: Posterior, top: int) -> str:
    """When the vehicle was built, as closely as is believed: the month, about a year, the likeliest month, or from when to when."""
    month, best = month_text(f.months[top]), float(post.origin[top])
    if best >= SURELY:
        return month
    near = float(post.origin[[m == f.makers[top] and abs(t - f.months[top]) <= 6 for m, t in zip(f.makers, f.months, strict=True)]].sum())
    likeliest = f"likeliest {month} (about {round(100 * best)} of 100)" if best >= SPIKE else ""
    if near >= HIGH:
        return f"about {f.months[top] // 12}{f', {likeliest}' if likeliest else ''}"
    by_month: dict[int, float] = {}
    for t, p in zip(f.months, post.origin, strict=True):
        by_month[t] = by_month.get(t, 0.0) + float(p)
    return likeliest or "built from {} to {}".format(*shortest_span(by_month))


def _story_of_vehicle(f: Family, post: Posterior, parts: dict[str, PartBelief]) -> str:
    top = int(post.origin.argmax())
    maker = float(post.origin[[m == f.makers[top] for m in f.makers]].sum())
    sure = "very probably" if maker >= SURELY else "probably" if maker >= HIGH else "perhaps"
    story = f"{sure} by {f.makers[top]}, {_when(f, post, top)}"
    frame = parts.get(f.pack.identity)
    if frame and frame.original is not None and frame.original < 0.5:
        story += f"; its {frame.name} is probably not the first, and registries follow the {frame.name}"
    return story
