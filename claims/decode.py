"""Numbers to more claims: each pack's schemes read the numbers of a listing, and keep every reading.

A scheme is a pattern on the compact form whose named groups are read by a closed list of decoders: `range`
(number to period by tables), `lookup` (code to value), `month`, `year1`, `year2`, `week`, `season`, `int`, `check`.
A scheme may add a `lag` (months between two events). No code stands in data.
"""

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from functools import lru_cache
from itertools import groupby

from claims.claim import DENIED, OTHER_ITEM, RULE, Claim, compact
from claims.decode_standards import decode_standard
from claims.form_index import Form, form_index
from claims.form_reading import WHOLE, read_form
from claims.models_named import form_can_be_meant, named_models
from claims.pack import Pack
from claims.pack_rows import Scheme
from claims.packs_named import named_packs, names_of_item, stated_years
from claims.reading_of_number import NO_SCHEME, OUTSIDE, Decoding
from claims.repairs import repairs, zeros_and_ones
from claims.standards import vin
from claims.standards.edtf import Span, month_text

LONGEST_NUMBER = 40
BUILT, CASTING = "built", "casting"
_BLANKS = re.compile(r"\s+")


def decode_numbers(claims: Sequence[Claim], packs: Sequence[Pack]) -> tuple[Decoding, ...]:
    """Every reading of every number that is said of this vehicle, in the order of the claims.

    A pack's schemes are tried where the item of the number names one of its makers or models, or where a scheme stands
    alone.
    """
    out: list[Decoding] = []
    families: dict[tuple[int, bool], Decoder] = {}
    for claim in claims:
        if is_readable(claim):
            key = claim.item, claim.kind == "number"
            if key not in families:
                own = names_of_item(claims, claim.item)
                named = (p.id for p in named_packs(own, packs, narrowed=key[1]))
                families[key] = Decoder(packs, named, named_models(own), stated_years(own))
            out.extend(families[key].decode(claim))
    return tuple(out)


def is_readable(claim: Claim) -> bool:
    """Whether a claim gives a number of this vehicle that rules may read."""
    return claim.kind in {"number", "casting"} and bool(claim.value) and claim.stance not in (OTHER_ITEM, DENIED) and not claim.is_decoded


def decode(claim: Claim, packs: Sequence[Pack], named: Iterable[str], models: Collection[str] = (), years: Sequence[Span] = ()) -> list[Decoding]:
    """Every reading of one number claim; `named` are the ids of the packs that the listing speaks of, `models` the models,
    `years` the years that it states."""
    return _decoder(tuple(packs), frozenset(named), frozenset(models), tuple(years)).decode(claim)


@lru_cache(maxsize=128)
def _decoder(packs: tuple[Pack, ...], named: frozenset[str], models: frozenset[str], years: tuple[Span, ...]) -> "Decoder":
    return Decoder(packs, named, models, years)


class Decoder:
    """Reads numbers of one vehicle, whose packs and models are named: all forms in one pass, then the tables of those that fit."""

    def __init__(self, packs: Sequence[Pack], named: Iterable[str], models: Collection[str] = (), years: Sequence[Span] = ()) -> None:
        self.families = frozenset(named)
        self.models = models
        self.years = years
        self.packs = packs
        self._index = form_index(tuple(packs))
        closed = [p for p in packs if p.id in self.families and p.forms == "closed"]
        self._closed = {part: p for p in reversed(closed) for part in _numbered_parts(p)}
        self._tried: dict[tuple[str, str], tuple[frozenset[int], bool]] = {}

    def decode(self, claim: Claim) -> list[Decoding]:
        """Every reading of one number claim."""
        number = claim.value or ""
        if not number.isalnum() or number != number.upper():
            number = compact(number)
            if not number or "?" in number:
                return []
        if len(number) >= vin.LENGTH:
            if len(number) > LONGEST_NUMBER:
                return []
            if claim.kind != CASTING and len(number) == vin.LENGTH and (found := decode_standard(claim)):
                return [found]
        key = claim.part, claim.kind
        tried, mends_letters = self._tried.get(key) or self._forms_for(*key)
        plain, short = self._index.fitting(number, tried)
        fits = self._as_it_stands(claim, number, plain) if plain else []
        if not fits or not any(d.pack and d.pack.id in self.families for d in fits):
            lettered = zeros_and_ones(number) if mends_letters and ("O" in number or "I" in number) else number
            if short or lettered != number or number[0] == "0":
                fits += self._repaired(claim, number, lettered, short, tried, {d.pack.id for d in fits if d.pack})
            if not fits:
                return self._of_no_form(claim, number) if self._closed and claim.kind != CASTING else []
        return _told_of_others([d for d in fits if d.pack and d.pack.id in self.families] or fits) if len(fits) > 1 else fits

    def _forms_for(self, part: str, kind: str) -> tuple[frozenset[int], bool]:
        """(forms to be tried for a number of this part, by their place in the index; whether any reads O and I as figures)."""
        forms = self._index.forms
        tried = frozenset(n for n, form in enumerate(forms) if self._is_tried(form, part, kind == CASTING))
        self._tried[part, kind] = found = tried, any(forms[n].scheme.letter_o for n in tried)
        return found

    def _is_tried(self, form: Form, part: str, casting: bool) -> bool:
        pack, scheme = form.pack, form.scheme
        is_meant = pack.id in self.families or scheme.stands_alone or bool(scheme.stands_alone_with)
        if not is_meant or scheme.earliest is not casting or (scheme.not_if_older and self._is_older(scheme)):
            return False
        return bears(scheme, part, pack) and form_can_be_meant(scheme, self.models, pack)

    def _is_older(self, scheme: Scheme) -> bool:
        """Whether every stated year lies before the form was used."""
        return bool(self.years) and all(y.last_year < int(scheme.from_[:4]) for y in self.years)

    def _as_it_stands(self, claim: Claim, number: str, places: Sequence[int]) -> list[Decoding]:
        """The decodings of every pack by the forms that the number fits as it is written."""
        out: list[Decoding] = []
        for _, group in groupby(places, key=self._pack_of):
            read = [f for n in group if _is_written_so(f := self._index.forms[n], claim)]
            out += self._kept([read_form(claim, number, f.pack, f.scheme, f.groups(number), "") for f in read])
        return out

    def _repaired(self, claim: Claim, number: str, lettered: str, short: Sequence[int], tried: frozenset[int], done: set[str]) -> list[Decoding]:
        """The decodings of the packs that are not done, by the first repair that helps each."""
        out: list[Decoding] = []
        for repair in repairs(claim.quote.text, number, lettered, bool(short) and not number.isdigit()):
            places = short if repair.serial else self._index.fitting(repair.number, tried)[0]
            for pack_id, group in groupby(places, key=self._pack_of):
                forms = [self._index.forms[n] for n in group]
                if pack_id in done or not (forms := [f for f in forms if f.scheme.letter_o in repair.manners and _is_written_so(f, claim)]):
                    continue
                matched = [(f, g) for f in forms if (g := f.groups_if_fitting(repair.number)) is not None]
                kept = [(f, g) for f, g in matched if not repair.serial or g.get("serial") == repair.serial]
                if kept:
                    done.add(pack_id)
                    out += self._kept([read_form(claim, repair.number, f.pack, f.scheme, g, repair.words) for f, g in kept])
        return out

    def _pack_of(self, place: int) -> str:
        return self._index.forms[place].pack.id

    def _kept(self, read: list[Decoding]) -> list[Decoding]:
        """The decodings of one pack that count: those that read before those that fail, of a family that is named or stands alone."""
        loud = [d for d in read if not (d.failure == OUTSIDE and d.scheme is not None and d.scheme.silent_outside)]
        apt = [d for d in loud if not d.failure] or loud
        return [d for d in apt if (d.pack and d.pack.id in self.families) or stands_alone(d)]

    def _of_no_form(self, claim: Claim, number: str) -> list[Decoding]:
        """The failure of a number that fits no form, where a named pack knows every form of the part."""
        pack = self._closed.get(claim.part)
        if pack is None or number.isdigit() or claim.part == "registration":
            return []
        return [
            Decoding(claim, number, claim.part, f"{pack.id}/forms", pack=pack, failure=NO_SCHEME, sources=(pack.source(""),),
                     detail="fits no form of number that is known for this part")
        ]  # fmt: skip


