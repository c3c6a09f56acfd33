"""Which column of a spreadsheet is what: by the words of its head in several languages, and by what stands in it."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from auditor.keeper.cell_values import is_open, number, number_and_open, number_range, when
from auditor.keeper.cells import Line
from auditor.keeper.errors import KeeperError, Unsaid

ROLES = ("first", "last", "period", "period_to", "range", "prefix", "model", "maker", "source", "remark")
WORDS: dict[str, str] = {
    "last": r"last|to|end|ending|ends|until|highest|bis|letzte\w*|ende|dernier\w*|fin|au|laatste|tot|eind\w*|ultim\w*|hasta",
    "first": r"first|from|start\w*|begin\w*|commenc\w*|lowest|erste\w*|von|ab|beginn|premier\w*|début|debut|du|eerste|van|vanaf|prim\w*|dal?|desde",
    "period": r"years?|yrs?|dates?|seasons?|months?|periods?|when|dated|jahr\w*|baujahr\w*|datum|saison\w*|monat\w*|ann[ée]es?|mois|mill[ée]sime|jaar\w*|bouwjaar|maand|ann[oi]|mese|data",
    "prefix": r"prefix\w*|letters?|code|präfix|buchstabe\w*|préfixe|lettres?|voorvoegsel|prefisso",
    "model": r"models?|types?|modell\w*|typ|modèles?|modelle?n?|modello",
    "maker": r"makers?|makes?|marke|hersteller|marque|constructeur|merk|marca",
    "source": r"sources?|refs?|references?|quellen?|beleg\w*|bron|fonte|cited|seen by|literature",
    "remark": r"remarks?|notes?|comments?|bemerkung\w*|anmerkung\w*|remarques?|opmerking\w*|nota|details?",
    "count": r"counts?|totals?|qty|quantit\w*|built|made|produced|production|output|stück\w*|anzahl|gebaut|nombre|quantité|aantal|units?|how many|sum\w*|quantità",
    "number": r"numbers?|nos?|serials?|chassis|frames?|engines?|vin|nr|nummern?|nummer|fahrgestell\w*|rahmen\w*|motor\w*|num[ée]ros?|n°|série|numeri?o?|telaio|hull|range",
}  # fmt: skip
MOST_HEAD_ROWS = 40
MOSTLY, HALF = 0.8, 0.5
_WORD = {role: re.compile(rf"(?<!\w)(?:{words})(?!\w)", re.IGNORECASE) for role, words in WORDS.items()}


@dataclass
class Layout:
    """Role to column, the head as written, the rows below it."""

    head: tuple[str, ...]
    body: list[Line]
    roles: dict[str, int] = field(default_factory=dict)

    def cell(self, line: Line, role: str) -> str:
        """A line's cell of a role; empty where there is none."""
        at = self.roles.get(role, -1)
        return line.cells[at] if 0 <= at < len(line.cells) else ""

    def name(self, column: int) -> str:
        """A column as its owner calls it."""
        return self.head[column] if column < len(self.head) and self.head[column] else f"column {column + 1}"


def layout(lines: Sequence[Line], chosen: dict[str, str]) -> Layout:
    """Find the head and each column's role; `chosen` are columns that the owner named. Raises `Unsaid` for what cannot be seen."""
    lines = _upright(lines)
    start = next((n for n, line in enumerate(lines[:MOST_HEAD_ROWS]) if _is_data(line)), None)
    if start is None:
        raise KeeperError("no row with a number and a year beside each other was found; a table needs both in one row")
    while start and sum(map(bool, lines[start - 1].cells)) > 1 and any(c.isdigit() or _is_bare_number(c) for c in lines[start - 1].cells):
        start -= 1  # a row with a number but no date that can be read is no head
    titles = [line for line in lines[:start] if sum(map(bool, line.cells)) > 1]
    width = max(len(line.cells) for line in lines)
    head = tuple(" ".join(filter(None, (line.cells[n] if n < len(line.cells) else "" for line in titles[-2:]))) for n in range(width))
    found = Layout(head, list(lines[start:]))
    _refuse_split_numbers(found, titles)
    for role, name in chosen.items():
        found.roles[role] = _named_column(found, name)
    _find_periods(found)
    _find_numbers(found)
    for role in ("prefix", "model", "maker", "source", "remark"):
        free = (n for n in range(width) if n not in found.roles.values() and _says(head[n], role) and _share(found, n, bool) > 0)
        if role not in found.roles and (column := next(free, None)) is not None:
            found.roles[role] = column
    return found


def _upright(lines: Sequence[Line]) -> Sequence[Line]:
    """A table whose years stand side by side in one row, turned so that each has a row; its lines are then the columns."""
    for line in lines[:MOST_HEAD_ROWS]:
        dated = sum(when(c) is not None for c in line.cells[1:])
        if dated > 1 and dated >= MOSTLY * sum(map(bool, line.cells[1:])) and line.cells[0] and not when(line.cells[0]):
            width = max(len(one.cells) for one in lines)
            return [Line(n + 1, tuple(one.cells[n] if n < len(one.cells) else "" for one in lines)) for n in range(width)]
    return lines


def _is_bare_number(text: str) -> bool:
    found = number(text)
    return found is not None and not found.prefix and not found.suffix and not when(text)


def _is_data(line: Line) -> bool:
    cells = [c for c in line.cells if c]
    dates = [n for n, c in enumerate(cells) if when(c)]
    return any(n != at for at in dates for n, c in enumerate(cells) if number_and_open(c)[0] or number_range(c))


