"""The group `auditor pack`: `new`, `check`, `table`, `fit`. Everything heavy is imported inside the commands."""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from auditor.keeper.errors import Unsaid

FAULTY, UNREADABLE = 1, 2
STANDINGS = ("published", "secondary", "practice", "memory", "invented")
CHOICES = {
    "period-kind": ("calendar year", "model year", "factory season"), "dates": ("day-first", "month-first"), "runs": ("one", "by-prefix"),
}  # fmt: skip
"""Answers that are one of a few words, by option."""
PICTURE = "number-lines.html"
FOLDER_HELP = "Folder of packs instead of the configuration folder."


@click.group()
def pack() -> None:
    """Make, check and fill rule packs of your own: the bench for those who keep number tables."""


@pack.command()
@click.argument("name")
@click.option("--folder", type=click.Path(path_type=Path), help=FOLDER_HELP)
@click.option("--title", help="What the pack is about, as reports name it.")
@click.option("--maker", default="", help="The maker's name.")
@click.option("--model", default="", help="The model's name.")
@click.option("--vehicle", default="", help="motorcycle, car, truck, tractor, boat or engine.")
@click.option("--part", default="", help="The part that bears the number (frame, engine, vehicle, hull …).")
@click.option("--source", default="say here where your numbers come from", help="Title of the source of your numbers.")
@click.option("--standing", type=click.Choice(STANDINGS), default="memory", show_default=True, help="How far the source may be trusted.")
@click.option("--extends", default="", metavar="ID", help="Add to this shipped pack instead of making a family.")
def new(name: str, folder: Path | None, title: str | None, **values: str) -> None:
    """Make a pack with a commented skeleton to fill in."""
    from auditor.keeper.skeleton import new_pack
    from claims.own_packs import own_folder

    made = _tried(lambda: new_pack(folder or own_folder(), name, {"title": title or name, **values}))
    click.echo(f"{made / 'pack.toml'} is made. Next: auditor pack table FILE --into {name}, auditor pack check {name}")


@pack.command()
@click.argument("path")
@click.option("--private", is_flag=True, help="Draw private rows too; keep such a picture to yourself.")
@click.option("--no-picture", is_flag=True, help="Write no picture.")
def check(path: str, private: bool, no_picture: bool) -> None:
    """Check a pack (a name or a folder): every fault with file, line and key, gaps, overlaps, what it covers.

    A picture of its number lines is written beside it (of a shipped pack, into the current folder).
    """
    from auditor.keeper.check_report import report
    from claims.pack import SHIPPED, shipped_packs
    from claims.pack_check import check_pack

    folder = _pack_folder(path, shipped=True)
    found, files = check_pack(folder, [p for p in shipped_packs() if p.folder != folder])
    drawn = None
    if files.joined and not no_picture and files.tables:
        drawn = Path(f"{folder.name}-{PICTURE}") if folder.parent == SHIPPED else folder / PICTURE
        _tried(lambda: _draw(drawn, files.joined, files, private))
    click.echo(report(found, files, drawn), nl=False)
    sys.exit(0 if found else FAULTY)


def _draw(path: Path, found: Any, files: Any, private: bool) -> None:
    from auditor.keeper.errors import KeeperError
    from auditor.keeper.number_lines import page
    from claims.pack_check import dated_runs
    from claims.pack_extension import PRIVATE

    runs = list(dated_runs(files, found))
    hidden = sum(row.keys.get(PRIVATE) == "yes" for run in runs for row in run.rows)
    shown = runs if private else [public for run in runs if (public := run.without_private()).rows]
    try:
        path.write_text(page(found.family, shown, 0 if private else hidden), encoding="utf-8")
    except OSError as error:
        raise KeeperError(f"{path}: {error.strerror}") from None


@pack.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--into", metavar="PACK", help="Put the table into this pack (a name or a folder); else it is printed.")
@click.option("--table", "name", default="numbers", show_default=True, help="Name of the table in the pack.")
@click.option("--replace", is_flag=True, help="Write a table anew that is there already.")
@click.option("--sheet", default="", help="Sheet of a workbook.")
@click.option("--period", default="", metavar="COLUMN", help="Column with the year or date, by heading, letter or place.")
@click.option("--first", default="", metavar="COLUMN", help="Column with the first number.")
@click.option("--last", default="", metavar="COLUMN", help="Column with the last number.")
@click.option("--range", "range_", default="", metavar="COLUMN", help="Column with first and last number in one cell.")
@click.option("--prefix", default="", metavar="COLUMN", help="Column with the letters before the number.")
@click.option("--source", default="", metavar="COLUMN", help="Column that names each row's source.")
@click.option("--standing", type=click.Choice(STANDINGS), default="secondary", show_default=True, help="Standing of sources that the table names.")
@click.option("--part", default="", help="The part that bears the number.")
@click.option("--period-kind", type=click.Choice(CHOICES["period-kind"]), help="What a year means.")
@click.option("--dates", type=click.Choice(CHOICES["dates"]), help="How 3/4/1956 is meant.")
@click.option("--runs", type=click.Choice(CHOICES["runs"]), help="One run of numbers through all letters, or one for each prefix.")
@click.option(
    "--last-number",
    default="",
    metavar="NUMBER",
    help="Last number of the row without an end (PREFIX=NUMBER,… for several runs); none where nobody knows.",
)
def table(file: Path, into: str | None, name: str, replace: bool, sheet: str, standing: str, part: str, **said: str | None) -> None:
    """Make a pack's table of a spreadsheet (CSV, xlsx, xls, ods), under any headings; asks only what it cannot see."""
    from auditor.keeper.cells import read_lines
    from auditor.keeper.into_pack import put_into
    from auditor.keeper.table import Answers, as_csv
    from auditor.keeper.table import table as made_of

    known: dict[str, str] = {"sheet": sheet, "part": part, **{key.rstrip("_").replace("_", "-"): value or "" for key, value in said.items()}}
    folder = _pack_folder(into) if into else None

    def make() -> None:
        columns = {role: known[role] for role in ("period", "first", "last", "range", "prefix", "source")}
        answers = Answers(columns, known["period-kind"], known["dates"], known["runs"], known["last-number"])
        made = made_of(read_lines(file, known["sheet"]), answers)
        if folder is None:
            click.echo(as_csv(made, {row.source: row.source for row in made.rows}), nl=False)
        else:
            for line in put_into(folder, name, made, known["part"], standing, replace=replace):
                click.echo(line)
        for note in made.notes:
            click.echo(f"  {_one_line(note)}", err=folder is None)

    _answered(make, known)


