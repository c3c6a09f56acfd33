"""A family small enough to sum over by hand: two makers, three months, nine machines, and its sums, state by state.

`brute_force` follows the story of `auditor/origin/posterior.py` in plain loops and shares no code with it but the
likelihood of single observations. Everything is invented.
"""

from collections.abc import Iterator
from functools import cache
from itertools import product
from pathlib import Path

from auditor.origin.copying import meant
from auditor.origin.evidence import FEATURE, MAKER, NUMBER, SILENCE, STATEMENT, YEAR, Evidence
from auditor.origin.family import Family
from auditor.origin.likelihood import NO_NUMBER_KNOWN, STRAY, feature_factor, likelihoods
from auditor.origin.posterior import COPIED_OFF_PLATE, DONOR, FROM_DONOR
from claims.pack import Pack, read_pack

HEAD = """title = "small world (invented)"
invented = true
default_source = "S"
identity = "frame"
[[source]]
source_id = "S"
title = "invented"
standing = "invented"
[[name]]
canonical = "Alder"
kind = "maker"
[[name]]
canonical = "Birch"
kind = "maker"
[[scheme]]
scheme = "a"
part = "frame"
also_parts = ["plate"]
maker = "Alder"
pattern = '^(?P<contract>28)A(?P<serial>\\d)$'
[scheme.decode.serial]
decoder = "range"
tables = ["numbers"]
[[scheme]]
scheme = "b"
part = "frame"
also_parts = ["plate"]
maker = "Birch"
pattern = '^B(?P<serial>\\d)$'
[scheme.decode.serial]
decoder = "range"
tables = ["numbers"]
[[scheme]]
scheme = "ae"
part = "engine"
maker = "Alder"
pattern = '^E(?P<serial>\\d)$'
[scheme.decode.serial]
decoder = "range"
tables = ["engines"]
[[scheme]]
scheme = "late"
part = "frame"
maker = "Later"
later = true
pattern = '^L(?P<serial>\\d)$'
[scheme.decode.serial]
decoder = "range"
tables = ["late"]
[[equality]]
equality = "e"
part_a = "engine"
part_b = "frame"
maker = "Alder"
from_month = "1928-01"
to_month = "1928-01"
[[feature]]
feature = "web"
part = "frame"
name = "web"
changed_share = 0.1
misnamed_share = 0.05
[[feature]]
feature = "lid"
part = "body"
name = "lid"
changed_share = 0.2
misnamed_share = 0.05
[[feature]]
feature = "rivets"
part = "plate"
name = "rivets"
changed_share = 0.05
misnamed_share = 0.05
"""
TABLES = {
    "production": "maker,month,built\nAlder,1928-01,3\nAlder,1928-02,2\nBirch,1928-02,4\n",
    "numbers": "maker,scheme,contract,period,first,last\nAlder,a,28,1928-01,1,3\nAlder,a,28,1928-02,4,5\nBirch,b,,1928-02,1,4\n",
    "engines": "maker,scheme,period,first,last\nAlder,ae,1928-01,1,3\nAlder,ae,1928-02,6,9\n",
    "late": "scheme,first,last,period\nlate,1,3,1930\n",
    "variant": "feature,variant,words\nweb,round,round web\nweb,square,square web\nlid,high,high lid\nlid,low,low lid\nrivets,two,two rivets\nrivets,four,four rivets\n",
    "feature_span": "feature,variant,maker,from,to\nweb,round,Alder,1928-01-01,1928-02-01\nweb,square,Alder,1928-02-01,1928-03-01\nweb,square,Birch,1928-01-01,1928-03-01\n"
    "lid,high,Alder,1928-01-01,1928-03-01\nlid,low,Birch,1928-01-01,1928-03-01\nlid,low,Later,1930-01-01,1931-01-01\n"
    "rivets,four,Alder,1928-01-01,1928-03-01\nrivets,two,Birch,1928-01-01,1928-03-01\nrivets,two,Shop,1930-01-01,1931-01-01\n",
    "part_priors": "part,original,exchanged,made_later\nframe,0.8,0.15,0.05\nengine,0.5,0.3,0.2\nbody,0.4,0.4,0.2\nplate,0.3,0.2,0.5\ncomponent,0.5,0.4,0.1\n",
    "later_sources": "part,maker,share,number_none,number_copies_frame,number_any_of_family,number_own_scheme\n"
    "frame,Later,0.6,0,0,0,1\nframe,Shop,0.4,0.5,0,0.5,0\nengine,Shop,1,1,0,0,0\nbody,Later,1,1,0,0,0\nplate,Shop,1,0.1,0.6,0.3,0\ncomponent,Shop,1,1,0,0,0\n",
    "statements": "statement,part,condition,rate,remark\nmatching_numbers,frame engine,frame and engine original,0.30,\nmatching_numbers,frame engine,otherwise,0.12,\n"
    "original,frame engine body,frame engine and body original,0.20,\noriginal,frame engine body,otherwise,0.10,\n"
    "replaced,engine,original,0.01,\nreplaced,engine,exchanged,0.15,\nreplaced,engine,made_later,0.20,\n"
    "year,vehicle,read off the plate,0.40,\nyear,vehicle,contract number,0.12,\nyear,vehicle,year of completion,0.25,\nyear,vehicle,fashion,0.23,1928 0.5 | 1930 0.5\n"
    "maker,vehicle,maker of the number,0.75,\nmaker,vehicle,fashion,0.25,Alder 0.7 | Birch 0.3\nnumber,any,worn away,0.02,\nnumber,any,one slip,0.03,\n",
}


