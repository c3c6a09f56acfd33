"""A reply or one's own notes to claims and answers: the same reader as for the listing, whose context it has.

Only the writer's own words are read; what is quoted is the question. A number without its part's name has the part
that the question asked for, unless its form is known to be another part's. The listing's own claims are never read anew.
"""

import dataclasses
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from auditor.questions import IN_A_LETTER, Question
from auditor.replies.phrases import says
from auditor.replies.topics import Topic, parts_named, quoted_topics, topic_of
from claims.claim import HEDGED, NOTES, OTHER_ITEM, REPORTED, STATED, Claim
from claims.decode import bears
from claims.pack import Pack
from claims.reader import read_claims
from extractors.document import Document, Field
from extractors.letter import OWN, QUOTED, Passage, own_words, passages

TOLD, NOT_KNOWN, PUT_OFF, DECLINED, ELSEWHERE, SILENT = "told", "not known", "put off", "declined", "something else", "no answer"
"""What an answer is: it tells what was asked; the writer does not know, puts it off, will not say, says something else, or nothing."""
_EVASIONS = ((NOT_KNOWN, "not_known"), (DECLINED, "declined"), (PUT_OFF, "put_off"))
LABELS = {
    "frame": "frame number", "engine": "engine number", "gearbox": "gearbox number", "axle": "axle number", "body": "body number",
    "plate": "data plate number", "registration": "registration number", "vehicle": "serial number", "hull": "hull number",
    "component": "magneto number",
}  # fmt: skip
_BARE_NUMBER = re.compile(r"(?<![\w£$€+])(?:[A-Z]{1,4}[ \-./]?)?\d[\dA-Z?*]*(?:[ \-./]?[\dA-Z?*]+){0,5}(?![\w])")
_YEAR_LIKE = re.compile(r"(?:1[89]|20)\d\d(?:[ -][A-Z]+)?")
_YEAR_LIKE_WORD = re.compile(r"(?<![\w.,£$€/-])(?:1[89]|20)\d\d(?![\w/-])")
FEWEST_FIGURES = 3
LONGEST_BARE = 8
"""Words around bare figures that may still be nothing but an answer."""
BEFORE = 80
"""Characters before a claim in which its writer may put a word right."""
BEHIND = 40
"""Characters behind a number in which it may be said to be of another thing."""
MOST_CLAIMS = 500
"""Statements of one letter that are read; the longest of the invented exchanges makes some twenty."""
WHOLE = frozenset({"vehicle", "unknown"})


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of a question that was put: the writer's own words on it and what they are (`TOLD`, `NOT_KNOWN`, …)."""

    topic: Topic
    words: str
    outcome: str
    field: str
    """The name of the letter's field in the audited document."""


@dataclass(frozen=True, slots=True)
class Heard:
    """A letter as heard: its field, its claims, and the answers to what was asked."""

    field: Field
    claims: tuple[Claim, ...]
    answers: tuple[Answer, ...]
    left_unread: int = 0
    """Statements beyond `MOST_CLAIMS`."""


def hear(
    listing: Document, letter: Document, name: str, basis: str, sent: Sequence[Question], packs: Sequence[Pack], earlier: Sequence[Question] = ()
) -> Heard:
    """Read one letter under the name of its field; `sent` are the questions that its writer was sent last (none for
    notes), `earlier` those of the letters before, which may be quoted too."""
    field = Field(name, "\n\n".join(f.text for f in letter.fields))
    tied = list(_tied(field.text, sent, earlier, packs))
    reader = _Reader(listing, field, basis, packs)
    read = list(reader.claims())
    claims, left_unread = read[:MOST_CLAIMS], max(0, len(read) - MOST_CLAIMS)
    for passage, topic in tied:
        if topic:
            claims = reader.of_the_part(claims, passage, topic)
    claims = _without_contradicted_nulls(claims)
    if basis == NOTES:
        return Heard(field, tuple(claims), (), left_unread)
    asked = _asked(tied, field.text, sent, earlier, packs)
    return Heard(field, tuple(claims), tuple(_answer(field, topic, tied, claims) for topic in asked), left_unread)


