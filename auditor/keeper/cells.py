"""A spreadsheet as rows of text cells: CSV in any usual encoding and separator, plain columns of text, xlsx, xls, ods.

Bounded in bytes, rows and columns; a workbook is looked into before it is unpacked.
"""

import csv
import datetime
import io
import re
import zipfile
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from auditor.keeper.errors import KeeperError, Unsaid

LARGEST_FILE, LARGEST_UNPACKED = 20_000_000, 200_000_000
MOST_ROWS, MOST_COLUMNS = 100_000, 200
WORKBOOKS = {".xlsx", ".xlsm", ".xlsb", ".xls", ".ods"}
SEPARATORS = ";\t|,"
_COLUMN_GAP = re.compile(r"\t| {2,}")


@dataclass(frozen=True)
class Line:
    """A row of a spreadsheet with its number in the file, from 1."""

    number: int
    cells: tuple[str, ...]


def read_lines(path: Path, sheet: str = "") -> list[Line]:
    """The rows of a file that hold anything; raises `KeeperError`, or `Unsaid` where a workbook has several sheets."""
    try:
        size = path.stat().st_size
        if size > LARGEST_FILE:
            raise KeeperError(f"{path.name}: larger than {LARGEST_FILE // 1_000_000} MB; cut it to the table")
        rows = _workbook(path, sheet) if path.suffix.lower() in WORKBOOKS else _text_rows(path.read_bytes(), path.name)
    except OSError as error:
        raise KeeperError(f"{path}: {error.strerror}") from None
    if len(rows) > MOST_ROWS or any(len(r) > MOST_COLUMNS for r in rows):
        raise KeeperError(f"{path.name}: more than {MOST_ROWS} rows or {MOST_COLUMNS} columns; cut it to the table")
    lines = [Line(n, tuple(" ".join(c.split()) for c in row)) for n, row in enumerate(rows, 1)]
    found = [line for line in lines if any(line.cells)]
    if not found:
        raise KeeperError(f"{path.name}: there is nothing in it")
    return found


def _text_rows(data: bytes, name: str) -> list[list[str]]:
    text = decoded(data, name)
    best: tuple[float, list[list[str]]] = (0.0, [])
    for separator in SEPARATORS:
        try:
            rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator))
        except csv.Error as error:
            raise KeeperError(f"{name}: {error}") from None
        best = max(best, (_evenness(rows), rows), key=lambda found: found[0])
    lines = text.splitlines()
    by_gaps = [_COLUMN_GAP.split(line.strip()) for line in lines]
    best = max(best, (_evenness(by_gaps) * 0.9, by_gaps), key=lambda found: found[0])
    if not best[0]:
        best = (0.0, [line.split() for line in lines])
    return best[1]


def _evenness(rows: Sequence[Sequence[str]]) -> float:
    """Share of the filled rows that have the commonest number of cells, where that is more than one."""
    counts = Counter(len(r) for r in rows if any(c.strip() for c in r))
    usual, found = max(counts.items(), key=lambda pair: (pair[0] > 1, pair[1]), default=(0, 0))
    return found / counts.total() if usual > 1 else 0.0


def decoded(data: bytes, name: str) -> str:
    """The text of a file: UTF-8, UTF-16, else Windows-1252; raises `KeeperError` for what is no text."""
    for mark, encoding in ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16")):
        if data.startswith(mark):
            return data.decode(encoding, errors="replace")
    if b"\0" in data[:4000]:
        if data[1:2] == b"\0":
            return data.decode("utf-16-le", errors="replace")
        raise KeeperError(f"{name}: is neither text nor a workbook; save it as CSV or xlsx")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def _workbook(path: Path, sheet: str) -> list[list[str]]:
    try:
        import python_calamine
    except ImportError:
        raise KeeperError("workbooks need the extra `keeper`: pip install 'listing-auditor[keeper]', or save the sheet as CSV") from None
    if path.suffix.lower() != ".xls":
        _look_into(path)
    try:
        book = python_calamine.load_workbook(str(path))
        sheets = {name: book.get_sheet_by_name(name).to_python(skip_empty_area=False) for name in book.sheet_names[:MOST_COLUMNS]}
    except (KeyboardInterrupt, SystemExit):
        raise
    except BaseException as error:  # the reader's own panics are no Exception
        raise KeeperError(f"{path.name}: is no workbook that can be read: {error}") from None
    filled = {name: rows for name, rows in sheets.items() if any(c not in ("", None) for r in rows for c in r)}
    if sheet and sheet not in sheets:
        raise KeeperError(f"{path.name}: no sheet {sheet!r}; it has {', '.join(sheets)}")
    if not sheet and len(filled) > 1:
        raise Unsaid([("sheet", f"which sheet: {', '.join(filled)}?")])
    chosen = sheets[sheet] if sheet else next(iter(filled.values()), [])
    return [[_cell(c) for c in row] for row in chosen]


def _look_into(path: Path) -> None:
    try:
        with zipfile.ZipFile(path) as archive:
            if sum(entry.file_size for entry in archive.infolist()) > LARGEST_UNPACKED:
                raise KeeperError(f"{path.name}: unpacks to more than {LARGEST_UNPACKED // 1_000_000} MB; cut it to the table")
    except zipfile.BadZipFile:
        raise KeeperError(f"{path.name}: is no workbook that can be read; save it again as xlsx or CSV") from None


def _cell(value: Any) -> str:
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, datetime.datetime):
        return value.date().isoformat()
    return "" if value is None else str(value)
