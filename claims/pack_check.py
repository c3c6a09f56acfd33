"""The full check of a pack: every fault with its file, line and key, and every oddity of its tables.

It runs over a pack's own files (`claims/pack_files.py`); a pack with an error is not used.
"""

import dataclasses
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from claims.claim import compact
from claims.number_runs import Run, keys_of, oddities, runs
from claims.pack import BadPack, Pack, Row, compiled, read_pack
from claims.pack_examples import check_examples
from claims.pack_extension import extended
from claims.pack_files import PACK_FILE, REMARK, PackFiles, Placed, read_files
from claims.period import period

LARGEST_PATTERN, MOST_SCHEMES = 2_000, 300
"""Instructions of a compiled pattern; forms of number in a pack."""
MOST_AT_ONCE = 500
"""Rows of a table that may hold one number."""
OWN_ID = {"source": "source_id", "scheme": "scheme", "part": "part", "feature": "feature", "example": "example"}
POINTS_AT = {
    "variant": {"feature": "feature"}, "feature_span": {"feature": "feature", "scheme": "scheme"}, "block": {"scheme": "scheme"},
    "example": {"scheme": "scheme"},
}  # fmt: skip
"""Keys that name a row of another block."""
NO_SOURCE_NEEDED = ("source", "variant", "example")
FOR_A_RANGE = ("first", "last", "period")
NOT_IN_AN_EXTENSION = ("identity", "identity_source", "slack_years", "period_kind", "season_start", "strength", "production", "forms", "vehicle")
"""Head keys that stay those of the shipped pack."""


def check_pack(folder: Path, shipped: Sequence[Pack]) -> tuple[Pack | None, PackFiles]:
    """The pack of a folder, joined to the shipped pack that it extends, and its files with every problem; None where it has an error."""
    files = read_files(folder)
    base = _base(files, shipped)
    _check_rows(files, base)
    _check_schemes(files, base)
    _check_tables(files, base)
    if not files.is_readable:
        return None, files
    try:
        own = dataclasses.replace(read_pack(folder), is_own=True)
        pack = extended(base, own) if base else own
        list(_dated(files, pack))
    except (BadPack, ValueError, KeyError, TypeError) as error:
        files.note(PACK_FILE, 0, "", str(error))
        return None, files
    files.joined = pack
    _check_runs(files, pack)
    check_examples(files, pack)
    return (pack if files.is_readable else None), files


def _base(files: PackFiles, shipped: Sequence[Pack]) -> Pack | None:
    name = files.head.get("extends", "")
    base = next((p for p in shipped if p.id == name), None)
    if name and not base:
        files.note_key(("extends",), f"no pack {name!r} ships; `auditor packs` lists them")
    own_id = files.head.get("id", files.folder.name)
    if not name and any(p.id == own_id for p in shipped):
        files.note(PACK_FILE, 0, "", f"a pack {own_id!r} ships already; give this one another name, or write extends = {own_id!r}")
    if base:
        for key in NOT_IN_AN_EXTENSION:
            if key in files.head:
                files.note_key((key,), "stays that of the shipped pack; leave it out of an extension")
    return base


def _known(files: PackFiles, base: Pack | None, block: str) -> set[str]:
    key = OWN_ID[block]
    shipped: dict[str, set[str]] = {}
    if base:
        shipped = {"source": set(base.sources), "scheme": set(base.schemes), "part": set(base.parts), "feature": set(base.features)}
    return {p.row[key] for p in files.blocks.get(block, ())} | shipped.get(block, set())


def _check_rows(files: PackFiles, base: Pack | None) -> None:
    """Ids given twice, keys that point at nothing, rows without a source."""
    sources = _known(files, base, "source")
    default = files.head.get("default_source", "")
    if default and default not in sources:
        files.note_key(("default_source",), f"no [[source]] has the source_id {default!r}")
    for name, placed in files.blocks.items():
        seen: set[str] = set(_shipped_ids(base, name))
        for p in placed:
            own = p.row.get(OWN_ID.get(name, ""), "")
            if own and own in seen:
                files.note(
                    p.file, p.line, OWN_ID[name], f"{own!r} is there already{' in the shipped pack' if own in _shipped_ids(base, name) else ''}"
                )
            seen.add(own)
            for key, aim in POINTS_AT.get(name, {}).items():
                if p.row[key] and p.row[key] not in _known(files, base, aim):
                    files.note(p.file, p.line, key, f"there is no {aim} {p.row[key]!r}")
            if name not in NO_SOURCE_NEEDED:
                _check_source(files, p, sources, default)