def _refuse_split_numbers(found: Layout, titles: Sequence[Line]) -> None:
    """A thousands comma without quotes makes more cells than the head has."""
    if not titles:
        return
    under = max(n for title in titles[-2:] for n, c in enumerate(title.cells) if c) + 1
    for line in found.body:
        filled = max((n for n, c in enumerate(line.cells) if c), default=0) + 1
        if filled > under and sum(map(bool, line.cells)) > max(sum(map(bool, t.cells)) for t in titles[-2:]):
            raise KeeperError(
                f"line {line.number} has {filled} cells under a head of {under}: numbers with a separator inside must stand in quotes, or be written without it"
            )


def _named_column(found: Layout, name: str) -> int:
    """A column by its heading, its letter (A, B …) or its place (1, 2 …)."""
    exact = [n for n, h in enumerate(found.head) if h.casefold() == name.casefold()]
    near = exact or [n for n, h in enumerate(found.head) if name.casefold() in h.casefold() and len(name) > 1]
    if len(near) == 1:
        return near[0]
    if name.isdigit() and 1 <= int(name) <= len(found.head):
        return int(name) - 1
    if len(name) == 1 and name.isalpha() and ord(name.upper()) - ord("A") < len(found.head):
        return ord(name.upper()) - ord("A")
    raise KeeperError(f"no column {name!r}; there are {', '.join(found.name(n) for n in range(len(found.head)))}")


def _says(heading: str, role: str) -> bool:
    return bool(_WORD[role].search(heading))


def _share(found: Layout, column: int, fits: Callable[[str], object]) -> float:
    cells = [line.cells[column] for line in found.body if column < len(line.cells) and line.cells[column]]
    return sum(bool(fits(c)) for c in cells) / len(cells) if cells else 0.0


def _find_periods(found: Layout) -> None:
    if "period" in found.roles:
        return
    free = [n for n in range(len(found.head)) if n not in found.roles.values()]
    dated = [n for n in free if _share(found, n, when) >= (HALF if _says(found.head[n], "period") else MOSTLY)]
    named = [n for n in dated if _says(found.head[n], "period") or not _says(found.head[n], "number")]
    named = [n for n in named if _says(found.head[n], "period")] or [n for n in named if not _says(found.head[n], "count")] or dated
    if len(named) == 2:
        ends = {role: [n for n in named if _says(found.head[n], role)] for role in ("first", "last")}
        if len(ends["first"]) == len(ends["last"]) == 1 and ends["first"] != ends["last"]:
            found.roles["period"], found.roles["period_to"] = ends["first"][0], ends["last"][0]
            return
    if len(named) != 1:
        names = ", ".join(found.name(n) for n in (named or range(len(found.head))))
        raise Unsaid([("period", f"which column holds the year or date: {names}?")])
    found.roles["period"] = named[0]


def _find_numbers(found: Layout) -> None:
    if "first" in found.roles or "last" in found.roles or "range" in found.roles:
        return
    free = [n for n in range(len(found.head)) if n not in found.roles.values() and not _says(found.head[n], "count")]
    ranged = [n for n in free if _share(found, n, number_range) >= HALF]
    if len(ranged) == 1:
        found.roles["range"] = ranged[0]
        return
    numbered = [
        n for n in free if _share(found, n, _is_number) > 0 and _share(found, n, _is_end) >= (HALF if _is_named_end(found.head[n]) else MOSTLY)
    ]
    numbered = [n for n in numbered if not _is_place_in_list(found, n)] or numbered
    ends = {role: [n for n in numbered if _says(found.head[n], role)] for role in ("first", "last")}
    if len(ends["first"]) == 1:
        found.roles["first"] = ends["first"][0]
    if len(ends["last"]) == 1 and ends["last"] != ends["first"]:
        found.roles["last"] = ends["last"][0]
    rest = [n for n in numbered if n not in found.roles.values()]
    if not found.roles.keys() & {"first", "last"}:
        _find_unnamed(found, rest)


def _is_number(text: str) -> bool:
    return number_and_open(text)[0] is not None


def _is_end(text: str) -> bool:
    return _is_number(text) or is_open(text)


def _is_named_end(heading: str) -> bool:
    return any(_says(heading, role) for role in ("first", "last", "number"))


def _find_unnamed(found: Layout, rest: list[int]) -> None:
    if len(rest) > 1:
        said = [n for n in rest if _says(found.head[n], "number")]
        rest = said if len(said) in {1, 2} else rest
    if len(rest) == 1:
        found.roles["first"] = rest[0]
        return
    if len(rest) == 2:
        for a, b in (rest, rest[::-1]):
            pairs = [(number_and_open(line.cells[a])[0], number_and_open(line.cells[b])[0]) for line in found.body if max(a, b) < len(line.cells)]
            known = [(x.serial, y.serial) for x, y in pairs if x and y]
            if known and all(x <= y for x, y in known) and all(y < x for (_, y), (x, _) in pairwise(known)):
                found.roles["first"], found.roles["last"] = a, b
                return
    names = ", ".join(found.name(n) for n in (rest or range(len(found.head))))
    raise Unsaid([("first", f"which column holds the first number: {names}?")])


def _is_place_in_list(found: Layout, column: int) -> bool:
    """Whether a column only counts its rows."""
    cells = [line.cells[column] for line in found.body if column < len(line.cells)]
    return len(cells) > 1 and cells == [str(n) for n in range(1, len(cells) + 1)]
