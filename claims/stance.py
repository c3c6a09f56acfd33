"""How a claim is said: hedged, reported, denied, of another thing. Cues are data; here is only how far they reach.

A cue governs what stands after it (or before it) up to the end of its reach: a phrase (a few words and no comma but
a list's), a few words, its clause, its sentence, its line, or the advert. A clause ends with its punctuation, with "but" and its like, and with a comma, unless the
comma opens the statement ("according to the owner, …") or a list of bare words plainly carries it on.
"""

from collections.abc import Iterable, Mapping

from claims.claim import DENIED, HEDGED, OTHER_ITEM, REPORTED, STANCES, STATED
from claims.grid import Grid
from claims.lexicon import Hit
from claims.phrase_files import Cue

FEW_WORDS = 5
TAG_WORDS = frozenset({"i", "we", "apparently", "allegedly", "reportedly", "supposedly", "so", "glaube", "denke", "je", "ik"})
"""First words of a remark that may follow a comma and still speak of what stands before it ("…, I believe.")."""
LIST_WORDS = 3
CLOSING_WORDS = 5
OPENING_WORDS = 9
Hits = Mapping[str, list[Hit]]
_Placed = tuple[int, int, Cue]
"""A cue at tokens [i, j)."""
REST = "rest"
_RANK = {stance: rank for rank, stance in enumerate(STANCES)}


