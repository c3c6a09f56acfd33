"""The command `auditor`: `check`, `claims`, `packs`, `demo`, `explain`, `completion`.

Exit status: 0 no contradiction, 1 contradictions found, 2 could not read. `claims`, `demo` and the rest end with 0 or 2.
Heavy imports stand inside the commands that need them, so that `--help` answers at once.
"""

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from auditor.audit import Audit
    from claims.pack import Pack
    from extractors.document import Document

FORMATS = ("text", "html", "md", "json", "letter")
SHELLS = ("bash", "zsh", "fish")
CONTRADICTIONS, UNREADABLE = 1, 2
MOST_WORKERS = 64
DEMO = Path(__file__).parent / "demo"
FIRST_DEMO = "plate-says-1928"


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="listing-auditor", prog_name="auditor")
def main() -> None:
    """Audit for-sale listings of historic vehicles: what is claimed, what cannot hold together, what to ask."""


@main.command()
@click.argument("inputs", nargs=-1, required=True, metavar="INPUT...")
@click.option("--format", "form", type=click.Choice(FORMATS), default="text", show_default=True, help="Kind of report.")
@click.option("--pack", "pack_ids", multiple=True, metavar="ID", help="Use only this rule pack (may be given again).")
@click.option("--share", is_flag=True, help="Hide personal data and the ends of numbers, for showing to others.")
@click.option("--reply", "replies", multiple=True, metavar="FILE", help="The seller's answer, a mail or text (again for each letter).")
@click.option("--notes", "notes", multiple=True, metavar="FILE", help="Your own inspection in words (may be given again).")
def check(inputs: Sequence[str], form: str, pack_ids: Sequence[str], share: bool, replies: Sequence[str], notes: Sequence[str]) -> None:
    """Audit listings: text, records, saved pages, web archives, mails, folders; - for standard input (paste, then Ctrl-D)."""
    from auditor.audit import audit
    from auditor.share import shared

    packs = _packs(pack_ids)
    said, seen = _letters(replies), _letters(notes)
    status = 0
    shown = 0
    for document in _of_one(_documents(inputs)) if said or seen else _documents(inputs):
        if document is None:
            status = UNREADABLE
            continue
        result = audit(document, packs, replies=said, notes=seen)
        _show(shared(result) if share else result, form, first=shown == 0)
        shown += 1
        if result.has_contradiction and status != UNREADABLE:
            status = CONTRADICTIONS
    sys.exit(status)


@main.command()
@click.argument("file", metavar="FILE.jsonl")
@click.option("--pack", "pack_ids", multiple=True, metavar="ID", help="Use only this rule pack (may be given again).")
@click.option(
    "--workers", type=click.IntRange(1, MOST_WORKERS), default=1, show_default=True, metavar="N", help="Read in N processes; the output is the same."
)
def claims(file: str, pack_ids: Sequence[str], workers: int) -> None:
    """Read claims from records, one a line; print claims, findings and questions, one record a line, in order."""
    from auditor.records import claims_of_records

    status = 0
    for outcome in claims_of_records(file, _packs(pack_ids), workers):
        if outcome.complaint:
            _complain(outcome.complaint)
            status = UNREADABLE
        else:
            click.echo(outcome.line)
    sys.exit(status)


@main.command()
@click.argument("pack_id", required=False, metavar="[ID]")
def packs(pack_id: str | None) -> None:
    """List the rule packs, or show what one of them knows and by which sources."""
    from auditor.render.packs import listing, one

    found = _packs([pack_id] if pack_id else [])
    click.echo(one(found[0]) if pack_id else listing(found), nl=False)