def small_pack(folder: Path) -> Pack:
    """The pack, written into a folder and read again."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "pack.toml").write_text(HEAD, encoding="utf-8")
    for name, text in TABLES.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    return read_pack(folder)


NUMBERS = [
    ("Alder", "28", 1, 0),
    ("Alder", "28", 2, 0),
    ("Alder", "28", 3, 0),
    ("Alder", "28", 4, 1),
    ("Alder", "28", 5, 1),
    *(("Birch", "", n, 2) for n in (1, 2, 3, 4)),
]
"""(maker, contract, serial, cell) of every machine."""
LATE = [("late", n) for n in (1, 2, 3)]


class Sums:
    """The joint of the small world under some evidence."""

    def __init__(self, family: Family, evidence: list[Evidence]) -> None:
        self.f, self.evidence = family, evidence
        self.like = likelihoods(family, [e for e in evidence if e.kind == FEATURE])
        self.said = {(e.value, e.part) for e in evidence if e.kind == STATEMENT}

    @cache  # noqa: B019 (lives as long as a test)
    def told(self, part: str, seen: bool, number: tuple[object, ...] | None) -> float:
        """P(the claims of a speaker on a part's number | the number), from the slips alone."""
        own = [e for e in self.evidence if e.kind == NUMBER and e.part == part and e.seen == seen]
        if not own:
            return 1.0
        if not own[0].value:
            return NO_NUMBER_KNOWN if number is None else 0.02
        stray = STRAY / 9
        if number is None:
            return stray
        out = 0.0
        for e in own:
            for n, weight in meant(self.f.pack, "frame" if part == "plate" else part, e.value, 0.03 * (2 if e.unsure else 1) * (0.34 if seen else 1)):
                same = (n.scheme.scheme, n.serial) == number if n.scheme.later else (n.scheme.maker, n.contract, n.serial) == number[:3]
                out += weight * same / len(own)
        return stray + (1 - STRAY) * out

    def says_none(self, part: str) -> bool:
        """Whether a part is told to bear no number: that is never read off the plate."""
        return any(e.kind == NUMBER and e.part == part and not e.value for e in self.evidence)

    def year_and_maker(self, number: tuple[object, ...] | None, vehicle: int) -> float:
        """P(year and maker as told | number on the plate, vehicle's cell)."""
        years = [e.value for e in self.evidence if e.kind == YEAR]
        makers = {e.value for e in self.evidence if e.kind == MAKER}
        out = 1.0
        native = number is not None and number[0] in ("Alder", "Birch")
        if makers:
            fashion = sum({"Alder": 0.7, "Birch": 0.3}[m] for m in makers) / len(makers)
            out *= 0.75 * (number[0] in makers) / len(makers) + 0.25 * fashion if native and number else fashion
        if years:
            hit = {y: sum(int(v[:4]) == y for v in years) / len(years) for y in range(1926, 1940)}
            fashion = 0.5 * hit[1928] + 0.5 * hit[1930]
            plain = 0.25 * (0.6 * hit[1928] + 0.3 * hit[1929] + 0.1 * hit[1930]) + 0.23 * fashion + 0.02 / 40
            read = 0.4 * hit[1928] + (0.12 * hit[1928] if number and number[1] == "28" else 0.0) if native else 0.52 * fashion
            out *= plain + read
        del vehicle
        return out

    def engine(self, cell: int, number: tuple[object, ...]) -> float:
        """P(what is told of the engine | an engine that came with a machine of this number)."""
        if cell == 0:
            return self.told("engine", False, (number[0], "", number[2]))
        table = {1: [6, 7, 8, 9]}.get(cell)
        told = [e for e in self.evidence if e.kind == NUMBER and e.part == "engine"]
        if not told:
            return 1.0
        if table is None:
            return 0.02 if not told[0].value else STRAY / 9
        return sum(self.told("engine", False, ("Alder", "", n)) for n in table) / 4

    def look(self, part: str, cell: int | str) -> float:
        """P(features as named | the part came from this cell or source)."""
        out = 1.0
        for e in self.evidence:
            if e.kind == FEATURE and e.part == part:
                shown, later = feature_factor(self.f, e)
                out *= later[cell] if isinstance(cell, str) else float(shown[cell])
        return out

    def numbered(
        self, part: str, vehicle: tuple[object, ...], donor: tuple[object, ...] | None, back: float
    ) -> Iterator[tuple[str, float, tuple[object, ...] | None, bool]]:
        """(state, weight, number borne, whether it copies the frame's) of frame or plate."""
        prior = {"frame": (0.8, 0.15, 0.05), "plate": (0.3, 0.2, 0.5)}[part]
        yield "original", prior[0] * self.look(part, vehicle[3]), vehicle, False  # type: ignore[arg-type]
        if donor:
            yield "exchanged", prior[1] * back * self.look(part, donor[3]), donor, False  # type: ignore[arg-type]
        for n in NUMBERS:
            yield "exchanged", prior[1] * (1 - back) / 9 * self.look(part, n[3]), n, False
        if part == "frame":
            for late in LATE:
                yield "Later", prior[2] * 0.6 / 3 * self.look(part, "Later"), late, False
        share, none, copy, anyone = (0.4, 0.5, 0.0, 0.5) if part == "frame" else (1.0, 0.1, 0.6, 0.3)
        shop = prior[2] * share * self.look(part, "Shop")
        yield "Shop", shop * none, None, False
        if copy:
            yield "Shop", shop * copy, None, True
        for n in NUMBERS:
            yield "Shop", shop * anyone / 9, n, False

    def engines(self, vehicle: tuple[object, ...], donor: tuple[object, ...] | None, back: float) -> list[tuple[str, float]]:
        replaced = ("replaced", "engine") in self.said
        silent = (SILENCE, "vehicle") in self.said
        rate = [r if replaced else 1 - r if silent else 1.0 for r in (0.01, 0.15, 0.20)]
        out = [("original", 0.5 * rate[0] * self.look("engine", vehicle[3]) * self.engine(vehicle[3], vehicle))]  # type: ignore[arg-type]
        if donor:
            out.append(("exchanged", 0.3 * rate[1] * back * self.engine(donor[3], donor)))  # type: ignore[arg-type]
        out += [("exchanged", 0.3 * rate[1] * (1 - back) / 9 * self.engine(n[3], n)) for n in NUMBERS]
        told = [e for e in self.evidence if e.kind == NUMBER and e.part == "engine"]
        out.append(("Shop", 0.2 * rate[2] * (1.0 if not told else NO_NUMBER_KNOWN if not told[0].value else STRAY / 9)))
        return out

    def spoken(self, frame: bool, engine: bool, body: bool) -> float:
        out, silent = 1.0, (SILENCE, "vehicle") in self.said
        for name, holds, yes, no in (("matching_numbers", frame and engine, 0.3, 0.12), ("original", frame and engine and body, 0.2, 0.1)):
            rate = yes if holds else no
            if (name, "vehicle") in self.said:
                out *= rate
            elif silent and not (name == "matching_numbers" and ("replaced", "engine") in self.said):
                out *= 1 - rate
        return out

    def joint(self) -> Iterator[tuple[int, dict[str, str], float]]:
        """(cell of the vehicle, states of the parts, weight) of every state, summed over nothing but numbers."""
        for vehicle in NUMBERS:
            for donor, prior, back in [(None, 1 - DONOR, 0.0), *((n, DONOR / 9, FROM_DONOR) for n in NUMBERS)]:
                bodies = [("original", 0.4 * self.look("body", vehicle[3])), ("Later", 0.2 * self.look("body", "Later"))]
                bodies += [("exchanged", 0.4 * (1 - back) / 9 * self.look("body", n[3])) for n in NUMBERS]
                if donor:
                    bodies.append(("exchanged", 0.4 * back * self.look("body", donor[3])))
                engines = self.engines(vehicle, donor, back)
                merged_e = {s: sum(w for k, w in engines if k == s) for s, _ in engines}
                merged_b = {s: sum(w for k, w in bodies if k == s) for s, _ in bodies}
                coupled: dict[tuple[str, str], float] = {}
                for fs, fw, fn, _ in self.numbered("frame", vehicle, donor, back):
                    for ps, pw, pn, copies in self.numbered("plate", vehicle, donor, back):
                        for number, w in [(fn, 1.0)] if copies and fn is not None else [(n, 1 / 9) for n in NUMBERS] if copies else [(pn, 1.0)]:
                            seen = self.told("frame", True, fn) * self.told("plate", False, number)
                            off = self.told("frame", False, number if number is not None and not self.says_none("frame") else fn)
                            told = (1 - COPIED_OFF_PLATE) * self.told("frame", False, fn) + COPIED_OFF_PLATE * off
                            weight = fw * pw * w * seen * told * self.year_and_maker(number, vehicle[3])
                            coupled[fs, ps] = coupled.get((fs, ps), 0.0) + weight
                for (fs, ps), (es, bs) in product(coupled, product(merged_e, merged_b)):
                    spoken = self.spoken(fs == "original", es == "original", bs == "original")
                    states = {"frame": fs, "plate": ps, "engine": es, "body": bs}
                    yield vehicle[3], states, prior / 9 * coupled[fs, ps] * merged_e[es] * merged_b[bs] * spoken


def brute_force(family: Family, evidence: list[Evidence]) -> tuple[list[float], dict[str, dict[str, float]]]:
    """(P(cell), part to state to probability), by summing over every state."""
    cells = [0.0, 0.0, 0.0]
    states: dict[str, dict[str, float]] = {p: {} for p in ("frame", "engine", "body", "plate")}
    for cell, own, weight in Sums(family, evidence).joint():
        cells[cell] += weight
        for part, state in own.items():
            states[part][state] = states[part].get(state, 0.0) + weight
    total = sum(cells)
    return [c / total for c in cells], {p: {s: w / total for s, w in own.items()} for p, own in states.items()}
