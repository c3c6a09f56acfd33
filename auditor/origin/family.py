"""A pack's tables as arrays: the cells (maker × month) of production and what each cell, or later source, would show.

Shapes: `C` cells in the order of the production table; a variant's row is (C,). Soft edges after the pack's
`from_soft_weeks`, `to_soft_weeks`: a straight ramp over ± that many weeks, a month counting as its 15th.
"""

import datetime
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from claims.pack import Pack, Row
from claims.pack_rows import FeatureSpan, Scheme
from claims.pack_shares import LaterSource, Shares, shares_of
from claims.standards import edtf
from claims.standards.edtf import month_text

Vector = NDArray[np.float64]
Mask = NDArray[np.bool_]
Indexes = NDArray[np.intp]
SECOND_SOURCE = 0.1
"""Share of belief in a second table where it disagrees with the first (common practice, no source)."""
SERIALS_OF_A_CODE = 400
"""Serials of a dated code, where the pack's lag table says that they are even over 001-400."""
BOTH = "both"


@dataclass(frozen=True)
class Run:
    """A run of identity numbers of one cell: `first` to `last`, each with this probability within the cell."""

    scheme_group: str
    contract: str
    first: int
    last: int
    cell: int
    weight: float
    equal_numbers: bool
    """Whether the engine bore the same serial."""


