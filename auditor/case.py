"""The claims of one item as a check sees them: by part and kind, with what decoding made of the numbers."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from claims.claim import HEDGED, REPORTED, STATED, Claim
from claims.pack import Pack
from claims.pack_rows import Equality, Innocent
from claims.reading_of_number import Decoding
from claims.standards import edtf
from claims.standards.edtf import Span
from extractors.document import ATTRIBUTE, TEXT, TITLE, Document

CIRCA_MONTHS = 36
"""How far "circa" reaches to either side (common practice, no source)."""
UNCERTAIN_MONTHS = 12
DATES = ("year", "built")
IDENTITY_PARTS = ("frame", "vehicle", "hull")
"""Parts whose number stands for the whole where no pack says otherwise."""
OPENING_CHARACTERS = 60
"""Characters of a text in which a year is taken for that of what it advertises."""
TIED_CHARACTERS = 60
_TIES = re.compile(
    r"(?:\b(?:it'?s|it is|this is|is|was|she'?s|she is|be|being|me|her|him) (?:an? |an? true |an? genuine |a real )?|\b(?:year|vintage|model|age|dates?|dated|dating(?: from| to)?|baujahr|bouwjaar|année)\W*(?:is |of |from |to )*"
    r"|\b(?:of|this|my) )(?:early |late |mid |about |around |circa |c\.? ?|approx\.? )*$"
)
"""What stands before a year that is the vehicle's ("it is a", "year:", "this")."""
_OF_A_THING = re.compile(
    r"\b(?:trailer|topper|camper|sidecar|engines?|motor|block|heads?|gear ?box|trans(?:mission)?|axle|diff|alternator|dynamo|carb\w*|radiator|hood|bonnet|doors?|wings?|"
    r"fenders?|seats?|wheels?|tilt|top|hardtop|box|bed|cab|frame|steering|brakes?|grille|glass|parts?|spares?|donor|van|swap)\b[^.;!?\n]{0,40}$"
)
"""A part or an addition named before a year in its sentence: the year is that thing's."""
_STRAIGHT = re.compile(r"\b(?:trailer|topper|camper|sidecar|engine|motor|block|heads?|swap|spares?)\W*(?:(?:is|from|off|out of|in)\W+)?(?:an?\W+)?$")
"""An addition or a part straight before a year: whatever name follows, the year is that thing's."""
BOTH = "both"
"""An equality of all the makers of a pack."""


