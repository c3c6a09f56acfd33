"""The files of a user's pack: read within bounds, row by row with their lines, every fault noted instead of raised."""

import csv
import io
import re
import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from claims.pack import LIST_MARK, TABLE_NAME, Pack
from claims.pack_model import ALIASES, block_model, head_model
from claims.pack_rows import BLOCKS
from claims.toml_lines import TomlLines

PACK_FILE = "pack.toml"
LARGEST_PACK_FILE, LARGEST_TABLE = 1_000_000, 10_000_000
"""Bytes."""
MOST_ROWS, MOST_FILES, LONGEST_CELL = 50_000, 100, 4_000
MOST_IN_BLOCK = 5_000
ERROR, REMARK = "error", "remark"


@dataclass(frozen=True, order=True)
class Problem:
    """Something wrong (`error`: the pack cannot be used) or odd (`remark`) at a place of a pack."""

    file: str
    line: int
    key: str
    message: str
    grade: str = ERROR

    def __str__(self) -> str:
        place = f"{self.file} line {self.line}" if self.line else self.file
        return f"{place}: {self.key}: {self.message}" if self.key else f"{place}: {self.message}"


@dataclass(frozen=True)
class Placed:
    """A sound row of a block, with where it stands."""

    file: str
    line: int
    row: dict[str, Any]