class Family:
    """The arrays of one pack; raises `ValueError` where the pack has no shares."""

    def __init__(self, pack: Pack) -> None:
        found = shares_of(pack)
        if found is None:
            raise ValueError(f"{pack.id}: production or part priors are not known")
        self.pack = pack
        self.shares: Shares = found
        self.makers = [p.maker for p in found.production]
        self.months = [_month(p.month) for p in found.production]
        built = np.array([p.built for p in found.production], float)
        self.prior: Vector = built / built.sum()
        self.size = len(built)
        self.total = float(built.sum())
        self.cells = {(m, t): i for i, (m, t) in enumerate(zip(self.makers, self.months, strict=True))}
        self.parts = list(found.priors)
        self.later: dict[str, tuple[LaterSource, ...]] = {p: tuple(s for s in found.later if s.part == p) for p in self.parts}
        self.month_array = np.array(self.months)
        self.year_array = self.month_array // 12

    @cached_property
    def features(self) -> dict[str, tuple[list[str], Vector, dict[str, Vector]]]:
        """Feature to (variants, their probabilities (V, C), by later source (V,)): what is on the part, changed ones included."""
        out = {}
        for name, feature in self.pack.features.items():
            variants = list(dict.fromkeys(v.variant for v in self.pack.variants if v.feature == name))
            fits = np.array([[self._fitted(name, v, c) for c in range(self.size)] for v in variants])
            fits = fits / np.maximum(fits.sum(0), 1e-12)
            mixed = fits @ self.prior
            changed = feature.changed_share
            later = {}
            for source in self.later.get(feature.part, ()):
                own = np.array(
                    [sum(s.share for s in self.pack.spans if (s.feature, s.variant, s.maker) == (name, v, source.maker)) for v in variants]
                )
                own = own / own.sum() if own.sum() else np.full(len(variants), 1 / len(variants))
                later[source.maker] = (1 - changed) * own + changed * mixed
            out[name] = (variants, (1 - changed) * fits + changed * mixed[:, None], later)
        return out

    def _fitted(self, name: str, variant: str, cell: int) -> float:
        spans = self._spans.get((name, variant, self.makers[cell]), ())
        return max(0.0, sum(_share(s, self.months[cell], self._first[self.makers[cell]], self._last[self.makers[cell]]) for s in spans))

    @cached_property
    def _spans(self) -> dict[tuple[str, str, str], list[FeatureSpan]]:
        out: dict[tuple[str, str, str], list[FeatureSpan]] = defaultdict(list)
        for span in self.pack.spans:
            out[span.feature, span.variant, span.maker].append(span)
        return out

    @cached_property
    def _first(self) -> dict[str, int]:
        return {m: min(t for k, t in self.cells if k == m) for m in set(self.makers)}

    @cached_property
    def _last(self) -> dict[str, int]:
        return {m: max(t for k, t in self.cells if k == m) for m in set(self.makers)}

    @cached_property
    def runs(self) -> tuple[Run, ...]:
        """The identity numbers of every cell; where a second table disagrees, both places with their shares."""
        raw: list[tuple[str, str, int, int, int, float]] = []
        for scheme, table in self._identity_tables:
            for row in self.pack.dated(table[0], 0, scheme.period_kind):
                if row.keys.get("scheme") == scheme.scheme and (cell := self.cells.get((row.maker, row.period.span.first))) is not None:
                    raw += [
                        (*head, *piece)
                        for head in [(_group(scheme), row.keys.get("contract", ""))]
                        for piece in self._split(row, scheme, table[1:], cell)
                    ]
        sums: dict[int, float] = defaultdict(float)
        for _, _, first, last, cell, share in raw:
            sums[cell] += (last - first + 1) * share
        return tuple(Run(g, k, f, la, c, s / sums[c], self._equal(c)) for g, k, f, la, c, s in raw)

    @cached_property
    def run_arrays(self) -> tuple[Vector, Vector, NDArray[np.int64], NDArray[np.bool_]]:
        """(weight, size, cell, whether numbers are equal) of every run."""
        r = self.runs
        sizes = np.array([x.last - x.first + 1.0 for x in r])
        return np.array([x.weight for x in r]), sizes, np.array([x.cell for x in r]), np.array([x.equal_numbers for x in r])

    @cached_property
    def contracts(self) -> NDArray[np.int64]:
        """The two figures that stand before the serials of each run and can be taken for a year; -1 for none."""
        return np.array([int(r.contract) if r.contract.isdigit() and len(r.contract) == 2 else -1 for r in self.runs])

    @cached_property
    def forms(self) -> list[str]:
        """The form of number (maker/contract) of every run."""
        return [f"{r.scheme_group}/{r.contract}" for r in self.runs]

    @cached_property
    def engine_forms(self) -> list[str]:
        """The engine's form of number of every run; it counts where numbers are equal."""
        return [f"{r.scheme_group}/" for r in self.runs]

    @lru_cache(maxsize=256)  # noqa: B019 (families live as long as the process)
    def spans_of(self, form: str, is_engine: bool) -> tuple[Indexes, Indexes, Indexes]:
        """(place, first, last) of the runs of a form; of an engine's form those in which its number equals the frame's."""
        own = [n for n, r in enumerate(self.runs) if (r.equal_numbers and self.engine_forms[n] == form if is_engine else self.forms[n] == form)]
        return np.array(own, np.intp), np.array([self.runs[n].first for n in own], np.intp), np.array([self.runs[n].last for n in own], np.intp)

    @property
    def _identity_tables(self) -> Iterator[tuple[Scheme, list[str]]]:
        for scheme in self.pack.schemes.values():
            how = scheme.decode.get("serial", {})
            if scheme.part == self.pack.identity and not scheme.later and how.get("decoder") == "range":
                yield scheme, list(how["tables"])

    def _split(self, row: Row, scheme: Scheme, seconds: list[str], cell: int) -> Iterator[tuple[int, int, int, float]]:
        """Pieces (first, last, cell, share) of a month's row: the part of it that a second table puts elsewhere stands twice."""
        where = scheme.decode["serial"].get("where", {}).get("scheme_group", ())
        for table in seconds:
            for other in self.pack.dated(table, 0, scheme.period_kind):
                first, last = max(row.first, other.first), min(row.last, other.last)
                meets = other.period.span.first <= row.period.span.last and row.period.span.first <= other.period.span.last
                if other.keys.get("scheme_group") not in where or first > last or meets or other.maker != row.maker:
                    continue
                near = [c for (m, t), c in self.cells.items() if m == row.maker and other.period.span.first <= t <= other.period.span.last]
                if near:
                    yield first, last, min(near, key=lambda c: abs(self.months[c] - row.period.span.first)), SECOND_SOURCE
                    yield first, last, cell, 1 - SECOND_SOURCE
                    if row.first < first:
                        yield row.first, first - 1, cell, 1.0
                    if last < row.last:
                        yield last + 1, row.last, cell, 1.0
                    return
        yield row.first, row.last, cell, 1.0

    def _equal(self, cell: int) -> bool:
        for e in self.pack.equalities:
            if {e.part_a, e.part_b} == {self.pack.identity, "engine"} and e.maker in (BOTH, self.makers[cell]):
                span = edtf.decode(f"{e.from_month or '..'}/{e.to_month or '..'}")
                return span.first <= self.months[cell] <= span.last
        return False

    @cached_property
    def _tables(self) -> dict[str, list[tuple[int, int, str, tuple[tuple[int, float], ...]]]]:
        """Scheme to rows (first, last, date code, ((cell, probability of one number), …)) of parts that are numbered for themselves."""
        out: dict[str, list[tuple[int, int, str, tuple[tuple[int, float], ...]]]] = {}
        for scheme in self.pack.schemes.values():
            if scheme.earliest or scheme.later or scheme.part == self.pack.identity:
                continue
            how = scheme.decode.get("serial", {})
            out[scheme.scheme] = list(self._ranges(scheme, how["tables"][0]) if how.get("decoder") == "range" else self._codes(scheme))
        return out

    def _ranges(self, scheme: Scheme, table: str) -> Iterator[tuple[int, int, str, tuple[tuple[int, float], ...]]]:
        for row in self.pack.dated(table, 0, scheme.period_kind):
            if row.keys.get("scheme", scheme.scheme) == scheme.scheme:
                month, each = row.period.span.first, 1 / (row.last - row.first + 1)
                cells = tuple((c, each * share) for back, share in self._lag(scheme).items() for c in self._at(month - back, row.maker))
                yield row.first, row.last, "", cells

    def _codes(self, scheme: Scheme) -> Iterator[tuple[int, int, str, tuple[tuple[int, float], ...]]]:
        how = scheme.decode["year"]
        years = {r[how["by"]]: int(r[how["gives"]]) for r in self.pack.table(how["table"])}
        for letter, year in years.items():
            for month in range(1, 13):
                cells = tuple(
                    (c, share / SERIALS_OF_A_CODE)
                    for on, share in self._lag(scheme).items()
                    for c in self._at(edtf.month_number(year, month) + on, scheme.maker)
                )
                yield 1, SERIALS_OF_A_CODE, f"{letter}{month:02d}", cells

    def _lag(self, scheme: Scheme) -> dict[int, float]:
        return self.shares.lags[scheme.lag["lag"]] if scheme.lag else {0: 1.0}

    def _at(self, month: int, maker: str) -> list[int]:
        return [c for (m, t), c in self.cells.items() if t == month and maker in ("", m)]

    def shown_by(self, scheme: str, numbers: Sequence[tuple[str, int]], weights: Sequence[float]) -> Vector:
        """By cell: the mean weight of what a part of it shows, for numbers (date code, serial) of one scheme and the weight of each."""
        if scheme not in self._row_arrays:
            return np.zeros(self.size)
        first, last, places, each = self._row_arrays[scheme]
        serial = np.array([n for _, n in numbers])
        code = np.array([places.get(c, -1) for c, _ in numbers])
        meets = (serial[:, None] >= first[:, 0]) & (serial[:, None] <= last[:, 0]) & (code[:, None] == first[:, 1])
        out: Vector = (np.array(weights) @ meets) @ each
        return out

    @cached_property
    def _row_arrays(self) -> dict[str, tuple[Indexes, Indexes, dict[str, int], Vector]]:
        """Scheme to ((first, place of its code), (last, same), code to place, (rows, C) of one number's probability)."""
        out = {}
        for scheme, table in self._tables.items():
            places = {code: n for n, code in enumerate(dict.fromkeys(row[2] for row in table))}
            each = np.zeros((len(table), self.size))
            for n, (_, _, _, cells) in enumerate(table):
                for c, p in cells:
                    each[n, c] += p
            codes = [places[row[2]] for row in table]
            first, last = (np.array([[row[k], c] for row, c in zip(table, codes, strict=True)], np.intp).reshape(-1, 2) for k in (0, 1))
            out[scheme] = first, last, places, each
        return out

    def outcomes(self, part: str) -> tuple[list[str], Vector]:
        """(names, probabilities (C, Y)) of the rows of a part's numbers: what its number would tell, numbers of a row being one."""
        if part in (self.pack.identity, "plate"):
            return [f"{m} {month_text(t)}" for m, t in self.cells], np.eye(self.size)
        rows = [
            (f"{name} {code or first}", last - first + 1, cells)
            for name, table in self._tables.items()
            if self.pack.schemes[name].part == part
            for first, last, code, cells in table
            if cells
        ]
        out = np.zeros((self.size, len(rows)))
        for y, (_, count, cells) in enumerate(rows):
            for c, p in cells:
                out[c, y] += p * count
        sums = out.sum(1, keepdims=True)
        return [r[0] for r in rows], np.divide(out, sums, out=np.full_like(out, 1 / max(1, len(rows))), where=sums > 0)

    def later_range(self, scheme: Scheme) -> tuple[int, int]:
        """First and last number of a later source's scheme."""
        table = scheme.decode["serial"]["tables"][0]
        rows = [r for r in self.pack.dated(table, 0, scheme.period_kind) if r.keys.get("scheme", scheme.scheme) == scheme.scheme]
        return min(r.first for r in rows), max(r.last for r in rows)

    def later_share(self, scheme: Scheme, serial: int) -> float:
        """The probability of one number of a later source's scheme."""
        first, last = self.later_range(scheme)
        return 1 / (last - first + 1) if first <= serial <= last else 0.0


def _group(scheme: Scheme) -> str:
    return scheme.maker


def _month(text: str) -> int:
    return edtf.decode(text).first


def _share(span: FeatureSpan, month: int, first: int, last: int) -> float:
    begun = _past(month, span.from_, span.from_soft_weeks) if span.from_ and _month(span.from_[:7]) > first else 1.0
    ended = _past(month, span.to, span.to_soft_weeks) if span.to and _month(span.to[:7]) < last else 0.0
    return (begun - ended) * span.share


def _past(month: int, edge: str, soft: float) -> float:
    days = (datetime.date(month // 12, month % 12 + 1, 15) - datetime.date.fromisoformat(edge)).days
    if not soft:
        return float(days >= 0)
    return min(1.0, max(0.0, (days / 7 + soft) / (2 * soft)))


@lru_cache(maxsize=16)
def family_of(pack: Pack) -> Family:
    """The arrays of a pack, made once; raises `ValueError` where it has no shares."""
    return Family(pack)
