"""Which look would tell most in a family without sourced priors: a neutral prior, used for the order of questions only.

The prior is uniform over maker × month of the pack's span of production; every part came with the vehicle or from any
other by how easily it moves, whatever its maker and month. What such a sum believes is never shown: it only says which
answer would narrow most what the tables leave open. Plain Python: no array library is loaded for these families.
"""

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from auditor.case import IDENTITY_PARTS
from auditor.keeper.coverage import span_of_years
from auditor.origin.belief import AS_TOLD, PART, Look
from claims.claim import DENIED, NOTES, OTHER_ITEM, PHOTO, Claim
from claims.models_named import can_be_meant, named_models
from claims.pack import Pack
from claims.pack_rows import Feature, FeatureSpan, Scheme
from claims.reading_of_number import Decoding
from claims.standards import edtf

STAYS = {"hard": 0.9, "moderate": 0.7, "easy": 0.5}
"""How surely a part is taken to have come with the vehicle, by how easily it moves (a convention for the order only)."""
UNKNOWN_STAYS = 0.7
ERRS = 0.05
"""Share of numbers that tell nothing: slips, strays."""
UNREADABLE = 0.05
EFFORT_OF_NUMBER, EFFORT_OF_CASTING, EFFORT_OF_PHOTOGRAPH = 1, 2, 2
SAME = "as told"
DATES = ("year1", "year2", "week", "month", "season", "range")
LONGEST_PRODUCTION = 12 * 120
SETTLES = 0.5
EITHER = ("", "both", "either")


@dataclass(frozen=True, slots=True)
class Cell:
    """A maker and a stretch of months in which no table changes; its weight is its share of all months of all makers."""

    maker: str
    first: int
    last: int
    weight: float


Row = dict[str, float]
"""Answer to probability."""


def neutral_looks(claims: Sequence[Claim], decodings: Sequence[Decoding], pack: Pack, item: int) -> tuple[Look, ...]:
    """What is still open on one vehicle of a family, the most telling for its effort first; empty where its span of production is not known."""
    own = [c for c in claims if c.item == item and c.stance != OTHER_ITEM]
    read = [d for d in decodings if d.claim.item == item and d.pack is pack and d.readings and d.claim.stance not in (OTHER_ITEM, DENIED)]
    return tuple(_Neutral(own, read, pack).looks())


@lru_cache(maxsize=256)
def production(pack: Pack) -> tuple[int, int] | None:
    """First and last month in which the family was built, else of the years that its tables speak of; None where there are none."""
    if span := pack.production_span():
        months = span.first, span.last
    else:
        first, _, last = span_of_years(pack).partition("–")
        if not first:
            return None
        months = int(first) * 12, int(last or first) * 12 + 11
    return months if months[1] - months[0] < LONGEST_PRODUCTION else None


