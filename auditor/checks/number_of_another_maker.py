"""A number has the form, or stands in the block, of another maker (or model) than the one stated.

Two makers who built to one drawing are told apart by their numbers first. A frame number of the other maker cannot be
this vehicle's; an engine or a plate may have been exchanged, so that its number alone is a doubt unless the seller
vouches for it. A block made over from one maker to the other is a doubt: its prefix misleads everyone.
"""

from collections.abc import Iterator

from auditor.case import Case
from auditor.finding import CONTRADICTION, DOUBT, NOTE, Finding
from claims.claim import STATED, Claim
from claims.decode import stands_alone
from claims.reading_of_number import Decoding

ASK = "Which maker's name stands on the vehicle itself, and where?"
ABOUT = "mark"


def check(case: Case) -> Iterator[Finding]:
    """Compare the makers that each number allows with the makers and models stated of the vehicle."""
    for decoding in case.decodings:
        if decoding.pack is None or decoding.failure or case.is_owned_up(decoding.part) or case.alternatives(decoding)[0] is not decoding:
            continue
        yield from _by_maker(case, decoding)
        yield from _by_model(case, decoding)


def stated_makers(case: Case, decoding: Decoding) -> dict[str, list[Claim]]:
    """Makers of the number's pack that the listing states for the vehicle or this part, from names and models."""
    pack = decoding.pack
    out: dict[str, list[Claim]] = {}
    if pack is None:
        return out
    known = {n.canonical for n in pack.makers}
    for claim in case.said("maker", "model"):
        if claim.part not in {"vehicle", decoding.part}:
            continue
        maker = claim.value or "" if claim.kind == "maker" else pack.model_maker(claim.value or "")
        if maker in known:
            out.setdefault(maker, []).append(claim)
    return out


def _other_makers(case: Case, decoding: Decoding) -> dict[str, list[Claim]]:
    """Makers outside the number's pack, where the form is so particular that no other maker's number looks like it."""
    out: dict[str, list[Claim]] = {}
    if stands_alone(decoding) and decoding.pack and not decoding.pack.known_names & {c.value for c in case.said("model")}:
        for claim in case.said("maker"):
            if claim.part == "vehicle" and claim.value:
                out.setdefault(claim.value, []).append(claim)
    return out


def _by_maker(case: Case, decoding: Decoding) -> Iterator[Finding]:
    makers = case.makers(decoding)
    stated = stated_makers(case, decoding) or _other_makers(case, decoding)
    if not makers or not stated or makers & {*stated, *(c.value for c in case.said("model"))}:
        return
    if decoding.is_later_part and not case.carries_identity(decoding) and not case.is_held_original(decoding.part):
        grade = NOTE
    elif case.carries_identity(decoding):
        grade = CONTRADICTION
    elif vouched := case.is_held_original(decoding.part):
        grade = CONTRADICTION if any(c.stance == STATED for c in vouched) else DOUBT
    else:
        grade = DOUBT
    scheme_maker = decoding.scheme.maker if decoding.scheme else ""
    if scheme_maker and scheme_maker not in makers:
        grade = DOUBT if grade == CONTRADICTION else grade
    if decoding.claim.stance != STATED and grade == CONTRADICTION:
        grade = DOUBT
    said = [claims[0] for claims in stated.values()]
    vouching = [] if case.carries_identity(decoding) else case.is_held_original(decoding.part)[:1]
    vouched_words = f", while “{vouching[0].quote.text}” is said" if vouching else ""
    if all(c.stance != STATED for claims in stated.values() for c in claims) and grade == CONTRADICTION:
        grade = DOUBT
    part, name = case.part_name(decoding.part), "number_of_another_maker"
    reading = " or ".join(sorted(makers))
    yield Finding(
        name,
        grade,
        f"“{said[0].quote.text}” is stated, but {part} number {decoding.claim.quote.text} is of {reading}{vouched_words}.",
        decoding.part,
        (said[0], decoding.claim, *vouching),
        decoding.rule,
        tuple(dict.fromkeys((*decoding.sources, *(s for r in decoding.readings for s in r.sources)))),
        any(r.weak for r in decoding.readings),
        case.innocent(name, decoding.part, decoding.scheme.scheme if decoding.scheme else "")
        or ("The part may have been exchanged, or the number read off another part.",),
        f"A photograph of the stamped {part} number, and of any maker's mark on the same part.",
    )


def _by_model(case: Case, decoding: Decoding) -> Iterator[Finding]:
    """A model prefix inside the number against the models that the listing names."""
    pack = decoding.pack
    allowed = next((value for what, value in decoding.said if what == "models"), "")
    prefix = decoding.groups.get("prefix", "")
    if pack is None or not allowed or not prefix:
        return
    names = {n.canonical for n in pack.models}
    stated = [c for c in case.said("model") if c.value in names and c.part == "vehicle"]
    families = {row["prefix"]: row["models"] for row in pack.table("prefixes")}
    lines = {name for models in families.values() for name in models.split(" | ")}
    known = [c for c in stated if c.value in lines or c.value in families]
    of_prefix = set(allowed.split(" | "))
    if not known or any(c.value in of_prefix or of_prefix & set(families.get(c.value or "", "").split(" | ")) for c in known):
        return
    part, name = case.part_name(decoding.part), "number_of_another_maker"
    yield Finding(
        name,
        DOUBT,
        f"“{known[0].quote.text}” is stated, but the prefix {prefix} of {part} number {decoding.claim.quote.text} is of the {allowed}.",
        decoding.part,
        (known[0], decoding.claim),
        decoding.rule,
        (pack.source("M"),),
        True,
        ("The part may have been exchanged.",),
        f"A photograph of the stamped {part} number.",
    )