class _Reader:
    """Reads a letter's own words beside the listing, and words of it again with the label that the question gives."""

    def __init__(self, listing: Document, field: Field, basis: str, packs: Sequence[Pack]) -> None:
        self.listing, self.field, self.basis, self.packs = listing, field, basis, packs
        self.received = Document(listing.id, (field,))

    def claims(self) -> Iterator[Claim]:
        """The claims of the letter's own words; what is said of a machine that the listing does not offer is of another thing."""
        known = {c.item for c in read_claims(self.listing, self.packs)} or {1}
        for claim in self._read(Field(self.field.name, own_words(self.field.text))):
            away = claim.item not in known or self._is_of_another(claim)
            quote = self.received.quote(self.field.name, claim.quote.start, claim.quote.end)
            stance = OTHER_ITEM if away else STATED if self._is_correction(claim) else claim.stance
            yield dataclasses.replace(claim, quote=quote, item=1 if away else claim.item, stance=stance)

    def _is_correction(self, claim: Claim) -> bool:
        """Whether "should be" before a claim puts right what the writer says was wrong: then it is no doubt."""
        if claim.stance != HEDGED:
            return False
        before = self.field.text[max(0, claim.quote.start - BEFORE) : claim.quote.start]
        last = re.split(r"[.!?;]\s|\n", before)[-1]
        return (
            says("correcting", last)
            and not says("unsure", last)
            and says("apology", before + self.field.text[claim.quote.end : claim.quote.end + BEHIND])
        )

    def _is_of_another(self, claim: Claim) -> bool:
        """Whether the words straight behind a number say that it is of another thing ("QE 02480 is the spare")."""
        behind = re.split(r"[.!?\n]", self.field.text[claim.quote.end : claim.quote.end + BEHIND])[0]
        return claim.kind == "number" and says("is_of_another", behind)

    def of_the_part(self, claims: list[Claim], passage: Passage, topic: Topic) -> list[Claim]:
        """The claims, with numbers of an answer that name no part given the one that was asked for, and a bare year read as the answer that it is."""
        if "date" in topic.about and not any(c.kind in {"year", "built"} for c in claims if _within(c, passage)):
            claims = sorted((*claims, *self._bare_year(passage)), key=lambda c: c.quote.start)
        if "number" not in topic.about or len(topic.parts) != 1:
            return claims
        (part,) = topic.parts
        out = [self._with_part(c, part) if _within(c, passage) else c for c in claims]
        given = [c for c in out if c.kind == "number" and c.value and _within(c, passage)]
        if not given:
            out += self._bare_number(passage, part)
        return sorted(out, key=lambda c: c.quote.start)

    def _bare_year(self, passage: Passage) -> Iterator[Claim]:
        """The one year of a short answer to a question for the year, where nothing ties it to an event."""
        found = list(_YEAR_LIKE_WORD.finditer(self.field.text, passage.start, passage.end))
        if len(found) != 1:
            return
        sentence = _sentence(self.field.text, found[0].start(), passage)
        if (
            len(sentence.split()) > LONGEST_BARE
            or says("of_an_event", sentence)
            or says("another_thing", sentence)
            or says("year_of_registration", sentence)
        ):
            return
        quote = self.received.quote(self.field.name, *found[0].span())
        for claim in self._read(Field("answer", f"Year: {quote.text}")):
            if claim.kind == "year" and claim.value == quote.text:
                stance = (
                    HEDGED
                    if says("unsure", sentence) or says("guessed", sentence)
                    else REPORTED
                    if says("told_by_others", sentence)
                    else claim.stance
                )
                yield dataclasses.replace(claim, quote=quote, stance=stance)
                return

    def _with_part(self, claim: Claim, part: str) -> Claim:
        """A number whose words name the vehicle or nothing at all; a known form of another part keeps that part."""
        if claim.kind != "number" or part == claim.part or claim.part not in WHOLE:
            return claim
        forms = [
            s
            for p in self.packs
            if not claim.family or p.id == claim.family
            for s in p.schemes.values()
            if claim.value and p.patterns[s.scheme].search(claim.value)
        ]
        return (
            claim
            if forms and not any(bears(s, part, p) for p in self.packs for s in p.schemes.values() if s in forms)
            else dataclasses.replace(claim, part=part)
        )

    def _bare_number(self, passage: Passage, part: str) -> Iterator[Claim]:
        """The first figures of an answer, read behind the label that its question is."""
        label = f"{LABELS.get(part, part)}: "
        for found in _BARE_NUMBER.finditer(self.field.text, passage.start, passage.end):
            words, sentence = found[0], _sentence(self.field.text, found.start(), passage)
            if sum(c.isdigit() for c in words) < FEWEST_FIGURES or _YEAR_LIKE.fullmatch(words) or not self._is_all(words, sentence, part):
                continue
            read = [c for c in self._read(Field("answer", label + words)) if c.kind == "number" and c.value and c.part == part]
            if read:
                first = read[0]
                start = found.start() + first.quote.start - len(label)
                quote = self.received.quote(self.field.name, start, start + len(first.quote.text))
                yield dataclasses.replace(first, quote=quote, stance=HEDGED if says("unsure", sentence) else first.stance)
                return

    def _is_all(self, words: str, sentence: str, part: str) -> bool:
        """Whether a sentence says little but these figures, and nothing of another part or machine."""
        others = set(parts_named(sentence, self.packs)) - {part, *WHOLE}
        return len(sentence.replace(words, "").split()) <= LONGEST_BARE and not others and not says("another_thing", sentence)

    def _read(self, field: Field) -> list[Claim]:
        beside = Document(self.listing.id, (*self.listing.fields, field))
        return [c for c in read_claims(beside, self.packs, self.basis) if c.quote.field == field.name]


