"""The whole flow: a listing's words become claims, numbers are decoded, checks compare, questions follow.

`audit(text_or_document)` is the tool in one call; everything else is how its `Audit` is shown.
"""

import importlib
import pkgutil
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Protocol

from auditor import checks
from auditor.case import Case
from auditor.finding import CONTRADICTION, GRADES, Fault, Finding
from auditor.questions import Question, questions
from claims.claim import OTHER_ITEM, Claim
from claims.decode import decode_numbers, decoded_claims, named_packs
from claims.pack import Pack, shipped_packs
from claims.reader import general_cautions, read_claims
from claims.reading_of_number import Decoding
from extractors.document import Document, make_document
from extractors.formats.plain_text import parts


class Check(Protocol):
    """What a module in `auditor/checks` offers."""

    ASK: str
    ABOUT: str

    def check(self, case: Case) -> Iterator[Finding]: ...


@dataclass(frozen=True)
class Audit:
    """The result for one listing: what it claims, what was found, what to ask, what to beware of."""

    document: Document
    claims: tuple[Claim, ...]
    decodings: tuple[Decoding, ...]
    findings: tuple[Finding, ...]
    questions: tuple[Question, ...]
    cautions: tuple[str, ...]
    packs: tuple[Pack, ...]
    """The packs of whose makers or models the listing speaks."""
    faults: tuple[Fault, ...] = ()

    @property
    def has_contradiction(self) -> bool:
        """Whether anything was found that cannot both hold."""
        return any(f.grade == CONTRADICTION for f in self.findings)


@cache
def known_checks() -> dict[str, Check]:
    """Every check by its name, found by walking the folder."""
    names = sorted(m.name for m in pkgutil.iter_modules(checks.__path__))
    return {name: importlib.import_module(f"{checks.__name__}.{name}") for name in names}


def audit(listing: str | Document, packs: Sequence[Pack] | None = None, *, strict: bool = False) -> Audit:
    """Audit one listing, given as text or as a document; `strict` lets a failing check raise instead of being named."""
    document = _document(listing)
    known = tuple(packs) if packs is not None else shipped_packs()
    said = read_claims(document, known)
    decodings = decode_numbers(said, known)
    claims = (*said, *decoded_claims(decodings))
    faults: list[Fault] = []
    findings: list[Finding] = []
    asked: list[Question] = []
    for case in cases(document, claims, decodings, known):
        found = list(_checked(case, faults, strict))
        findings += found
        asks = {name: (module.ASK, module.ABOUT) for name, module in known_checks().items()}
        asked += questions(case, found, asks)
    findings.sort(key=lambda f: GRADES.index(f.grade))
    named = _named(claims, decodings, known)
    return Audit(document, claims, decodings, tuple(findings), tuple(asked), tuple(cautions(claims, named, known)), tuple(named), tuple(faults))


def cases(document: Document, claims: Sequence[Claim], decodings: Sequence[Decoding], packs: Sequence[Pack]) -> Iterator[Case]:
    """One case for each vehicle or unit that the advert offers; claims of other things stay out."""
    for item in sorted({c.item for c in claims if c.stance != OTHER_ITEM and c.item}):
        own = [c for c in claims if c.item == item]
        read = [d for d in decodings if d.claim.item == item]
        numbers = list(_first_of_each(d for d in read if d.claim.kind == "number"))
        castings = [d for d in read if d.claim.kind != "number"]
        yield Case(document, own, numbers, _named(own, read, packs), item, castings)


def _first_of_each(decodings: Iterable[Decoding]) -> Iterator[Decoding]:
    """The readings of each number where it is first given: what is said twice counts once."""
    first: dict[tuple[str, str, str], Claim] = {}
    for decoding in decodings:
        claim = decoding.claim
        if first.setdefault((claim.part, decoding.number, claim.stance), claim) is claim:
            yield decoding


def _checked(case: Case, faults: list[Fault], strict: bool) -> Iterator[Finding]:
    for name, module in known_checks().items():
        try:
            yield from list(module.check(case))
        except Exception as error:
            if strict:
                raise
            faults.append(Fault(name, f"{type(error).__name__}: {error}"))


def _named(claims: Sequence[Claim], decodings: Iterable[Decoding], packs: Sequence[Pack]) -> list[Pack]:
    """The packs that the listing speaks of, by a maker, a model or a number that stands alone."""
    read = {d.pack.id for d in decodings if d.pack}
    named = {p.id for p in named_packs(claims, packs)}
    return [p for p in packs if p.id in read or p.id in named]


def cautions(claims: Sequence[Claim], named: Sequence[Pack], packs: Sequence[Pack]) -> Iterator[str]:
    """The warnings that the words call for: a named pack's own, else the general one, each hazard once."""
    own = {c.caution: c.text for p in named for c in p.cautions}
    general = general_cautions(packs)
    said = dict.fromkeys(c.value or "" for c in claims if c.kind == "hazard" and (not c.family or c.family in {p.id for p in named}))
    if any(c.kind == "number" and c.value is None for c in claims):
        said["number_law"] = None
    for name in said:
        if text := own.get(name) or general.get(name):
            yield text


def _document(listing: str | Document) -> Document:
    if isinstance(listing, Document):
        return listing
    title, entries, body = parts(listing)
    return make_document(body, title=title, attributes=entries, id="listing")