@pack.command()
@click.argument("file", metavar="SEEN.csv", type=click.Path(path_type=Path))
@click.option("--into", metavar="PACK", help="Put the table into this pack (a name or a folder); else it is printed.")
@click.option("--table", "name", default="seen", show_default=True, help="Name of the table in the pack.")
@click.option("--replace", is_flag=True, help="Write a table anew that is there already.")
@click.option("--by", type=click.Choice(("year", "month")), help="How fine the table dates; else as fine as the sightings are.")
@click.option("--sheet", default="", help="Sheet of a workbook.")
@click.option("--number", default="", metavar="COLUMN", help="Column with the number.")
@click.option("--date", default="", metavar="COLUMN", help="Column with the date.")
@click.option("--part", default="", help="The part that bears the number.")
@click.option("--dates", type=click.Choice(CHOICES["dates"]), help="How 3/4/1956 is meant.")
def fit(file: Path, into: str | None, name: str, replace: bool, by: str | None, **said: str | None) -> None:
    """Fit a dating table to dated sightings (number, date, source): numbers never run back, what does not fit is named."""
    from auditor.keeper.cells import read_lines
    from auditor.keeper.fit import fitted, sightings
    from auditor.keeper.into_pack import put_into
    from auditor.keeper.table import as_csv

    known: dict[str, str] = {key: value or "" for key, value in said.items()}
    folder = _pack_folder(into) if into else None

    def make() -> None:
        result = fitted(sightings(read_lines(file, known["sheet"]), known["number"], known["date"], known["dates"]), by or "")
        if folder is None:
            click.echo(as_csv(result.made, {row.source: row.source for row in result.made.rows}), nl=False)
        else:
            for line in put_into(folder, name, result.made, known["part"], "secondary", replace=replace):
                click.echo(line)
        for note in result.made.notes:
            click.echo(f"  {_one_line(note)}", err=folder is None)

    _answered(make, known)


def _pack_folder(path: str, *, shipped: bool = False) -> Path:
    """A pack's folder, by its path or its name in the configuration folder (or, to look at, of a shipped one); ends with status 2 where there is none."""
    from claims.own_packs import own_folder
    from claims.pack import SHIPPED
    from claims.pack_files import PACK_FILE

    for folder in (Path(path), own_folder() / path, *([SHIPPED / path] if shipped else [])):
        folder = folder.parent if folder.name == PACK_FILE else folder
        if (folder / PACK_FILE).is_file():
            return folder
    _stop(f"{path}: no pack of your own there; auditor pack new makes one")
    raise AssertionError


def _answered(make: Callable[[], None], known: dict[str, str]) -> None:
    """Run, and on a terminal ask for what could not be seen until nothing is left to ask; else end with status 2."""
    from auditor.keeper.errors import KeeperError, Unsaid

    while True:
        try:
            make()
        except Unsaid as error:
            if not sys.stdin.isatty():
                _stop(str(error))
            _ask(error, known)
        except KeeperError as error:
            _stop(str(error))
        else:
            return


def _ask(error: "Unsaid", known: dict[str, str]) -> None:
    options = dict.fromkeys(option for option, _ in error.questions)
    for option in options:
        question = "; ".join(text for name, text in error.questions if name == option)
        choice = click.Choice(CHOICES[option]) if option in CHOICES else None
        known[option] = click.prompt(_one_line(question), type=choice, show_choices=False, err=True)


def _tried(make: Callable[[], Any]) -> Any:
    from auditor.keeper.errors import KeeperError

    try:
        return make()
    except KeeperError as error:
        _stop(str(error))


def _stop(message: str) -> None:
    click.echo(f"auditor: {_one_line(message)[:1500]}", err=True)
    sys.exit(UNREADABLE)


def _one_line(text: str) -> str:
    from auditor.render.plain import one_line

    return one_line(text)