def _shipped_ids(base: Pack | None, block: str) -> set[str]:
    owned = {"scheme": "schemes", "part": "parts", "feature": "features"}
    return set(getattr(base, owned[block])) if base and block in owned else set()


def _check_source(files: PackFiles, placed: Placed, sources: set[str], default: str) -> None:
    named = placed.row.get("source_id", "")
    if named and named not in sources:
        files.note(placed.file, placed.line, "source_id", f"no [[source]] has the source_id {named!r}")
    elif not named and not default:
        files.note(placed.file, placed.line, "source_id", "the row has no source, and the pack no default_source")


def _check_schemes(files: PackFiles, base: Pack | None) -> None:
    """Patterns under google-re2 within bounds; groups, tables and columns that a scheme's decoders name."""
    schemes = files.blocks.get("scheme", [])
    if len(schemes) > MOST_SCHEMES:
        files.note(PACK_FILE, schemes[MOST_SCHEMES].line, "scheme", f"more than {MOST_SCHEMES} forms of number")
        return
    for p in schemes:
        name = p.row["scheme"]
        groups: set[str] = set()
        try:
            pattern = compiled(p.row["pattern"], f"scheme {name}")
            groups = set(pattern.groupindex)
            if pattern.programsize > LARGEST_PATTERN:
                files.note(p.file, p.line, f"{name}: pattern", "makes too large a machine; use fewer or shorter counted repeats")
            elif not p.row["written_like"]:
                files.note(p.file, p.line, f"{name}: written_like", "give an example of how such a number is written", REMARK)
            elif not pattern.search(compact(p.row["written_like"])):
                files.note(p.file, p.line, f"{name}: written_like", f"{p.row['written_like']!r} does not fit its own pattern")
        except BadPack as error:
            files.note(p.file, p.line, f"{name}: pattern", str(error).partition(": ")[2] or str(error))
            continue
        for group, how in p.row["decode"].items():
            for fault in _decoder_faults(files, base, group, how, groups):
                files.note(p.file, p.line, f"{name}: decode.{group}", fault)


def _decoder_faults(files: PackFiles, base: Pack | None, group: str, how: dict[str, Any], groups: set[str]) -> Iterator[str]:
    decoder = how["decoder"]
    if group not in groups and decoder != "season":
        yield f"the pattern has no group named {group!r}"
    if decoder == "range" and not how["tables"]:
        yield "a range needs `tables`"
    if decoder == "check" and not (how["over"] and how["weights"] and how["modulus"] > 0 and len(how["alphabet"]) >= how["modulus"]):
        yield "a check needs `over`, `weights`, `modulus` and an `alphabet` of that many letters"
    for other in (*how["over"], *how["keys"]):
        if other not in groups:
            yield f"the pattern has no group named {other!r}"
    wanted: dict[str, tuple[str, ...]] = dict.fromkeys(how["tables"], FOR_A_RANGE)
    if decoder == "lookup" and how["table"]:
        wanted[how["table"]] = (how["by"], how["gives"])
    known = {table: _columns(files, base, table) for table in wanted}
    for table, columns in wanted.items():
        if not known[table]:
            yield f"there is no table {table}.csv"
        yield from (f"{table}.csv has no column {c!r}" for c in columns if known[table] and c not in known[table])
    for column in (*how["keys"], *how["where"]):
        if all(known.values()) and not any(column in columns for columns in known.values()):
            yield f"none of its tables has a column {column!r}"


def _columns(files: PackFiles, base: Pack | None, table: str) -> set[str]:
    found: set[str] = set(files.columns.get(table, ()))
    if base and (base.folder / f"{table}.csv").is_file() and (rows := base.table(table)):
        found |= set(rows[0])
    return found


def _range_tables(files: PackFiles, base: Pack | None) -> dict[str, list[str]]:
    """Dating tables of the folder, by the schemes that use them, with the columns that part their runs."""
    out: dict[str, list[str]] = {}
    decoders = [p.row["decode"] for p in files.blocks.get("scheme", ())] + [s.decode for s in (base.schemes.values() if base else ())]
    for decode_keys in decoders:
        for table, columns in keys_of(decode_keys).items():
            if table in files.tables:
                out.setdefault(table, []).extend(columns)
    return out