class Stances:
    """The cues of one field, ready to be asked about a span of tokens."""

    def __init__(
        self,
        grid: Grid,
        hits: Hits,
        cues: Mapping[str, Cue],
        ends: frozenset[str],
        questions: frozenset[str],
        noes: frozenset[str],
        carriers: frozenset[str],
        whole: str = STATED,
        labels: Iterable[int] = (),
        denial_ends: frozenset[str] = frozenset(),
        own_verbs: frozenset[str] = frozenset(),
        denial_carriers: frozenset[str] = frozenset(),
    ) -> None:
        self.denial_carriers = denial_carriers
        self.denial_ends, self.own_verbs = denial_ends, own_verbs
        self.grid, self.ends, self.questions, self.noes, self.carriers, self.whole = grid, ends, questions, noes, carriers, whole
        none = frozenset(k for h in hits.get("cue-none", ()) for k in range(h.i, h.j))
        of_labels = frozenset(labels)

        def real(found: Iterable[Hit]) -> list[_Placed]:
            return [
                (h.i, h.j, cues[h.entry.value])
                for h in found
                if h.i not in of_labels
                and not (h.i in none and h.j - 1 in none)
                and not (h.j - h.i == 1 and grid.toks[h.i] == "no" and self._is_abbreviated(h.j))
            ]

        self._after: dict[int, list[_Placed]] = {}
        self._before: dict[int, list[_Placed]] = {}
        self._rest: list[_Placed] = []
        for placed in real(hits.get("cue-after", ())):
            (self._rest if placed[2].reach == REST else self._after.setdefault(grid.sentence[placed[0]], [])).append(placed)
        for placed in real(hits.get("cue-before", ())):
            self._before.setdefault(grid.sentence[placed[0]], []).append(placed)

    def _is_abbreviated(self, j: int) -> bool:
        """Whether a "no" before token j is short for "number" or ends its sentence ("no. 36Q 12210", "says no. She is")."""
        return self.grid.at(j) == "." or self.grid.at(j)[:1].isdigit()

    def of(self, i: int, j: int, own: str = STATED, among: frozenset[str] = frozenset(STANCES), kind: str = "") -> str:
        """The stance of tokens [i, j): the latest in `STANCES` of all cues (of stances in `among`) that govern them, of the advert and `own`."""
        said = own if _RANK[own] > _RANK[self.whole] else self.whole
        if self._is_without_cues(i, j):
            return said
        return max(self._governing(i, j, among, said, kind=kind), key=_RANK.__getitem__)

    def denied(self, i: int, j: int) -> bool:
        """Whether a cue denies tokens [i, j), whatever the advert as a whole is about."""
        return not self._is_without_cues(i, j) and DENIED in self._governing(i, j, frozenset({DENIED}))

    def _is_without_cues(self, i: int, j: int) -> bool:
        """Whether nothing in the sentence of token i, nor a question mark behind token j, could govern what stands there."""
        sentence = self.grid.sentence[i] if i < self.grid.n else -1
        return not self._rest and sentence not in self._after and sentence not in self._before and self.grid.at(j) != "?"

    def _governing(self, i: int, j: int, among: frozenset[str], *given: str, kind: str = "") -> list[str]:
        found = [*given]
        if self.grid.at(j) == "?" and self.grid.at(j + 1) in self.noes:
            found.append(DENIED)
        sentence = self.grid.sentence[i] if i < self.grid.n else -1
        after = [*self._rest, *self._after.get(sentence, ())]
        before = self._before.get(sentence, ())
        if not after and not before:
            return found
        found += [
            cue.stance
            for start, end, cue in after
            if end <= i
            and cue.stance in among
            and cue.stance not in found
            and not (cue.kinds and kind and kind not in cue.kinds)
            and self._reaches(start, end, i, cue)
        ]
        found += [
            cue.stance
            for start, end, cue in before
            if start >= j and cue.stance in among and cue.stance not in found and self._reaches_back(j, start, end, cue)
        ]
        return found

    def with_denial(self, i: int, j: int) -> tuple[int, int]:
        """Tokens [i, j) widened to the words that deny them, where those stand straight before or behind."""
        sentence = self.grid.sentence[i]
        before = [start for start, end, cue in self._after.get(sentence, ()) if cue.stance == DENIED and 0 <= i - end <= 1]
        behind = [end for start, end, cue in self._before.get(sentence, ()) if cue.stance == DENIED and 0 <= start - j <= 1 and not before]
        return min([i, *before]), max([j, *behind])

    def _reaches(self, begin: int, start: int, i: int, cue: Cue) -> bool:
        """Whether a cue at tokens [begin, start) governs what begins at token i."""
        grid = self.grid
        if cue.reach == REST:
            return i >= start
        if i < start or grid.sentence[i] != grid.sentence[start - 1]:
            return False
        if cue.reach == "sentence":
            return True
        if grid.clause[i] != grid.clause[start - 1]:
            return False
        if cue.reach in {"words", "phrase"} and i - start > FEW_WORDS:
            return False
        return not self._ended(begin, start, i, cue)

    def _reaches_back(self, j: int, start: int, end: int, cue: Cue) -> bool:
        grid = self.grid
        if grid.clause[start] != grid.clause[j - 1] or grid.sentence[start] != grid.sentence[j - 1]:
            return cue.reach == "words" and grid.sentence[start] == grid.sentence[j - 1] and start - j <= 1 and grid.at(j) != "|"
        if cue.reach == "words" and start - j > FEW_WORDS:
            return False
        if grid.toks[start] == "?" and (start != j or self._asks(start)):
            return False
        between = grid.toks[j:start]
        tagged = bool(between) and between[-1] == "," and grid.toks[start] in TAG_WORDS and cue.stance in {HEDGED, REPORTED} and self._closes(start)
        return not any(t in self.ends for t in between) and between.count(",") <= (
            (cue.reach != "words" and between[-1:] == [","] and self._closes(end - 1)) or tagged
        )

    def _closes(self, start: int) -> bool:
        """Whether the sentence ends with the cue at token `start` or a comma follows it soon ("…, I believe.")."""
        grid = self.grid
        return any(
            grid.at(k) in {".", ",", ";", ")", ""} or not grid.same_line(k - 1, k) for k in range(start + 1, min(start + CLOSING_WORDS, grid.n + 1))
        )

    def _ended(self, begin: int, start: int, i: int, cue: Cue) -> bool:
        """Whether the reach of a cue ends between token `start` and token i, by a word or a comma (an answering "no,"
        governs nothing); a number straight behind the comma is still the other thing's."""
        toks, last = self.grid.toks, start
        other = cue.stance == OTHER_ITEM
        for k in range(start, i):
            if toks[k] in self.ends or (cue.stance == DENIED and toks[k] in self.denial_ends):
                return True
            if toks[k] == ":" and k - start > OPENING_WORDS:
                return True
            answered = k == start and toks[k - 1] in self.noes
            if toks[k] != ",":
                if answered and toks[k] == ":":
                    return True
                continue
            if answered:
                return True
            opening = (
                cue.reach != "phrase"
                and cue.stance != DENIED
                and last == start
                and k - start <= OPENING_WORDS
                and not any(any(c.isdigit() for c in t) for t in toks[start:k])
                and self._opens(start)
                and not (cue.stance == REPORTED and toks[begin] in self.own_verbs)
            )
            carried = (other and any(c.isdigit() for c in "".join(toks[k + 1 : k + 3]))) or (
                toks[k + 1 : k + 2]
                and (
                    (toks[k + 1] in self.carriers and (other or self.own_verbs.isdisjoint(toks[k + 1 : i])))
                    or (self._is_denied_list(start, k + 1, i) if cue.stance == DENIED else self._is_list(k + 1))
                )
            )
            if not opening and not carried:
                return True
            last = k + 1
        return False

    def _is_of_verb(self, start: int) -> bool:
        """Whether a denial that ends at token `start` is one of a verb ("not a"), which no list carries on past its comma."""
        return any(t in {"not", "isn't", "isnt", "nicht", "pas", "niet", "non"} for t in self.grid.toks[max(0, start - 3) : start])

    def _asks(self, i: int) -> bool:
        """Whether the sentence of token i opens with a question word."""
        first = i
        while first > 0 and self.grid.sentence[first - 1] == self.grid.sentence[i]:
            first -= 1
        return self.grid.toks[first] in self.questions

    def _opens(self, start: int) -> bool:
        """Whether little stands before the cue in its sentence: it opens the statement."""
        grid = self.grid
        first = start - 1
        while first > 0 and grid.sentence[first - 1] == grid.sentence[start - 1] and grid.toks[first - 1] not in {",", "-", ":"}:
            first -= 1
        return start - first <= OPENING_WORDS

    def _is_denied_list(self, start: int, k: int, i: int) -> bool:
        """Whether "or" or "nor" behind token k carries a denial on over its commas ("no title, registration or keys")."""
        if self._is_of_verb(start):
            return False
        near = self.grid.toks[k : i + OPENING_WORDS]
        return next((t in self.denial_carriers for t in near if t in self.denial_carriers or t in self.ends or t == "."), False)

    def _is_list(self, k: int) -> bool:
        """Whether a short run of bare words, then a comma or a list word, follows the comma."""
        for offset in range(1, LIST_WORDS + 1):
            token = self.grid.at(k + offset)
            if token in self.carriers or token == ",":
                return not any(c.isdigit() for t in self.grid.toks[k : k + offset] for c in t)
        return False
