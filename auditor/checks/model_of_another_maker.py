"""The stated model was made by another maker than the one stated.

Where one drawing was built by several makers, sellers mix their names and designations; the pair itself cannot hold.
"""

from collections.abc import Iterator

from auditor.case import Case
from auditor.finding import CONTRADICTION, DOUBT, Finding
from claims.claim import STATED

ASK = "What exactly stands on the data plate, word for word?"
ABOUT = "photo:plate"


def check(case: Case) -> Iterator[Finding]:
    """Compare the maker of each stated model with the makers stated, pack by pack."""
    for pack in case.packs:
        known = {n.canonical for n in pack.makers}
        makers = [c for c in case.said("maker") if c.part == "vehicle" and c.value in known]
        models = [c for c in case.said("model") if c.part == "vehicle" and pack.model_maker(c.value or "")]
        if not makers or not models:
            continue
        stated = {c.value for c in makers}
        for model in models:
            maker = pack.model_maker(model.value or "")
            if maker in stated or maker not in known:
                continue
            row = next(n for n in pack.models if n.canonical == model.value)
            sure = model.stance == STATED and makers[0].stance == STATED
            yield Finding(
                "model_of_another_maker",
                CONTRADICTION if sure else DOUBT,
                f"“{makers[0].quote.text}” is stated as maker, but the {model.value} was made by {maker}.",
                "vehicle",
                (makers[0], model),
                f"{pack.id}/name",
                (pack.source(row.source_id),),
                False,
                ("The names of makers who built to one drawing are often mixed up.",),
                "A photograph of the data plate and of any maker's mark.",
            )
            break