def _check_tables(files: PackFiles, base: Pack | None) -> None:
    """Every row of every table: numbers, periods, sources, yes and no; tables that nothing uses."""
    sources, default = _known(files, base, "source"), files.head.get("default_source", "")
    dating = _range_tables(files, base)
    used = {how["table"] for p in files.blocks.get("scheme", ()) for how in p.row["decode"].values()} | {
        (p.row["lag"] or {}).get("table", "") for p in files.blocks.get("scheme", ())
    }
    shipped_tables = {t.stem for t in base.folder.glob("*.csv")} if base else set()
    for name, rows in files.tables.items():
        if name not in dating and name not in used | shipped_tables:
            files.note(f"{name}.csv", 0, "", "no scheme uses this table; its rows are not checked", REMARK)
            continue
        if not rows:
            files.note(f"{name}.csv", 1, "", "has no rows", REMARK)
        for p in rows:
            _check_source(files, p, sources, default)
            if p.row.get("private", "") not in {"", "yes", "no"}:
                files.note(p.file, p.line, "private", "is yes, no or empty")
            if name in dating:
                _check_dating_row(files, p)
        if name in dating and files.is_readable:
            _check_depth(files, name, rows)


def _check_dating_row(files: PackFiles, placed: Placed) -> None:
    row = placed.row
    numbers: dict[str, int] = {}
    for key in ("first", "last", "turn"):
        text = row.get(key, "")
        if text.isascii() and text.isdigit() and len(text) <= 18:
            numbers[key] = int(text)
        elif text or key != "turn":
            files.note(placed.file, placed.line, key, f"{text[:40]!r} is not a whole number; write figures only" if text else "is missing")
    if numbers.get("first", 0) > numbers.get("last", numbers.get("first", 0)):
        files.note(placed.file, placed.line, "last", f"the range runs backwards: {numbers['first']} to {numbers['last']}")
    kind = row.get("period_kind") or files.head.get("period_kind", "")
    try:
        period(row.get("period", ""), kind)
    except ValueError:
        files.note(placed.file, placed.line, "period", f"{row.get('period', '')[:40]!r} is no date; write 1956, 1956-03 or 1956/1958")


def _check_depth(files: PackFiles, name: str, rows: Sequence[Placed]) -> None:
    """No number may stand in very many rows: every one of them would be an answer."""
    steps = sorted(step for p in rows for step in ((int(p.row["first"]), 1), (int(p.row["last"]) + 1, -1)))
    depth = 0
    for number, step in steps:
        depth += step
        if depth > MOST_AT_ONCE:
            files.note(f"{name}.csv", 0, "", f"more than {MOST_AT_ONCE} rows hold the number {number}")
            return


def dated_runs(files: PackFiles, pack: Pack) -> Iterator[Run]:
    """Every run of the folder's own dating tables."""
    for table, rows in _dated(files, pack):
        scheme = next((s for s in pack.schemes.values() if table in keys_of(s.decode)), None)
        yield from runs(table, rows, keys_of(scheme.decode)[table] if scheme else ())


def _dated(files: PackFiles, pack: Pack) -> Iterator[tuple[str, list[tuple[int, Row]]]]:
    known = {t for s in pack.schemes.values() for t in keys_of(s.decode)}
    for table, placed in files.tables.items():
        if table in known:
            scheme = next(s for s in pack.schemes.values() if table in keys_of(s.decode))
            start = int(scheme.decode.get("season", {}).get("start", 0))
            rows = pack.dated(table, start, scheme.period_kind)
            yield table, list(zip((p.line for p in placed), rows[len(rows) - len(placed) :], strict=True))


def _check_runs(files: PackFiles, pack: Pack) -> None:
    for run in dated_runs(files, pack):
        for odd in oddities(run):
            a, b = run.rows[odd.before], run.rows[odd.after]
            of = f" ({run.name})" if run.name else ""
            said = {
                "gap": f"{odd.first} to {odd.last} stand in no row, between {a.period} and {b.period}{of}",
                "overlap": f"{odd.first} to {odd.last} stand in the row of line {run.lines[odd.before]} too ({a.period} and {b.period}){of}: both are answered",
                "backwards": f"{b.period} follows {a.period} though its numbers are higher{of}; a counter that began anew needs a `turn` of 1",
            }
            files.note(f"{run.table}.csv", run.lines[odd.after], odd.kind, said[odd.kind], REMARK)


def program_size(pack: Pack) -> int:
    """Instructions of all patterns of a pack together."""
    return sum(p.programsize for p in pack.patterns.values())
