"""A made table put into a pack: its CSV file, and in `pack.toml` the sources, the form of number and two examples."""

import re
import tomllib
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from auditor.keeper.errors import KeeperError, Unsaid
from auditor.keeper.skeleton import toml_text
from auditor.keeper.table import Made, Row, as_csv
from claims.pack import TABLE_NAME
from claims.pack_files import PACK_FILE
from claims.pack_rows import BLOCKS
from claims.period import period
from claims.standards.edtf import month_text

MOST_PREFIXES = 40
SHORTEST_MODEL = 4
"""Letters of a model's name that is a phrase of its own; a shorter one is read beside its maker only."""
SHORT = 6
"""Months up to which examples name single months."""
FROM_ITSELF = "taken from the table itself; put numbers that you know in its place"


def put_into(folder: Path, name: str, made: Made, part: str, standing: str, *, replace: bool) -> list[str]:
    """Write the table; return what was written. Raises `KeeperError`, and `Unsaid` for the part that bears the number."""
    if not TABLE_NAME.fullmatch(name) or name in BLOCKS:
        raise KeeperError(f"{name}: is no name for a table: letters, figures, - and _, and not that of a block")
    path, table = folder / PACK_FILE, folder / f"{name}.csv"
    try:
        text = path.read_text(encoding="utf-8")
        head = tomllib.loads(text)
    except OSError as error:
        raise KeeperError(f"{path}: {error.strerror}; auditor pack new makes a pack") from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise KeeperError(f"{path}: {error}") from None
    if table.exists() and not replace:
        raise KeeperError(f"{table}: is there already; --replace writes it anew, --table NAME another one")
    source_ids = _source_ids(made.rows, head)
    known = [s.get("source_id") for s in head.get("source", ())]
    added = [_source_block(i, words, standing) for words, i in source_ids.items() if i not in known]
    uses = any(name in how.get("tables", ()) for s in head.get("scheme", ()) for how in s.get("decode", {}).values())
    written = [f"{table.name}: {len(made.rows)} rows"]
    if not uses:
        bearing = part or _only_part(head)
        added += _scheme_blocks(name, bearing, _maker(head), made, head)
        written.append(f"{PACK_FILE}: its form of number, with examples from the table")
    if added:
        path.write_text(text.rstrip("\n") + "\n\n" + "\n".join(added), encoding="utf-8")
    table.write_text(as_csv(made, source_ids), encoding="utf-8")
    return written


def _source_ids(rows: Iterable[Row], head: dict[str, Any]) -> dict[str, str]:
    """Words of the source column to ids: those of the pack where they are one, new ones else."""
    ids = {s.get("source_id", ""): s.get("source_id", "") for s in head.get("source", ())}
    by_title = {s.get("title", ""): s.get("source_id", "") for s in head.get("source", ())}
    out: dict[str, str] = {}
    number = len(ids)
    for words in dict.fromkeys(r.source for r in rows if r.source):
        known = ids.get(words) or by_title.get(words)
        if not known:
            number += 1
            while f"S{number}" in ids:
                number += 1
            known = f"S{number}"
        out[words] = known
    return out


def _source_block(source_id: str, words: str, standing: str) -> str:
    return f"[[source]]\nsource_id = {toml_text(source_id)}\ntitle = {toml_text(_plain(words))}\nstanding = {toml_text(standing)}\n"


def _plain(text: str) -> str:
    return "".join(c for c in text if c.isprintable())


def _only_part(head: dict[str, Any]) -> str:
    parts = [p.get("part", "") for p in head.get("part", ())]
    if len(parts) == 1:
        return str(parts[0])
    raise Unsaid([("part", f"which part bears the number: {', '.join(parts) or 'frame, engine, vehicle, hull …'}?")])


def _maker(head: dict[str, Any]) -> str:
    makers = [n.get("canonical", "") for n in head.get("name", ()) if n.get("kind") == "maker"]
    return str(makers[0]) if len(makers) == 1 else ""


def _scheme_blocks(name: str, part: str, maker: str, made: Made, head: dict[str, Any]) -> list[str]:
    """The form of number that reads the table; one for each model where the table has several, with their names."""
    models = sorted({r.model for r in made.rows})
    if len(models) == 1:
        return _form(name, part, maker, made, head)
    out: list[str] = []
    known = {str(n.get("canonical")) for n in head.get("name", ())}
    shared = any(a.model != b.model and _meet(a, b) for a in made.rows for b in made.rows)
    for n, model in enumerate(models, 1):
        rows = tuple(r for r in made.rows if r.model == model)
        out += _form(f"{name}_{n}", part, maker, Made(rows, ()), head, table=name, model=model, needs_model=shared)
        if model and model not in known:
            kind = "designation" if maker and len(model) < SHORTEST_MODEL else "model"
            out.append(f"[[name]]\ncanonical = {toml_text(_plain(model))}\nkind = {toml_text(kind)}\nmaker = {toml_text(maker)}\n")
    return out


