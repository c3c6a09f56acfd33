"""Features that a named pack knows, in the words it gives for their variants."""

from collections.abc import Iterator

from claims.reading.sheet import Draft, Sheet


def read(sheet: Sheet, named: frozenset[str]) -> Iterator[Draft]:
    """Drafts of every feature of a pack in `named`."""
    for hit in sheet.found("feature"):
        if hit.entry.family in named:
            yield Draft("feature", hit.entry.part, hit.entry.value, hit.i, hit.j, family=hit.entry.family)