@dataclass(frozen=True)
class Case:
    """One vehicle or unit of an advert: its claims, the readings of its numbers, the packs that the advert names."""

    document: Document
    claims: Sequence[Claim]
    decodings: Sequence[Decoding]
    packs: Sequence[Pack]
    item: int = 1
    castings: Sequence[Decoding] = ()
    """Readings of cast and dated codes: earliest dates of their parts, never a number of the vehicle."""
    outranked: Sequence[Claim] = ()
    """Numbers of the seller in whose place one's own reading stands: only to be set against it."""

    def said(self, *kinds: str, part: str = "", stances: tuple[str, ...] = (STATED, HEDGED, REPORTED)) -> list[Claim]:
        """What someone says of this vehicle (of one part, where named), in these stances; nothing decoded."""
        return [c for c in self.claims if c.kind in kinds and c.stance in stances and not c.is_decoded and (not part or c.part == part)]

    def originality(self, *values: str, parts: Sequence[str] = ()) -> list[Claim]:
        """Positive originality claims of these values, of any of the parts where some are named."""
        return [c for c in self.said("originality") if c.value in values and (not parts or c.part in parts)]

    def is_year_of_another(self, claim: Claim) -> bool:
        """Whether a year in the text cannot be told to be this vehicle's: it stands beside a name that headline and form do
        not know ("1998 Yamaha 90", "trade for a '57 Safari"), or far down in the prose with nothing that ties it to the vehicle."""
        if _is_head(claim):
            return False
        if claim.loose and claim.stance == STATED:
            return True
        if claim.quote.field == TEXT and _STRAIGHT.search(self._before(claim)):
            return True
        if claim.kind != "year":
            return False
        names = [c for c in self.claims if c.kind in {"maker", "model"} and not c.is_decoded]
        heads = {c.value for c in names if _is_head(c)}
        beside = [
            c
            for c in names
            if c.quote.field == claim.quote.field and (0 <= c.quote.start - claim.quote.end <= 2 or 0 <= claim.quote.start - c.quote.end <= 5)
        ]
        main = next((c.value for c in names if c.kind == "maker" and _is_head(c)), None)
        if any(c.kind == "maker" and main and c.value != main for c in beside):
            return True
        if heads and beside:
            return not any(_is_known(c.value or "", heads) for c in beside)
        return claim.quote.field == TEXT and not beside and bool(heads) and not self._is_tied(claim)

    def _before(self, claim: Claim) -> str:
        """The characters straight before a claim in the text, in lower case."""
        return self.document.text[max(0, claim.quote.start - TIED_CHARACTERS) : claim.quote.start].lower()

    def _is_tied(self, claim: Claim) -> bool:
        """Whether words tie a year in the text to the vehicle: it opens the text, is said by papers, or "it is a" stands before it."""
        before = self._before(claim)
        if _OF_A_THING.search(before):
            return False
        return claim.quote.start < OPENING_CHARACTERS or claim.stance != STATED or _TIES.search(before) is not None

    @cached_property
    def numbers(self) -> dict[str, list[Claim]]:
        """Numbers given for this vehicle, by part."""
        out: dict[str, list[Claim]] = {}
        for claim in self.said("number"):
            if claim.value:
                out.setdefault(claim.part, []).append(claim)
        return out

    @cached_property
    def numbers_told(self) -> dict[str, list[Claim]]:
        """The numbers of each part with those of the seller that one's own reading outranks, in the order in which they were told."""
        out = {part: list(claims) for part, claims in self.numbers.items()}
        for claim in self.outranked:
            out.setdefault(claim.part, []).insert(0, claim)
        return out

    def alternatives(self, decoding: Decoding) -> list[Decoding]:
        """Every reading of the same number claim that did not fail, in order: several families may read one number."""
        return [d for d in self.decodings if d.claim is decoding.claim and not d.failure] or [decoding]

    def spans(self, decoding: Decoding) -> tuple[Span, ...]:
        """Every span that any reading of the same number claim gives."""
        return tuple(s for d in self.alternatives(decoding) for s in d.spans)

    def makers(self, decoding: Decoding) -> frozenset[str]:
        """Every maker that any reading of the same number claim gives; empty where one of them does not tell."""
        found = [d.makers for d in self.alternatives(decoding)]
        return frozenset(m for makers in found for m in makers) if all(found) else frozenset()

    def carries_identity(self, decoding: Decoding) -> bool:
        """Whether the number read stands for the whole vehicle: by its pack, else by custom."""
        if decoding.pack is not None:
            return decoding.part in {decoding.pack.identity, "vehicle"}
        return decoding.part in IDENTITY_PARTS

    def is_held_original(self, part: str) -> list[Claim]:
        """The claims by which the seller vouches for a part: original, or matching numbers."""
        return [
            c
            for c in self.originality("original", "matching_numbers", "unrestored")
            if (c.part == part and c.value != "matching_numbers")
            or (c.value == "matching_numbers" and c.part in {part, "vehicle"} and self.was_made_equal(part))
        ]

    def was_made_equal(self, part: str) -> bool:
        """Whether a named pack says that this part bore the number of another when new, at the vehicle's date and maker."""
        return any(
            part in (e.part_a, e.part_b) and self.equality_holds(p, e)
            for p in self.packs
            for e in p.equalities
            if "plate" not in (e.part_a, e.part_b) or part == "plate"
        )

    def equality_holds(self, pack: Pack, equality: Equality) -> bool:
        """Whether every known date and maker of the vehicle lies within the period of equal numbers; some number must be read."""
        period = edtf.decode(f"{equality.from_month or '..'}/{equality.to_month or '..'}")
        own = [d for d in self.decodings if d.pack is pack]
        readings = [d for d in own if d.spans and d.part == equality.part_b]
        if not any(d.part in {equality.part_a, equality.part_b} for d in own):
            return False
        spans = [s for d in readings for s in self.spans(d)] or [
            s for c in self.said("year", "built") if c.part == "vehicle" and (s := stated_span(c))
        ]
        if not spans or not all(period.first <= s.first and s.last <= period.last for s in spans):
            return False
        makers = {m for d in readings for m in d.makers} or {c.value or "" for c in self.said("maker") if c.part == "vehicle"}
        return equality.maker == BOTH or equality.maker in makers

    def is_owned_up(self, part: str) -> bool:
        """Whether the listing itself says that a part is not the first one."""
        parts = [part, "vehicle"] if part in IDENTITY_PARTS else [part]
        if self.originality("replaced", "reproduction", parts=[part]) or self.originality("composite", "replica"):
            return True
        return any(c.value in {"original", "matching_numbers"} and c.part in parts for c in self.said("originality", stances=("denied",)))

    @cached_property
    def identity_readings(self) -> list[Decoding]:
        """The dated readings of numbers that stand for the whole vehicle."""
        return [d for d in self.decodings if self.carries_identity(d) and d.spans and not d.is_later_part]

    def innocent(self, finding: str, part: str, scheme: str = "") -> tuple[str, ...]:
        """The innocent explanations that the packs of this case give for a finding about a part (and a form of number)."""
        rows: list[Innocent] = [i for p in self.packs for i in p.innocents]
        texts = [
            f"{i.text} To settle: {i.how_to_settle}." if i.how_to_settle else i.text
            for i in rows
            if finding in i.findings and (not i.parts or part in i.parts) and (not i.schemes or scheme in i.schemes)
        ]
        return tuple(dict.fromkeys(texts))

    def part_name(self, part: str) -> str:
        """What the family calls a part, else the part's own word."""
        return next((p.parts[part].name for p in self.packs if part in p.parts), part)


