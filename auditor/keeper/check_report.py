"""What `auditor pack check` prints: problems by file and line, then what the pack covers."""

from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

from auditor.keeper.coverage import tables
from auditor.render.plain import one_line
from claims.pack import Pack
from claims.pack_files import ERROR, PackFiles, Problem

MOST_OF_A_KIND = 5


def report(pack: Pack | None, files: PackFiles, drawn: Path | None) -> str:
    """The report; `drawn` is the file with the picture."""
    errors, remarks = ([p for p in sorted(files.problems) if (p.grade == ERROR) is is_error] for is_error in (True, False))
    lines: list[str] = []
    if errors:
        lines += [f"To be put right before the pack can be used ({len(errors)}):", *_listed(errors), ""]
    if remarks:
        lines += [f"Worth a look ({len(remarks)}):", *_listed(remarks), ""]
    if pack:
        lines += [f"{one_line(pack.family)}: {'can be used' if not remarks else 'can be used as it is'}.", *_covered(pack, files)]
    if drawn:
        lines.append(f"Picture of the number lines: {drawn}")
    return "\n".join(lines) + "\n"


def _listed(problems: Sequence[Problem]) -> Iterator[str]:
    """Every problem, but of the oddities of one table only the first few of a kind."""
    shown: Counter[tuple[str, str]] = Counter()
    for p in problems:
        kind = (p.file, p.key) if p.grade != ERROR else ("", "")
        shown[kind] += 1
        if p.grade == ERROR or shown[kind] <= MOST_OF_A_KIND:
            yield f"  {one_line(str(p))}"
    for (file, key), count in shown.items():
        if file and count > MOST_OF_A_KIND:
            yield f"  {file}: {key}: {count - MOST_OF_A_KIND} more, in the picture"


def _covered(pack: Pack, files: PackFiles) -> Iterator[str]:
    blocks = {name: len(rows) for name, rows in files.blocks.items() if rows}
    yield ""
    yield "Rows of its own: " + (", ".join(f"{count} {name.replace('_', ' ')}" for name, count in sorted(blocks.items())) or "none")
    covered = [t for t in tables(pack) if t.table in files.tables]
    if not covered:
        yield "No dating table yet: `auditor pack table FILE` makes one of a spreadsheet."
        return
    yield ""
    rows = [("table", "rows", "numbers", "years", "sources", "standing")]
    rows += [(t.table, str(t.rows), f"{t.first}–{t.last}", t.years, str(t.sources), t.standings) for t in covered]
    widths = [max(len(r[n]) for r in rows) for n in range(len(rows[0]))]
    for r in rows:
        yield "  " + "  ".join(cell.ljust(width) for cell, width in zip(r, widths, strict=True)).rstrip()
    yield ""
