"""The stated displacement is not that of the stated model.

Silent within rounding and an overbore (fifteen in a hundred either way), and where the listing speaks of another
engine. Displacements are mostly from memory, so that it is a doubt at most.
"""

from collections.abc import Iterator

from auditor.case import Case
from auditor.finding import DOUBT, Finding

ASK = "Which engine is in it, and what number does it carry?"
ABOUT = "number"
ROOM = 0.15


def check(case: Case) -> Iterator[Finding]:
    """Compare every stated displacement with that of every stated model whose pack gives one."""
    stated = [c for c in case.said("displacement") if (c.value or "").isdigit()]
    if not stated or case.is_owned_up("engine") or case.originality("replica", "composite"):
        return
    for pack in case.packs:
        known = [(c, n) for c in case.said("model") if c.part == "vehicle" for n in pack.models if n.displacement and n.canonical == c.value]
        if not known or any(abs(int(s.value or 0) - n.displacement) <= ROOM * n.displacement for s in stated for _, n in known):
            continue
        model, name = known[0]
        yield Finding(
            "displacement_of_another_model",
            DOUBT,
            f"“{stated[0].quote.text}” is said, but the {name.canonical} had {name.displacement} cc.",
            "engine",
            (stated[0], model),
            f"{pack.id}/name",
            (pack.source(name.source_id),),
            False,
            ("Another engine, a big-bore set, or a slip.",),
            "A photograph of the engine number.",
        )