def _is_known(name: str, heads: set[str | None]) -> bool:
    """Whether a name is one of the headline's or form's, or a part of one, or holds one."""
    return any(h and (name.lower() in h.lower() or h.lower() in name.lower()) for h in heads)


def _is_head(claim: Claim) -> bool:
    """Whether a claim stands in the headline or the form."""
    return claim.quote.field == TITLE or claim.quote.field.startswith(ATTRIBUTE)


def stated_span(claim: Claim) -> Span | None:
    """The months that a claim's date can mean, widened for "circa" and for a question mark; None for no date."""
    try:
        span = edtf.decode(claim.value or "")
    except ValueError:
        return None
    room = CIRCA_MONTHS if span.circa else UNCERTAIN_MONTHS if span.uncertain else 0
    return Span(span.first - room, span.last + room, span.circa, span.uncertain)


def is_dated_to_month(claim: Claim) -> bool:
    """Whether a claim's date names a month or season."""
    return "-" in (claim.value or "")


def years_later(stated: Span, readings: Sequence[Span]) -> int:
    """Calendar years by which a stated date is later (+) or earlier (-) than the nearest reading; 0 where they meet."""
    apart = [_apart(stated, r) for r in readings]
    return min(apart, key=abs) if apart else 0


def _apart(stated: Span, reading: Span) -> int:
    if stated.first_year > reading.last_year:
        return stated.first_year - reading.last_year
    if stated.last_year < reading.first_year:
        return stated.last_year - reading.first_year
    return 0


def months_before(event: Span, readings: Sequence[Span]) -> int:
    """Months by which an event ends before the earliest of all readings begins; 0 or less where it does not."""
    return min((r.first - event.last for r in readings), default=0)


def pairs(claims: Sequence[Claim]) -> Iterator[tuple[Claim, Claim]]:
    """Every pair of claims, the earlier first."""
    for n, one in enumerate(claims):
        for other in claims[n + 1 :]:
            yield one, other
