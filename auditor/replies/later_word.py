"""Which word stands where the same witness speaks twice, or one's own eyes have seen what the seller tells.

Every claim stays in the record; the checks see those that stand. A later word of the seller replaces an earlier one

- that could not be read, was partly hidden or unsure, where the later one can be the same (a slip, a completed number);
- where he says that he was wrong, or was asked for just that (the year, the maker, a feature);
- where he denies it ("not matching after all") or says that he was wrong: "original" never takes back "replaced".

What one has read oneself of a number or a feature outranks what the seller says of it. Two good numbers for one part
are never reconciled: both are shown.
"""

import dataclasses
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from auditor.checks.numbers_of_one_part_differ import may_be_same
from auditor.replies.hearing import TOLD, Answer
from auditor.replies.phrases import says
from claims.claim import DENIED, HEDGED, NOTES, OTHER_ITEM, REPLY, REPORTED, STATED, Claim
from claims.reading_of_number import Decoding
from claims.repairs import zeros_and_ones
from extractors.document import Document

COMPLETED, SLIP, TAKEN_BACK, OWNED_UP, RESOURCED, FIRMER, OWN_READING, REGISTRATION = (
    "completed", "a slip of the pen", "taken back", "owned up", "said to be another's word", "said more firmly", "read on the vehicle",
    "the year of registration or sale",
)  # fmt: skip
SLIP_OF = 2
"""Characters in which a number that cannot be read may differ from the one that replaces it (common practice, no source)."""
DATES = ("year", "built")
SINGLE = frozenset({"year", "built", "maker", "model"})
BOASTS = frozenset({"original", "matching_numbers", "unrestored"})
ADMISSIONS = frozenset({"replaced", "reproduction", "composite", "replica"})
BETWEEN = 300
"""Characters between two numbers of one letter in which the second may be said to put the first right."""
NEAR = 160
"""Characters around a claim in which its writer may say that he was wrong."""


@dataclass(frozen=True, slots=True)
class Replaced:
    """An earlier claim, the one that stands in its place, and why."""

    earlier: Claim
    later: Claim
    why: str


def replaced(document: Document, claims: Sequence[Claim], decodings: Sequence[Decoding], answers: Sequence[Answer]) -> list[Replaced]:
    """Every claim that no longer stands; `claims` are all that were said, in the order in which they were."""
    said = [c for c in claims if not c.is_decoded and c.stance != OTHER_ITEM]
    read = {id(d.claim) for d in decodings if d.readings}
    judge = _Judge(document, read, {k for a in answers if a.outcome == TOLD for k in a.topic.kinds})
    out: dict[int, Replaced] = {}
    before: dict[tuple[int, str, str], list[Claim]] = {}
    told: set[tuple[str, Claim]] = set()
    for later in said:
        same_matter = before.setdefault(_matter(later), [])
        if later.basis in {REPLY, NOTES} and (later.quote.field, later) not in told:
            told.add((later.quote.field, later))
            for earlier in (
                same_matter if later.kind != "originality" else [c for k, found in before.items() if k[:2] == _matter(later)[:2] for c in found]
            ):
                if why := judge.why(earlier, later):
                    out[id(earlier)] = Replaced(earlier, later, why)
        same_matter.append(later)
    for resourced in _said_by_others(said, answers):
        out.setdefault(id(resourced.earlier), resourced)
    return list(out.values())


def _matter(claim: Claim) -> tuple[int, str, str]:
    """What a claim is about: only claims of one matter can replace one another (an originality claim those of any part)."""
    return claim.item, "date" if claim.kind in DATES else claim.kind, claim.part