def _told_of_others(fits: list[Decoding]) -> list[Decoding]:
    """The readings, each saying so where the number fits several families."""
    read = [d for d in fits if not d.failure] or fits
    if len(read) == 1:
        return read
    families = list(dict.fromkeys(d.pack.family for d in read if d.pack))
    if len(families) < 2:
        return read
    return [d.beside(families) for d in read]


def bears(scheme: Scheme, part: str, pack: Pack) -> bool:
    """Whether a number of this form can be meant when the seller's label names this part."""
    if part in WHOLE:
        return scheme.event == BUILT
    return part == scheme.part or part in scheme.also_parts


def stands_alone(decoding: Decoding) -> bool:
    """Whether a number's form is so particular that it needs no maker's name beside it."""
    scheme = decoding.scheme
    return scheme is not None and (scheme.stands_alone or bool(scheme.stands_alone_with and decoding.groups.get(scheme.stands_alone_with)))


def _is_written_so(form: Form, claim: Claim) -> bool:
    """Whether blanks and strokes of the number as written are those that the form asks for."""
    if not form.scheme.as_written:
        return True
    written = _BLANKS.sub(" ", claim.quote.text.strip().upper())
    return bool(form.pack.patterns_as_written[form.scheme.scheme].search(written))


def _numbered_parts(pack: Pack) -> set[str]:
    return {part for s in pack.schemes.values() for part in (s.part, *s.also_parts)}


def decoded_claims(decodings: Sequence[Decoding]) -> list[Claim]:
    """The claims that decoding adds: when a part was made and by whom, one for every distinct reading."""
    out: list[Claim] = []
    for d in decodings:
        seen: set[tuple[str, str]] = set()
        for reading in d.readings:
            dated = d.scheme is None or d.scheme.part == d.part or d.part in d.scheme.also_parts
            event = d.scheme.event if d.scheme else BUILT
            for kind, value in ((event, str(reading.span) if reading.span and dated else ""), ("maker", reading.maker)):
                if value and (kind, value) not in seen:
                    seen.add((kind, value))
                    others = f"the number also fits: {', '.join(d.also_fits)}" if d.also_fits else ""
                    note = "; ".join(filter(None, (reading.reason, d.repaired, others)))
                    out.append(
                        Claim(kind, d.part, value, d.claim.stance, d.claim.quote, RULE + d.rule, d.claim.item, note, d.pack.id if d.pack else "")
                    )
    return out


def months_of(decoding: Decoding) -> list[str]:
    """Every reading as text: single months of a short span, else the period's own name (as examples list them)."""
    out: list[str] = []
    for r in decoding.readings:
        if r.span and r.span.last - r.span.first < 6:
            out += [month_text(m) for m in range(r.span.first, r.span.last + 1)]
        elif r.span:
            out.append(r.period)
    return out


def describe(groups: Mapping[str, str]) -> str:
    """Named groups as `name=text`, in order."""
    return " ".join(f"{name}={text}" for name, text in groups.items())
