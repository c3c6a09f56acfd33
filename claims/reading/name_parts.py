"""The part that a maker's or model's name is given to: named beside it, before it, or heading its line; else the vehicle."""

from claims.reading.name_runs import MEASURES
from claims.reading.sheet import Sheet
from claims.reading.topics import comes_from_one, is_straight_behind, opening_subject, part_in_hand
from claims.values import is_year

NAMED_PARTS = ("frame", "engine", "gearbox", "axle", "component")


def _is_engine_maker(sheet: Sheet) -> bool:
    """Whether a maker of stationary engines is named: the engine is the whole thing."""
    return any(h.entry.value.lower() in sheet.language.lists["engine_makers"] for h in sheet.found("maker"))


def part_of_name(sheet: Sheet, i: int, j: int) -> str:
    """The part that a name is given to ("Quillfeather engine"), else the vehicle."""
    grid = sheet.grid
    if sheet.role in NAMED_PARTS:
        return sheet.role
    if is_outboard(sheet, i):
        return "engine"
    if sheet.role == "title" and sheet.found("headcue"):
        return "vehicle"
    if grid.at(j) in {"-", "powered", "engined"} and grid.at(j + (grid.at(j) == "-")) in sheet.language.lists["powered"]:
        return "engine"
    of_part = sheet.ending("maker", i)
    if of_part and of_part.entry.part not in {"", "vehicle"} and grid.same_line(of_part.i, i):
        return of_part.entry.part
    run = sheet.starting("modelrun", j) if sheet.role == "text" else None
    shell = sheet.starting("part", run.j) if run and grid.same_line(j - 1, run.j) else None
    if shell and grid.toks[shell.i] in sheet.language.lists["shells"]:
        return shell.entry.value
    for k in range(j, min(j + 2, grid.n)):
        if k and not grid.same_line(j - 1, k):
            break
        hit = sheet.starting("part", k) if not sheet.covering("modelrun", k) else None
        longer = sheet.starting("model", k) or sheet.starting("maker", k)
        if hit and (grid.toks[hit.j - 1] in sheet.language.lists["speeds"] or grid.toks[hit.i] in sheet.language.lists["layouts"]):
            break
        if hit and longer and longer.j >= hit.j:
            break
        if hit and (grid.toks[k - 1] in sheet.language.lists["whole_engines"] or (sheet.role == "title" and _is_engine_maker(sheet))):
            return "vehicle"
        if hit and not (k == j and grid.toks[k] in {"unit", "one"}):
            behind = grid.at(hit.j)
            numbered = (
                behind in {"no", "number", "numbers", "#", "nr", ":"}
                or behind in sheet.language.lists["bare_number"]
                or any(c.isdigit() for c in behind)
            )
            return "vehicle" if hit.entry.value not in NAMED_PARTS or numbered else hit.entry.value
        if not grid.toks[k].isalnum() or grid.toks[k].isdigit():
            break
        if k == j and grid.toks[k] in {"one", "unit", "item", "lump"}:
            named = [h for h in sheet.beside("part", i) if h.j <= i and h.entry.value in NAMED_PARTS]
            return named[-1].entry.value if named else "vehicle"
        if k == j and grid.toks[k] in {"parts", "spares", "bits"} and grid.at(k + 1) not in {"bike", "car", "truck", "tractor"}:
            return "vehicle"
    k = i - 1
    while (grid.at(k) in sheet.language.lists["name_links"] or is_year(grid.at(k))) and grid.same_line(k, i):
        k -= 1
    subject = sheet.ending("part", k + 1) if k < i - 1 and not comes_from_one(sheet, k + 1, i) else None
    if subject is None and sheet.language.lists["noun_first"]:
        subject = next((h for h in (sheet.ending("part", i),) if h and h.entry.value in NAMED_PARTS), None)
    if subject:
        return subject.entry.value
    first = _first_of_names(sheet, i)
    return part_in_hand(sheet, first) if is_straight_behind(sheet, first) else opening_subject(sheet, first) or "vehicle"


def is_outboard(sheet: Sheet, i: int) -> bool:
    """Whether the names around token i are of an outboard that a boat comes with ("… with a 2004 Yamaha F25")."""
    grid, lists = sheet.grid, sheet.language.lists
    if lists["fitted_with"].isdisjoint(grid.words):
        return False
    first = _first_of_names(sheet, i)
    maker = sheet.starting("maker", first)
    if maker is None or not grid.text(maker.i, maker.j).lower().startswith(tuple(lists["outboard_makers"])):
        return False
    before = first - 1
    while is_year(grid.at(before)) or grid.at(before) in lists["indefinite"] | MEASURES or (grid.at(before).isdigit() and before < first - 1):
        before -= 1
    return grid.at(before) in lists["fitted_with"] and grid.same_line(before, i)


def _first_of_names(sheet: Sheet, i: int) -> int:
    """The first token of the makers and models that run on without a break up to token i."""
    while hit := sheet.ending("maker", i) or sheet.ending("modelrun", i):
        i = hit.i
    return i