def _tied(text: str, sent: Sequence[Question], earlier: Sequence[Question], packs: Sequence[Pack]) -> Iterator[tuple[Passage, Topic | None]]:
    """Each passage of the writer's own with the question that it answers: by its number, the quoted lines above it, or as the only one."""
    first = sent[:IN_A_LETTER]
    numbered = {n: topic_of(q, n) for n, q in enumerate(first, 1)}
    found = passages(text)
    blocks = sum(a.kind == QUOTED and b.kind == OWN for a, b in pairwise(found))
    only = topic_of(first[0], 1) if len(first) == 1 else None
    above: list[Topic] = []
    for passage in found:
        if passage.kind == QUOTED:
            above = quoted_topics(passage.of(text), (*sent, *earlier), packs)
            numbered |= {t.number: t for t in above if t.number}
        elif passage.kind == OWN:
            if passage.number:
                yield passage, numbered.get(passage.number)
            elif above:
                yield passage, above[-1] if len(above) == 1 or blocks > 1 else None
            else:
                yield passage, only
            above = []


def _asked(
    tied: Iterable[tuple[Passage, Topic | None]], text: str, sent: Sequence[Question], earlier: Sequence[Question], packs: Sequence[Pack]
) -> list[Topic]:
    """Every question that was put: those quoted, and the letter's own unless the quoted ones are all of another letter."""
    quoted = [t for p in passages(text) if p.kind == QUOTED for t in quoted_topics(p.of(text), (*sent, *earlier), packs)]
    another = quoted and not any(t.question for t in quoted)
    letter = [] if another else [topic_of(q, n) for n, q in enumerate(sent[:IN_A_LETTER], 1)]
    out: dict[str, Topic] = {}
    for topic in (*quoted, *(t for _, t in tied if t), *letter):
        out.setdefault(topic.text if topic.question is None else topic.question.text, topic)
    return list(out.values())


def _answer(field: Field, topic: Topic, tied: Sequence[tuple[Passage, Topic | None]], claims: Sequence[Claim]) -> Answer:
    own = [p for p, t in tied if t is not None and t.text == topic.text]
    telling = [c for c in claims if _tells(c, topic)]
    here = [c for c in telling if any(_within(c, p) for p in own)]
    words = " ".join(" ".join(p.of(field.text).split()) for p in own)
    if here or (telling and not own):
        return Answer(topic, words or telling[0].quote.text, TOLD, field.name)
    if own:
        if (telling and topic.parts) or _traces(topic, words):
            return Answer(topic, words, TOLD, field.name)
        return Answer(topic, words, next((outcome for outcome, name in _EVASIONS if says(name, words)), ELSEWHERE), field.name)
    sentence, outcome = _evasion_nearby(field.text, topic)
    return Answer(topic, sentence, outcome, field.name)


def _traces(topic: Topic, words: str) -> bool:
    """Whether an answer on a date says where it comes from, if only from hearsay or a guess."""
    return "date" in topic.about and any(says(name, words) for name in ("told_by_others", "guessed", "year_of_registration"))


def _evasion_nearby(text: str, topic: Topic) -> tuple[str, str]:
    """(sentence, outcome) where a free letter speaks of the question's part and evades; else nothing."""
    for sentence in re.split(r"(?<=[.!?])\s+|\n+", own_words(text)):
        names = {w for p in topic.parts for w in (p, *LABELS.get(p, "").split())} - {"number", "data", "serial"}
        if any(re.search(rf"\b{re.escape(n)}", sentence.lower()) for n in names):
            for outcome, name in _EVASIONS:
                if says(name, sentence):
                    return " ".join(sentence.split()), outcome
    whole = " ".join(own_words(text).split())
    return (whole[:200], DECLINED) if says("declined", whole) else ("", SILENT)


def _tells(claim: Claim, topic: Topic) -> bool:
    """Whether a claim is of the kind and part that a question asked for, and gives something."""
    if claim.kind not in topic.kinds or claim.value is None or claim.stance == OTHER_ITEM:
        return False
    return claim.kind not in {"number", "casting"} or not topic.parts or claim.part in topic.parts or claim.part in WHOLE


def _without_contradicted_nulls(claims: Sequence[Claim]) -> list[Claim]:
    """The claims without a "none" of a part whose number the same letter gives."""
    given = {(c.item, c.part) for c in claims if c.kind == "number" and c.value and c.stance in (STATED, HEDGED)}
    return [c for c in claims if not (c.kind == "number" and c.value is None and (c.item, c.part) in given)]


def _within(claim: Claim, passage: Passage) -> bool:
    return passage.start <= claim.quote.start and claim.quote.end <= passage.end


def _sentence(text: str, at: int, passage: Passage) -> str:
    before = re.split(r"[.!?]\s|\n", text[passage.start : at])[-1]
    after = re.split(r"[.!]\s|\n", text[at : passage.end])[0]
    return before + after