def _meet(a: Row, b: Row) -> bool:
    return a.prefix == b.prefix and (a.first or 0) <= (b.last or 0) and (b.first or 0) <= (a.last or 0)


def _form(
    name: str, part: str, maker: str, made: Made, head: dict[str, Any], *, table: str = "", model: str = "", needs_model: bool = False
) -> list[str]:  # fmt: skip
    if name in [s.get("scheme") for s in head.get("scheme", ())]:
        raise KeeperError(f"the pack has a form of number {name!r} already; say --table with another name, or let that form read {name}.csv")
    pattern, is_keyed, most = _pattern(made)
    row, last = _plain_row(made.rows), max(made.rows, key=lambda r: r.last or 0)
    beyond = (last.last or 0) + 1
    like = _written(row, row.first or 0)
    keys = {
        "scheme": toml_text(name), "part": toml_text(part), "maker": toml_text(maker), "pattern": f"'{pattern}'", "written_like": toml_text(like),
        "models": f"[{toml_text(_plain(model))}]" if model else "", "needs_model": "true" if needs_model and model else "",
    }  # fmt: skip
    how = {
        "decoder": '"range"', "tables": f"[{toml_text(table or name)}]", "keys": '["prefix"]' if is_keyed else "",
        "where": f"{{ model = [{toml_text(_plain(model))}] }}" if model else "",
    }  # fmt: skip
    scheme = f"[[scheme]]\n{_lines(keys)}[scheme.decode.serial]\n{_lines(how)}"
    good = _example(f"{name}: first number of a row", like, part, name, model, _months(row, int(head.get("season_start", 8))))
    bad = _example(f"{name}: above the last number", _written(last, beyond), part, "", model, [])
    return [scheme, good, *([bad] if len(str(beyond)) <= most and not needs_model else [])]


def _plain_row(rows: Sequence[Row]) -> Row:
    """A row in the middle whose first number no other row holds."""
    alone = [r for r in rows if not any(o is not r and o.prefix == r.prefix and (o.first or 0) <= (r.first or 0) <= (o.last or 0) for o in rows)]
    return (alone or list(rows))[len(alone or rows) // 2]


def _pattern(made: Made) -> tuple[str, bool, int]:
    """(pattern, whether the prefix is a key of the table, most figures)."""
    prefixes = sorted({r.prefix for r in made.rows}, key=lambda p: (-len(p), p))
    if len(prefixes) > MOST_PREFIXES:
        raise KeeperError(f"{len(prefixes)} different prefixes; is a column taken for another? Say --first")
    most = max(max(len(str(r.last)), r.figures) for r in made.rows)
    fewest = most if any(r.is_padded for r in made.rows) else min(len(str(r.first)) for r in made.rows)
    figures = rf"\d{{{fewest},{most}}}" if fewest < most else rf"\d{{{most}}}"
    letters = "|".join(map(re.escape, prefixes))
    suffixes = sorted({r.suffix for r in made.rows})
    behind = f"(?:{'|'.join(map(re.escape, suffixes))})" if any(suffixes) else ""
    before = f"(?P<prefix>{letters})" if len(prefixes) > 1 else letters
    return f"^{before}(?P<serial>{figures}){behind}$", len(prefixes) > 1, most


def _lines(keys: dict[str, str]) -> str:
    return "".join(f"{key} = {value}\n" for key, value in keys.items() if value)


def _written(row: Row, serial: int) -> str:
    figures = str(serial).zfill(row.figures if row.is_padded else 0)
    return f"{row.prefix} {figures} {row.suffix}".strip()


def _months(row: Row, season_start: int) -> list[str]:
    """The reading of a row as examples write it: single months of a short span, else the period's own name."""
    found = period(row.period.text, row.period_kind, season_start)
    span = found.span
    return [month_text(m) for m in range(span.first, span.last + 1)] if span.last - span.first < SHORT else [str(found)]


def _example(name: str, written: str, part: str, scheme: str, model: str, months: Sequence[str]) -> str:
    keys = {
        "example": toml_text(name), "as_written": toml_text(written), "expected": '"decodes"' if months else '"fails"', "part": toml_text(part),
        "scheme": toml_text(scheme) if scheme else "", "model": toml_text(_plain(model)) if model else "",
        "months": f"[{', '.join(map(toml_text, months))}]" if months else "", "remark": toml_text(FROM_ITSELF),
    }  # fmt: skip
    return f"[[example]]\n{_lines(keys)}"