@dataclass
class PackFiles:
    """A pack's folder as read: its head, the sound rows of its blocks, its tables, and every fault on the way."""

    folder: Path
    head: dict[str, Any] = field(default_factory=dict)
    blocks: dict[str, list[Placed]] = field(default_factory=dict)
    tables: dict[str, list[Placed]] = field(default_factory=dict)
    columns: dict[str, list[str]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    lines: TomlLines = field(default_factory=lambda: TomlLines(""))
    joined: Pack | None = None
    """The pack as far as it could be read, also where its examples fail."""

    @property
    def is_readable(self) -> bool:
        """Whether nothing in it keeps it from being used."""
        return not any(p.grade == ERROR for p in self.problems)

    def note(self, file: str, line: int, key: str, message: str, grade: str = ERROR) -> None:
        """Note a fault."""
        self.problems.append(Problem(file, line, key, message, grade))

    def note_key(self, path: tuple[str | int, ...], message: str, grade: str = ERROR) -> None:
        """Note a fault of a key of `pack.toml`."""
        self.note(PACK_FILE, self.lines.line(path), str(path[-1]), message, grade)


def read_files(folder: Path) -> PackFiles:
    """Everything in a pack's folder."""
    files = PackFiles(folder)
    text = bounded_text(files, PACK_FILE, LARGEST_PACK_FILE)
    if text is not None:
        files.lines = TomlLines(text)
        try:
            _take(files, tomllib.loads(text))
        except tomllib.TOMLDecodeError as error:
            said, _, place = str(error).partition(" (at ")
            line = re.search(r"line (\d+)", place)
            files.note(PACK_FILE, int(line[1]) if line else text.count("\n") + 1, "", f"is no TOML: {said[:1].lower()}{said[1:]}")
        except RecursionError:
            files.note(PACK_FILE, 0, "", "lists inside lists, too deep")
    _read_tables(files)
    return files


def bounded_text(files: PackFiles, name: str, largest: int) -> str | None:
    """A file's text; None (and a fault) for one that lies elsewhere, is too large or is no UTF-8."""
    path = files.folder / name
    try:
        if not path.resolve().is_relative_to(files.folder.resolve()):
            files.note(name, 0, "", "lies outside the pack's folder")
        elif not path.is_file():
            files.note(name, 0, "", "is missing")
        elif path.stat().st_size > largest:
            files.note(name, 0, "", f"is larger than {largest // 1_000_000} MB; a pack is data that somebody has read")
        else:
            return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        files.note(name, path.read_bytes()[: error.start].count(b"\n") + 1, "", "is not UTF-8; save it as UTF-8")
    except OSError as error:
        files.note(name, 0, "", f"cannot be read: {error.strerror}")
    return None


def _take(files: PackFiles, data: dict[str, Any]) -> None:
    blocks = {name: data.pop(name) for name in BLOCKS if name in data}
    try:
        head_model().model_validate(data)
    except ValidationError as error:
        for path, message in faults(error):
            files.note_key(path, message)
    files.head = data
    for name, rows in blocks.items():
        if not isinstance(rows, list) or not all(isinstance(r, dict) for r in rows):
            files.note_key((name,), f"is not written as [[{name}]]")
            continue
        if len(rows) > MOST_IN_BLOCK:
            files.note_key((name, MOST_IN_BLOCK), f"more than {MOST_IN_BLOCK} rows")
            continue
        for n, row in enumerate(rows):
            _take_row(files, name, row, PACK_FILE, files.lines.line((name, n)), (name, n))


def _take_row(files: PackFiles, name: str, row: dict[str, Any], file: str, line: int, path: tuple[str | int, ...] = ()) -> None:
    """Keep a sound row of a block; note every fault of an unsound one. Rows of a CSV have no path."""
    model = block_model(name)
    if not path:
        lists = {ALIASES.get(k, k) for k, info in model.model_fields.items() if info.annotation is not str and "list" in str(info.annotation)}
        row = {k: [p.strip() for p in v.split(LIST_MARK)] if k in lists else v for k, v in row.items() if v != ""}
    if long := next((k for k, v in row.items() if isinstance(v, str) and len(v) > LONGEST_CELL), ""):
        files.note(file, files.lines.line((*path, long)) if path else line, long, f"longer than {LONGEST_CELL} characters")
        return
    try:
        made = model.model_validate(row)
    except ValidationError as error:
        for inner, message in faults(error):
            where = files.lines.line((*path, *inner)) if path else line
            files.note(file, where, ".".join(str(p) for p in inner), message)
        return
    files.blocks.setdefault(name, []).append(Placed(file, line, made.model_dump()))


def faults(error: ValidationError) -> list[tuple[tuple[str | int, ...], str]]:
    """(path, message in plain words) of every fault that a model found."""
    out = []
    for one in error.errors(include_url=False):
        path = tuple(p for p in one["loc"] if not str(p).startswith("function-"))
        said = {
            "extra_forbidden": "no key of that name",
            "missing": "is missing",
            "literal_error": f"{_short(one['input'])} is none of {one.get('ctx', {}).get('expected', '')}",
        }.get(one["type"], f"{_short(one['input'])}: {one['msg'].lower()}")
        out.append((path, said))
    return out


def _short(value: Any) -> str:
    return repr(value)[:60]


def _read_tables(files: PackFiles) -> None:
    """Every CSV of the folder: those with a block's name as rows of that block, the others as tables."""
    try:
        found = sorted(files.folder.glob("*.csv"))
    except OSError as error:
        files.note(files.folder.name, 0, "", f"cannot be read: {error.strerror}")
        return
    if len(found) > MOST_FILES:
        files.note(files.folder.name, 0, "", f"more than {MOST_FILES} tables")
        return
    for path in found:
        if not TABLE_NAME.fullmatch(path.stem):
            files.note(path.name, 0, "", "a table's name is letters, figures, - and _")
        elif (text := bounded_text(files, path.name, LARGEST_TABLE)) is not None:
            _read_table(files, path.stem, path.name, text)


def _read_table(files: PackFiles, name: str, file: str, text: str) -> None:
    if name in BLOCKS and files.blocks.get(name):
        files.note(file, 0, "", f"[[{name}]] stands in {PACK_FILE} too; keep one of them")
        return
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    try:
        columns = next(reader, [])
        twice = sorted({c for c in columns if columns.count(c) > 1})
        if not columns or twice:
            files.note(file, 1, twice[0] if twice else "", "the column stands there twice" if twice else "is empty")
            return
        files.columns[name] = columns
        rows = files.tables.setdefault(name, []) if name not in BLOCKS else []
        for n, cells in enumerate(reader):
            line = reader.line_num
            if n >= (MOST_IN_BLOCK if name in BLOCKS else MOST_ROWS):
                files.note(file, line, "", f"more than {n} rows")
                return
            if len(cells) != len(columns):
                if cells:
                    files.note(file, line, "", f"{len(cells)} cells under {len(columns)} columns")
                continue
            row = dict(zip(columns, cells, strict=True))
            if name in BLOCKS:
                _take_row(files, name, row, file, line)
            elif max(map(len, cells)) > LONGEST_CELL:
                files.note(file, line, "", f"a cell longer than {LONGEST_CELL} characters")
            else:
                rows.append(Placed(file, line, row))
    except csv.Error as error:
        files.note(file, reader.line_num, "", f"is no CSV: {error}")
