"""The stance of a draft by its kind: what cues may do to a number, a document, a name, a year.

A number that is not there is stated; a document is there or not, whoever says so; a replica's namesake is another thing,
its builder ("by …") is not; talk of a model line ("built from 1947 to 1957") is about no single vehicle.
"""

from collections import Counter
from collections.abc import Sequence
from functools import cached_property

from claims.claim import DENIED, HEDGED, OTHER_ITEM, REPORTED, STANCES, STATED
from claims.reading.paper_speech import is_said_by_a_paper
from claims.reading.sheet import Draft, Sheet
from claims.stance import Stances

FEWEST_NAMES = 3
NAMES = frozenset({"maker", "model"})


class Talk:
    """What a field's sentences speak of, asked for the stance of each draft."""

    def __init__(self, sheet: Sheet, drafts: Sequence[Draft], stances: Stances) -> None:
        self.sheet, self.drafts, self.stances = sheet, drafts, stances

    @cached_property
    def replicas(self) -> frozenset[int]:
        """The sentences that call the whole a replica and do not deny it."""
        said = [d for d in self.drafts if d.kind == "originality" and d.value == "replica" and d.part == "vehicle"]
        return frozenset(self.sheet.grid.sentence[d.i] for d in said if not self.stances.denied(d.i, d.j))

    @cached_property
    def of_the_line(self) -> frozenset[int]:
        """The sentences that speak of a model line: of its years of production, or in words that say so; none with "this"."""
        grid, lists = self.sheet.grid, self.sheet.language.lists
        found = {grid.sentence[h.i] for h in self.sheet.found("line")}
        found |= {grid.sentence[d.i] for d in self.drafts if _is_production(d)}
        if not found:
            return frozenset()
        own = {s for s, tok in zip(grid.sentence, grid.toks, strict=True) if s in found and tok in lists["this_one"]}
        own |= {grid.sentence[d.i] for d in self.drafts if (d.kind == "number" and d.value) or (d.kind == "year" and d.part == "vehicle")}
        return frozenset(found - own)

    @cached_property
    def tails(self) -> frozenset[int]:
        """The lines of a text, behind its first, that are nothing but names of makers and models: words for a search."""
        grid = self.sheet.grid
        if self.sheet.role != "text" or not grid.n or grid.line[-1] == grid.line[0]:
            return frozenset()
        names = [d for d in self.drafts if d.kind in NAMES and grid.line[d.i] != grid.line[0]]
        counts = Counter(grid.line[d.i] for d in names)
        named = Counter(grid.line[k] for k in {k for d in names for k in range(d.i, d.j)})
        many = {line for line, count in counts.items() if count >= FEWEST_NAMES}
        tokens = Counter(line for line in grid.line if line in many)
        return frozenset(line for line in many if 2 * named[line] > tokens[line])

    def stance(self, draft: Draft) -> str:
        """The stance of one draft."""
        sheet, stances = self.sheet, self.stances
        if draft.kind == "number" and draft.value is None:
            return max(STATED, stances.whole, key=STANCES.index)
        if draft.kind == "papers":
            return _of_a_document(stances, sheet, draft)
        if draft.kind in NAMES and sheet.grid.line[draft.i] in self.tails:
            return OTHER_ITEM
        if sheet.grid.sentence[draft.i] in self.of_the_line and (draft.kind in NAMES or _is_production(draft)):
            return OTHER_ITEM
        own = _said_inside(sheet, draft) if draft.kind == "originality" and draft.own == STATED else draft.own
        stance = stances.of(draft.i, draft.j, own, kind=draft.kind)
        if stance in {STATED, HEDGED} and is_said_by_a_paper(sheet, draft.i, listed=draft.kind == "number"):
            stance = REPORTED
        if (
            draft.kind in NAMES
            and stance == STATED
            and sheet.grid.sentence[draft.i] in self.replicas
            and sheet.grid.at(draft.i - 1) not in sheet.language.lists["builder_links"]
        ):
            return OTHER_ITEM
        return stance


def _is_production(draft: Draft) -> bool:
    """Whether a draft is a span of building over more than a year, of the whole: that of a model line."""
    first, _, last = (draft.value or "").partition("/")
    return draft.kind == "built" and draft.part == "vehicle" and first.isdigit() and last.isdigit() and int(last) - int(first) > 1


def _of_a_document(stances: Stances, sheet: Sheet, draft: Draft) -> str:
    """A document is there or not, whoever says so, and where nothing but parts is sold it is missing all the same. Hearsay
    counts where the document is what is spoken of ("a data card is said to exist"), no denial where it is a source ("not
    4471 as on the V5")."""
    if draft.own == REPORTED:
        among = {HEDGED, DENIED}
        return stances.of(draft.i, draft.j, draft.own, frozenset(among))
    grid, lists = sheet.grid, sheet.language.lists
    k = draft.i - 1
    while grid.at(k) in lists["source_links"]:
        k -= 1
    source = grid.at(k) in lists["paper_sources"] or any(t in lists["source_places"] for t in grid.toks[k + 1 : draft.i])
    among = {HEDGED} if source else {HEDGED, DENIED}
    if grid.at(draft.j) in lists["far_copulas"] and k >= 0 and not source:
        among.add(REPORTED)
    if draft.own == DENIED or (DENIED in among and stances.denied(draft.i, draft.j)):
        return DENIED
    return stances.of(draft.i, draft.j, draft.own, frozenset(among))


def _said_inside(sheet: Sheet, draft: Draft) -> str:
    """The stance that a word between a part and what is said of it gives ("Getriebe vermutlich original", "la boîte serait
    d'origine", "de motor is niet gereviseerd"); what is said to be replaced or unrestored has its "not" in its own words."""
    inside, lists = set(sheet.grid.toks[draft.i : draft.j]), sheet.language.lists
    if inside & lists["denied_inside"] and draft.value not in {"replaced", "unrestored"}:
        return DENIED
    return REPORTED if inside & lists["told_inside"] else HEDGED if inside & lists["unsure_inside"] else STATED