@main.command()
@click.argument("name", required=False, metavar="[NAME]")
@click.option("--list", "names", is_flag=True, help="Name the demo listings.")
@click.option("--format", "form", type=click.Choice(FORMATS), default="text", show_default=True, help="Kind of report.")
def demo(name: str | None, names: bool, form: str) -> None:
    """Audit a demo listing of the invented Pattern 5 parcel carrier."""
    known = sorted(p.stem for p in DEMO.glob("*.txt"))
    if names:
        click.echo("\n".join(known))
        return
    chosen = name or FIRST_DEMO
    if chosen not in known:
        _complain(f"{chosen}: no such demo listing; choose one of {', '.join(known)}")
        sys.exit(UNREADABLE)
    from auditor.audit import audit
    from extractors.intake import documents

    for document in documents(str(DEMO / f"{chosen}.txt")):
        if form == "text":
            click.echo(f"Demo listing “{chosen}” (everything in it is invented):\n")
            click.echo(
                "\n".join(
                    f"  | {line}"
                    for line in (document.title, *(f"{f.label}: {f.text}" for f in document.fields if f.is_attribute), "", *document.text.split("\n"))
                )
            )
            click.echo()
        _show(audit(document), form, first=True)


@main.command()
@click.argument("name", required=False, metavar="[NAME]")
def explain(name: str | None) -> None:
    """Explain a check, kind, pack, standard, command, grade or stance; without a name, list them."""
    from auditor.explain import entry, everything

    if name is None:
        click.echo("\n".join(everything(help_texts())))
        return
    try:
        click.echo(entry(name, help_texts()), nl=False)
    except KeyError:
        _complain(f"{name}: nothing has that name; `auditor explain` lists all")
        sys.exit(UNREADABLE)


@main.command()
@click.argument("shell", type=click.Choice(SHELLS))
def completion(shell: str) -> None:
    """Print the completion script for a shell; for bash: eval "$(auditor completion bash)"."""
    from click.shell_completion import get_completion_class

    maker = get_completion_class(shell)
    if maker is None:
        _complain(f"{shell}: no completion for this shell")
        sys.exit(UNREADABLE)
    try:
        click.echo(maker(main, {}, "auditor", "_AUDITOR_COMPLETE").source())
    except RuntimeError as error:
        _complain(f"completion: {error}")
        sys.exit(UNREADABLE)


def help_texts() -> dict[str, str]:
    """The help text of every command, by its name."""
    out = {}
    for name, command in main.commands.items():
        with click.Context(command, info_name=f"auditor {name}", color=False, terminal_width=90, max_content_width=90) as context:
            out[name] = command.get_help(context)
    return out


def _documents(inputs: Sequence[str]) -> "Iterator[Document | None]":
    """Each listing of each input; None (and one line on standard error) for what could not be read."""
    from extractors.errors import UnreadableListing
    from extractors.intake import documents

    for path in inputs:
        try:
            yield from documents(path)
        except UnreadableListing as error:
            _complain(str(error))
            yield None


def _of_one(found: "Iterator[Document | None]") -> "Iterator[Document | None]":
    """The listing that letters belong to; ends with status 2 where there are several."""
    listings = list(found)
    if len(listings) > 1:
        _complain("a reply or notes belong to one listing; give that one alone")
        sys.exit(UNREADABLE)
    yield from listings


def _letters(paths: Sequence[str]) -> "list[Document]":
    """The letters in files; ends with status 2 where one cannot be read, since an audit without it would mislead."""
    from extractors.errors import UnreadableListing
    from extractors.letters import letter

    try:
        return [letter(path) for path in paths]
    except UnreadableListing as error:
        _complain(str(error))
        sys.exit(UNREADABLE)


def _packs(ids: Sequence[str]) -> "tuple[Pack, ...]":
    """The shipped packs, or those named; ends with status 2 where there is no such pack."""
    from claims.pack import BadPack, shipped_packs

    try:
        found = shipped_packs()
    except BadPack as error:
        _complain(str(error))
        sys.exit(UNREADABLE)
    chosen = tuple(p for p in found if not ids or p.id in ids)
    for name in ids:
        if name not in {p.id for p in found}:
            _complain(f"{name}: no such pack; `auditor packs` lists them")
            sys.exit(UNREADABLE)
    return chosen


def _show(result: "Audit", form: str, first: bool) -> None:
    from importlib import import_module

    if form != "json" and not first:
        click.echo("\n")
    click.echo(import_module(f"auditor.render.{form}").render(result), nl=False)


def _complain(message: str) -> None:
    """One harmless line on standard error."""
    from auditor.render.plain import one_line

    click.echo(f"auditor: {one_line(message)[:500]}", err=True)
