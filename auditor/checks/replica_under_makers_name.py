"""A replica, tribute or composite is offered under the maker's name.

Such a vehicle must be called what it is. Where the headline names maker and year as if genuine and only the text says
replica, a reader of the headline is misled; where the headline says so itself, all is well.
"""

from collections.abc import Iterator

from auditor.case import Case
from auditor.finding import DOUBT, Finding
from extractors.document import ATTRIBUTE, TITLE

ASK = "Which parts of it were made by the original maker, and which later, by whom?"
ABOUT = "statement"


def check(case: Case) -> Iterator[Finding]:
    """One finding where only the text owns up to a replica and headline or form name a maker and a year."""
    made_later = case.originality("replica", "composite", parts=["vehicle"])
    if not made_later or any(c.quote.field == TITLE for c in made_later):
        return
    heads = [c for c in case.said("maker", "model") if c.part == "vehicle" and (c.quote.field == TITLE or c.quote.field.startswith(ATTRIBUTE))]
    years = [c for c in case.said("year", "built") if c.part == "vehicle" and (c.quote.field == TITLE or c.quote.field.startswith(ATTRIBUTE))]
    if heads and years:
        yield Finding(
            "replica_under_makers_name",
            DOUBT,
            f"“{heads[0].quote.text}” {years[0].quote.text} is offered, but the text says “{made_later[0].quote.text}”.",
            "vehicle",
            (heads[0], years[0], made_later[0]),
            innocent=("Forms often leave no room to say so in the headline.",),
            settle="A list of the parts with their makers and dates.",
        )
