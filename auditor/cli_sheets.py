"""The commands for the way from the first sight to the handover: `sheet`, `inspect`, `dossier`, each about one listing.

They end with 0, or with 2 where something could not be read or written. Heavy imports stand inside the commands.
"""

import dataclasses
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from auditor.given import UNREADABLE, complain, documents_of, letters_of, one_listing, packs_of

if TYPE_CHECKING:
    from auditor.audit import Audit
    from extractors.document import Photo

SHEET_FORMS = ("text", "html", "csv")
INSPECTION_FORMS = ("text", "html")
_ENDINGS = {".html": "html", ".htm": "html", ".csv": "csv", ".txt": "text"}
_OF_FORM = {"html": ".html", "csv": ".csv", "text": ".txt"}
KEPT = ".numbers"
"""What stands between a listing's name and the ending of the sheet that is kept beside it; folders leave such files out."""

_LETTERS = (
    click.option("--reply", "replies", multiple=True, metavar="FILE", help="The seller's answer, a mail or text (again for each letter)."),
    click.option("--notes", "notes", multiple=True, metavar="FILE", help="Your own inspection in words (may be given again)."),
    click.option("--on", "day", metavar="DATE", default="", help="The day (YYYY-MM-DD) of the listing where it gives none itself."),
    click.option("--pack", "pack_ids", multiple=True, metavar="ID", help="Use only this rule pack (may be given again)."),
    click.option("--share", is_flag=True, help="Hide personal data and the ends of numbers, for showing to others."),
)


def add_to(group: click.Group) -> None:
    """Add the commands of this file to the command `auditor`."""
    for command in (sheet, inspect, dossier):
        group.add_command(command)


def _with_letters(command: Callable[..., None]) -> Callable[..., None]:
    for option in reversed(_LETTERS):
        command = option(command)
    return command


@click.command()
@click.argument("source", metavar="INPUT")
@_with_letters
@click.option("--format", "form", type=click.Choice(SHEET_FORMS), help="Kind of sheet; by the ending of the file, else text.")
@click.option("--output", "-o", metavar="FILE", help="Write to this file.")
@click.option("--keep", is_flag=True, help="Write it beside the listing, as NAME.numbers.html (or .csv, .txt).")
def sheet(source: str, form: str | None, output: str | None, keep: bool, **given: Any) -> None:
    """The numbers sheet alone: a row for each part, a column for each witness, with room to complete it by hand."""
    from auditor.render import numbers_sheet

    chosen = form or _form_of(output) or ("html" if keep else "text")
    result = _audited(source, **given, for_others=True)
    made = {"html": numbers_sheet.html, "csv": numbers_sheet.table, "text": numbers_sheet.text}[chosen](result)
    _put(made, _beside(source, chosen) if keep else output)


@click.command()
@click.argument("source", metavar="INPUT")
@_with_letters
@click.option("--format", "form", type=click.Choice(INSPECTION_FORMS), help="Kind of sheet; by the ending of the file, else text.")
@click.option("--output", "-o", metavar="FILE", help="Write to this file.")
def inspect(source: str, form: str | None, output: str | None, **given: Any) -> None:
    """The inspection sheet: where to look in walking order, what each variant means, boxes to tick, what to photograph."""
    from auditor.render import inspection

    chosen = form or _form_of(output) or "text"
    own = not given["share"]
    result = _audited(source, **given)
    _put(inspection.html(result, own) if chosen == "html" else inspection.text(result, own), output)


@click.command()
@click.argument("inputs", nargs=-1, required=True, metavar="INPUT...")
@_with_letters
@click.option("--output", "-o", metavar="FOLDER", required=True, help="The folder to make; it must be new or empty.")
def dossier(inputs: Sequence[str], output: str, **given: Any) -> None:
    """What a registrar, club or licensed inspector needs, without a verdict: one page, and its parts as files beside it.

    Further INPUTs are pictures or folders of pictures of the same vehicle.
    """
    from auditor.render.dossier import files

    share = given.pop("share")
    result = _audited(inputs[0], share=False, more=_pictures(inputs[1:]), **given, for_others=True)
    count = len(result.document.photos)
    if share:
        from auditor.share import shared

        result = shared(result)
    _put_all(files(result, count if share else 0), Path(output))


def _pictures(paths: Sequence[str]) -> "list[Photo]":
    """The pictures in files and folders; ends with status 2 where one of them holds none."""
    from extractors.errors import UnreadableListing
    from extractors.photographs import photographs

    try:
        return [photo for path in paths for photo in photographs(path)]
    except UnreadableListing as error:
        complain(str(error))
        sys.exit(UNREADABLE)


def _put_all(made: "Iterable[tuple[str, bytes]]", folder: Path) -> None:
    """Write the files of a folder that is new or empty; ends with status 2 where that fails, and leaves what was there."""
    try:
        if folder.exists() and any(folder.iterdir()):
            complain(f"{folder}: not empty; name a new folder with --output")
            sys.exit(UNREADABLE)
        for name, data in made:
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
    except OSError as error:
        complain(f"{folder}: {error.strerror or 'cannot be written'}; choose another place with --output")
        sys.exit(UNREADABLE)
    click.echo(f"written: {folder}", err=True)


def _audited(
    source: str, replies: Sequence[str], notes: Sequence[str], day: str, pack_ids: Sequence[str], share: bool, more: "Sequence[Photo]" = (),
    for_others: bool = False,
) -> "Audit":  # fmt: skip
    """The audit of the one listing of an input with its letters; ends with status 2 where something cannot be read.

    `for_others`: what comes of it goes to others, so that it rests on no private row of a pack.
    """
    from auditor.own_rules import audited
    from auditor.share import shared

    packs, said, seen = packs_of(pack_ids, for_others=share or for_others), letters_of(replies), letters_of(notes)
    found = next(one_listing(documents_of([source])), None)
    if found is None:
        sys.exit(UNREADABLE)
    if _day(day) and not found.seen:
        found = dataclasses.replace(found, seen=day)
    if more:
        found = dataclasses.replace(found, photos=tuple({p.sha256: p for p in (*found.photos, *more)}.values()))
    result = audited(found, packs, replies=said, notes=seen)
    return shared(result) if share else result


def _day(text: str) -> str:
    """The day given; ends with status 2 where it is none."""
    from datetime import date

    try:
        return date.fromisoformat(text).isoformat() if text else ""
    except ValueError:
        complain(f"--on {text}: no day; write it as 2026-11-03")
        sys.exit(UNREADABLE)


def _form_of(output: str | None) -> str:
    return _ENDINGS.get(Path(output).suffix.lower(), "") if output else ""


def _beside(source: str, form: str) -> str:
    """The file in which the sheet of a listing is kept: beside the listing, or beside its folder; ends with status 2 for standard input."""
    if source == "-":
        complain("--keep: standard input has no place to keep a sheet beside; name a file with --output")
        sys.exit(UNREADABLE)
    path = Path(source).resolve()
    return str(path.with_name(f"{path.name if path.is_dir() else path.stem}{KEPT}{_OF_FORM[form]}"))


def _put(text: str, output: str | None) -> None:
    """Print a text, or write it to a file whole or not at all; ends with status 2 where that fails."""
    if not output:
        click.echo(text, nl=False)
        return
    path = Path(output)
    waiting = path.with_name(f".{path.name}.part")
    try:
        waiting.write_text(text, encoding="utf-8", newline="")
        waiting.replace(path)
    except OSError as error:
        complain(f"{output}: {error.strerror or 'cannot be written'}; choose another place with --output")
        sys.exit(UNREADABLE)
    click.echo(f"written: {path}", err=True)
