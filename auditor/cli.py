"""The command `auditor`: `check`, `claims`, `origin`, `packs`, `demo`, `explain`, `completion`; the sheets are in `cli_sheets`, `pack` in `keeper`.

Exit status: 0 no contradiction, 1 contradictions found, 2 could not read. `claims`, `origin`, `demo` and the rest end with 0 or 2.
Heavy imports stand inside the commands that need them, so that `--help` answers at once.
"""

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from auditor import cli_sheets
from auditor.given import UNREADABLE, complain, documents_of, letters_of, one_listing, packs_of
from auditor.keeper.commands import pack

if TYPE_CHECKING:
    from auditor.audit import Audit
    from auditor.records import Outcome

FORMATS = ("text", "html", "md", "json", "letter")
SHELLS = ("bash", "zsh", "fish")
CONTRADICTIONS = 1
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
    from auditor.own_rules import audited
    from auditor.share import shared

    packs = packs_of(pack_ids, for_others=share or form == "letter")
    said, seen = letters_of(replies), letters_of(notes)
    status = 0
    shown = 0
    for document in one_listing(documents_of(inputs)) if said or seen else documents_of(inputs):
        if document is None:
            status = UNREADABLE
            continue
        result = audited(document, packs, replies=said, notes=seen)
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

    _print_lines(claims_of_records(file, packs_of(pack_ids), workers))


@main.command()
@click.argument("file", metavar="FILE.jsonl")
@click.option("--pack", "pack_ids", multiple=True, metavar="ID", help="Use only this rule pack (may be given again).")
def origin(file: str, pack_ids: Sequence[str]) -> None:
    """Say of each record what vehicle and parts probably are and what to ask, one record a line, in order."""
    from auditor.records import beliefs_of_records

    _print_lines(beliefs_of_records(file, packs_of(pack_ids)))


def _print_lines(outcomes: "Iterator[Outcome]") -> None:
    """Print every line, complain of what could not be read, end with 0 or 2."""
    status = 0
    for outcome in outcomes:
        if outcome.complaint:
            complain(outcome.complaint)
            status = UNREADABLE
        else:
            click.echo(outcome.line)
    sys.exit(status)


@main.command()
@click.argument("pack_id", required=False, metavar="[ID]")
def packs(pack_id: str | None) -> None:
    """List the rule packs, or show what one of them knows and by which sources."""
    from auditor.render.packs import listing, one

    found = packs_of([pack_id] if pack_id else [], for_others=True)
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
        complain(f"{chosen}: no such demo listing; choose one of {', '.join(known)}")
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

    own = [p for p in packs_of((), for_others=True) if p.is_own]
    if name is None:
        click.echo("\n".join(dict.fromkeys([*everything(help_texts()), *(p.id for p in own)])))
        return
    try:
        click.echo(entry(name, help_texts(), own), nl=False)
    except KeyError:
        complain(f"{name}: nothing has that name; `auditor explain` lists all")
        sys.exit(UNREADABLE)


@main.command()
@click.argument("shell", type=click.Choice(SHELLS))
def completion(shell: str) -> None:
    """Print the completion script for a shell; for bash: eval "$(auditor completion bash)"."""
    from click.shell_completion import get_completion_class

    maker = get_completion_class(shell)
    if maker is None:
        complain(f"{shell}: no completion for this shell")
        sys.exit(UNREADABLE)
    try:
        click.echo(maker(main, {}, "auditor", "_AUDITOR_COMPLETE").source())
    except RuntimeError as error:
        complain(f"completion: {error}")
        sys.exit(UNREADABLE)


cli_sheets.add_to(main)
main.add_command(pack)


def help_texts() -> dict[str, str]:
    """The help text of every command, by its name."""
    out = {}
    for name, command in main.commands.items():
        with click.Context(command, info_name=f"auditor {name}", color=False, terminal_width=90, max_content_width=90) as context:
            out[name] = command.get_help(context)
        if isinstance(command, click.Group):
            for inner, one in command.commands.items():
                with click.Context(one, info_name=f"auditor {name} {inner}", color=False, terminal_width=90, max_content_width=90) as context:
                    out[name] += f"\n\n{one.get_help(context)}"
    return out


def _show(result: "Audit", form: str, first: bool) -> None:
    from importlib import import_module

    if form != "json" and not first:
        click.echo("\n")
    click.echo(import_module(f"auditor.render.{form}").render(result), nl=False)