class _Judge:
    def __init__(self, document: Document, read: set[int], asked: set[str]) -> None:
        self.document, self.read, self.asked = document, read, asked

    def why(self, earlier: Claim, later: Claim) -> str:
        """Why the later claim replaces the earlier one; empty where both stand."""
        if earlier.basis == NOTES and later.basis != NOTES:
            return ""
        if earlier.quote.field == later.quote.field:
            return self._in_one_breath(earlier, later)
        if later.kind == "originality":
            return OWNED_UP if _owns_up(earlier, later) and (later.stance == DENIED or self._is_sorry(later)) else ""
        if later.stance == DENIED:
            taken_back = (earlier.kind, earlier.part, earlier.value) == (later.kind, later.part, later.value) and earlier.basis != NOTES
            return TAKEN_BACK if taken_back and earlier.stance != DENIED and later.basis == REPLY else ""
        if earlier.stance == DENIED:
            return ""
        if earlier.kind == later.kind == "number" and earlier.part == later.part and later.value:
            return self._of_numbers(earlier, later)
        if earlier.kind == later.kind == "feature" and earlier.part == later.part:
            return self._of_features(earlier, later)
        same_matter = earlier.kind == later.kind or {earlier.kind, later.kind} <= set(DATES)
        if later.basis == REPLY and later.kind in SINGLE and same_matter and earlier.part == later.part == "vehicle":
            return self._of_single(earlier, later)
        return ""

    def _in_one_breath(self, earlier: Claim, later: Claim) -> str:
        """A number put right in the letter in which it was given, where the words between say so."""
        if not earlier.kind == later.kind == "number" or earlier.part != later.part or not earlier.value or not later.value:
            return ""
        if earlier.value == later.value or later.quote.start - earlier.quote.end > BETWEEN:
            return ""
        field = self.document.field(later.quote.field)
        return TAKEN_BACK if field and says("slip", field.text[earlier.quote.end : later.quote.start]) else ""

    def _of_numbers(self, earlier: Claim, later: Claim) -> str:
        if earlier.value is None:
            return COMPLETED
        same = may_be_same(earlier.value, later.value or "")
        if "?" in earlier.value and same and "?" not in (later.value or ""):
            return COMPLETED
        if id(earlier) not in self.read and id(later) in self.read and (same or _apart(earlier.value, later.value or "") <= SLIP_OF):
            return SLIP
        if same and earlier.stance in (HEDGED, REPORTED) and later.stance == STATED:
            return FIRMER
        if (
            later.basis == NOTES
            and later.stance == STATED
            and earlier.value != later.value
            and (id(later) in self.read or id(earlier) not in self.read)
        ):
            return OWN_READING
        return TAKEN_BACK if not same and self._is_sorry(later) else ""

    def _of_features(self, earlier: Claim, later: Claim) -> str:
        one, other = ((c.value or "").partition("=") for c in (earlier, later))
        if one[0] != other[0] or one[2] == other[2]:
            return ""
        if later.basis == NOTES:
            return OWN_READING
        return TAKEN_BACK if "feature" in self.asked or self._is_sorry(later) else ""

    def _of_single(self, earlier: Claim, later: Claim) -> str:
        if earlier.value == later.value:
            return RESOURCED if earlier.stance == STATED and later.stance in (HEDGED, REPORTED) else ""
        if later.stance == REPORTED and not self._is_sorry(later):
            return ""
        return TAKEN_BACK if later.kind in self.asked or self._is_sorry(later) else ""

    def _is_sorry(self, later: Claim) -> bool:
        field = self.document.field(later.quote.field)
        return bool(field and says("slip", field.text[max(0, later.quote.start - NEAR) : later.quote.end + NEAR]))


def _owns_up(earlier: Claim, later: Claim) -> bool:
    """Whether a later word on originality is against the speaker's own boast of that part or of the whole."""
    if earlier.kind != "originality" or earlier.value not in BOASTS or earlier.stance == DENIED or later.basis != REPLY:
        return False
    admits = (later.value in ADMISSIONS and later.stance != DENIED) or (later.value in BOASTS and later.stance == DENIED)
    if not admits:
        return False
    return earlier.part == later.part or (earlier.value == "matching_numbers" and earlier.part == "vehicle") or later.part == "vehicle"


def _said_by_others(said: Sequence[Claim], answers: Iterable[Answer]) -> Iterator[Replaced]:
    """Years whose source an answer tells: of registration or sale they are no years of building; traced to papers, a
    plate, another person or a guess they are reported, or unsure."""
    for answer in answers:
        if "date" not in answer.topic.about or not answer.words:
            continue
        for claim in said:
            if claim.kind not in DATES or claim.stance != STATED or claim.part != "vehicle" or claim.basis in {REPLY, NOTES}:
                continue
            note = f"by the reply: “{answer.words[:120]}”"
            if claim.kind == "year" and says("year_of_registration", answer.words):
                yield Replaced(claim, dataclasses.replace(claim, kind="registered", note=note), REGISTRATION)
            elif stance := REPORTED if says("told_by_others", answer.words) else HEDGED if says("guessed", answer.words) else "":
                yield Replaced(claim, dataclasses.replace(claim, stance=stance, note=note), RESOURCED)


def _apart(one: str, other: str) -> int:
    """Characters to change, add or leave out between two numbers (Levenshtein), letters O and I among figures being 0 and 1.

    >>> _apart("33Q07311L", "33Q07311G"), _apart("33QO7311G", "33Q07311G"), _apart("33Q08450B", "OP3101872")
    (1, 0, 8)
    """
    a, b = zeros_and_ones(one), zeros_and_ones(other)
    row = list(range(len(b) + 1))
    for i, x in enumerate(a, 1):
        last, row[0] = row[0], i
        for j, y in enumerate(b, 1):
            last, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, last + (x != y))
    return row[-1]
