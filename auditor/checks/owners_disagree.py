"""One owner from new is stated beside previous owners.

Usually it is loose talk (one family, one owner since restoration), so that it is never more than a doubt.
"""

from collections.abc import Iterator

from auditor.case import Case
from auditor.finding import DOUBT, Finding

ASK = "Who has owned it, from when to when, and what papers show that?"
ABOUT = "papers"
ONE, PREVIOUS = "one_from_new", "previous"


def check(case: Case) -> Iterator[Finding]:
    """One finding where both are said of the vehicle."""
    said = case.said("owners")
    one = next((c for c in said if c.value == ONE), None)
    previous = next((c for c in said if c.value == PREVIOUS), None)
    if one and previous:
        yield Finding(
            "owners_disagree",
            DOUBT,
            f"“{one.quote.text}” is said, and also “{previous.quote.text}”.",
            "vehicle",
            (one, previous),
            innocent=("One family or one firm may be meant, or one owner before the seller.",),
            settle="The registration papers with all keepers.",
        )