class _Neutral:
    def __init__(self, claims: Sequence[Claim], decodings: Sequence[Decoding], pack: Pack) -> None:
        self.pack, self.claims, self.decodings = pack, claims, decodings
        models = named_models(claims)
        self.spans = [s for s in pack.spans if s.axis == "date" and can_be_meant(s.models, False, models, pack)]
        self.schemes = [s for s in pack.schemes.values() if not s.later and _is_dated(s) and can_be_meant(s.models, s.needs_model, models, pack)]
        self.told = {(c.kind, c.part) for c in claims if c.kind in {"number", "casting"}} | {(d.claim.kind, d.part) for d in decodings}
        self.seen = {(c.kind, c.part) for c in claims if c.basis in (PHOTO, NOTES)}
        self.as_told: dict[str, list[float]] = {}
        """By part: how surely its number is as told, by the cell of a part that came with the vehicle."""
        self.features = {
            c.value.partition("=")[0]: c.value.partition("=")[2] for c in claims if c.kind == "feature" and c.family == pack.id and c.value
        }
        self.cells = list(self._cells())
        self.parts = list(dict.fromkeys((*pack.parts, *(f.part for f in pack.features.values()))))

    def looks(self) -> Iterator[Look]:
        """Every open look, ranked."""
        if not self.cells:
            return
        shown = {name: self._shown(feature) for name, feature in self.pack.features.items()}
        likely = {part: self._likely(part, shown) for part in self.parts}
        stays = {p: STAYS.get(self.pack.parts[p].exchange, UNKNOWN_STAYS) if p in self.pack.parts else UNKNOWN_STAYS for p in self.parts}
        anyone = {p: sum(c.weight * v for c, v in zip(self.cells, likely[p], strict=True)) for p in self.parts}
        factor = {p: [stays[p] * v + (1 - stays[p]) * anyone[p] for v in likely[p]] for p in self.parts}
        joint = [c.weight * math.prod(factor[p][n] for p in self.parts) for n, c in enumerate(self.cells)]
        total = sum(joint)
        out = []
        for part in self.parts:
            original = [j / total * stays[part] * v / g for j, v, g in zip(joint, likely[part], factor[part], strict=True)]
            exchanged = [j / total * (1 - stays[part]) * anyone[part] / g for j, g in zip(joint, factor[part], strict=True)]
            donor = [c.weight * v / anyone[part] for c, v in zip(self.cells, likely[part], strict=True)]
            out += [self._look(about, part, effort, rows, original, exchanged, donor) for about, effort, rows in self._open(part, shown)]
        yield from sorted(out, key=lambda k: (-k.worth, k.effort, k.about, k.part))

    def _cells(self) -> Iterator[Cell]:
        whole = production(self.pack)
        if whole is None:
            return
        known = [n.canonical for n in self.pack.makers]
        named = [s.maker for s in self.schemes] + [s.maker for s in self.spans]
        makers = list(dict.fromkeys(m for m in named if m in known)) or known
        edges = {whole[0], whole[1] + 1, *range(-(-whole[0] // 12) * 12, whole[1] + 1, 12)}
        for d in self.decodings:
            edges |= {edge for dated in d.spans for edge in (dated.first, dated.last + 1)}
        for s in self.spans:
            edges |= {_first(s), _last(s) + 1}
        inside = sorted(e for e in edges if whole[0] <= e <= whole[1] + 1)
        months = (whole[1] + 1 - whole[0]) * max(1, len(makers))
        for maker in makers or [""]:
            yield from (Cell(maker, a, b - 1, (b - a) / months) for a, b in itertools.pairwise(inside))

    def _shown(self, feature: Feature) -> list[Row]:
        """By cell: the variants that a person names there, parts changed later and wrong names included."""
        variants = list(dict.fromkeys(v.variant for v in self.pack.variants if v.feature == feature.feature))
        own = [s for s in self.spans if s.feature == feature.feature]
        if len(variants) < 2 or not own:
            return []
        fitted = []
        for c in self.cells:
            row = dict.fromkeys(variants, 0.0)
            for s in own:
                if s.variant in row and s.maker in (c.maker, *EITHER) and _first(s) <= c.first and c.last <= _last(s):
                    row[s.variant] += s.share
            whole = sum(row.values())
            fitted.append({v: p / whole if whole else 1 / len(variants) for v, p in row.items()})
        mixed = {v: sum(c.weight * row[v] for c, row in zip(self.cells, fitted, strict=True)) for v in variants}
        changed, wrong = feature.changed_share, feature.misnamed_share
        there = [{v: (1 - changed) * p + changed * mixed[v] for v, p in row.items()} for row in fitted]
        return [{v: (1 - wrong) * p + wrong * (1 - p) / (len(variants) - 1) for v, p in row.items()} for row in there]

    def _likely(self, part: str, shown: dict[str, list[Row]]) -> list[float]:
        """By cell: how likely what is told of a part is, if it came with a vehicle of that cell."""
        out = [1.0] * len(self.cells)
        read = next((d for d in self.decodings if d.part == part and d.spans and not (d.scheme and d.scheme.earliest)), None)
        if read is not None:
            meets = [any(s.first <= c.first and c.last <= s.last for s in read.spans) and c.maker in (read.makers or {c.maker}) for c in self.cells]
            whole = sum(c.weight for c, yes in zip(self.cells, meets, strict=True) if yes)
            if whole:
                out = [ERRS + (1 - ERRS) * yes / whole for yes in meets]
                self.as_told[part] = [1 - ERRS / v for v in out]
        for name, variant in self.features.items():
            rows = shown.get(name, [])
            if rows and self.pack.features[name].part == part and variant in rows[0]:
                out = [v * row[variant] for v, row in zip(out, rows, strict=True)]
        return out

    def _open(self, part: str, shown: dict[str, list[Row]]) -> Iterator[tuple[str, int, list[Row]]]:
        for name, feature in self.pack.features.items():
            if feature.part == part and name not in self.features and shown[name] and not feature.private:
                yield f"feature:{name}", feature.effort + 1, shown[name]
        by_year = [{f"{c.maker} {c.first // 12}": 1.0} for c in self.cells]
        if any(part in (s.part, *s.also_parts) and not s.earliest for s in self.schemes):
            if not self._is_told(part):
                yield "number", EFFORT_OF_NUMBER, by_year
            elif part in self.as_told and ("number", part) not in self.seen:
                yield (
                    "number",
                    EFFORT_OF_PHOTOGRAPH,
                    [{SAME: r, **dict.fromkeys(row, 1 - r)} for r, row in zip(self.as_told[part], by_year, strict=True)],
                )
        if ("casting", part) not in self.told and any(s.part == part and s.earliest for s in self.schemes):
            yield "casting", EFFORT_OF_CASTING, by_year

    def _is_told(self, part: str) -> bool:
        """Whether the number of a part is told; those that stand for the whole are one."""
        return any(("number", p) in self.told for p in (IDENTITY_PARTS if part in IDENTITY_PARTS else (part,)))

    def _look(self, about: str, part: str, effort: int, rows: list[Row], original: list[float], exchanged: list[float], donor: list[float]) -> Look:
        of_donor: Row = {}
        for p, row in zip(donor, rows, strict=True):
            for y, q in row.items():
                of_donor[y] = of_donor.get(y, 0.0) + p * q
        noise = sum(a * _entropy(row.values()) for a, row in zip(original, rows, strict=True)) + sum(exchanged) * _entropy(of_donor.values())
        joint = [(c.maker, {y: b * q + a * row.get(y, 0.0) for y, q in of_donor.items()})
                 for c, a, b, row in zip(self.cells, original, exchanged, rows, strict=True)]  # fmt: skip
        answers = {y: sum(row[y] for _, row in joint) for y in of_donor}
        keep = 1 - UNREADABLE if about == "number" else 1.0
        doubt = _entropy(a + b for a, b in zip(original, exchanged, strict=True))
        bits = keep * (_entropy(answers.values()) - noise)
        of_origin = keep * (doubt + _entropy(answers.values()) - sum(_entropy(row.values()) for _, row in joint))
        settles = self._settles(joint, answers, of_origin, doubt)
        if settles == PART and SAME in answers:
            settles = AS_TOLD
        return Look(about, part, max(0.0, bits), effort, settles, max(0.0, of_origin))

    def _settles(self, joint: list[tuple[str, Row]], answers: Row, of_origin: float, doubt: float) -> str:
        by_maker: dict[str, Row] = {}
        for maker, row in joint:
            own = by_maker.setdefault(maker, dict.fromkeys(answers, 0.0))
            for y, p in row.items():
                own[y] += p
        of_makers = _entropy(sum(row.values()) for row in by_maker.values())
        told = of_makers + _entropy(answers.values()) - sum(_entropy(row.values()) for row in by_maker.values())
        if len(by_maker) > 1 and of_makers > ERRS and told >= SETTLES * of_makers:
            return "the maker"
        return "the date of building" if of_origin >= SETTLES * doubt else PART


def _is_dated(scheme: Scheme) -> bool:
    return any(how["decoder"] in DATES or how.get("gives") in {"year", "month", "season"} for how in scheme.decode.values())


def _first(span: FeatureSpan) -> int:
    return edtf.decode(span.from_[:7]).first if span.from_ else edtf.OPEN_START


def _last(span: FeatureSpan) -> int:
    return edtf.decode(span.to[:7]).last if span.to else edtf.OPEN_END


def _entropy(values: Iterable[float]) -> float:
    return -sum(p * math.log2(p) for p in values if p > 1e-15)
