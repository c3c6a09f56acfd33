"""Listing records: one JSON object, a list of them, or one a line (`.jsonl`).

A record is `{"id", "title", "text", "attributes": {NAME: value}}`; further plain entries become attributes.
"""

import dataclasses
import json
import re
from collections.abc import Iterator
from typing import Any

from extractors.document import Document, make_document
from extractors.errors import BrokenRecord
from extractors.source import Source, decoded

ORDER = 10
DEEPEST = 40
LONGEST_FIGURE = 4000
SEEN = ("seen", "retrieved", "saved", "posted", "listed")
"""Entries that give the day of a record, in this order."""
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}(?!\d)")


def accepts(source: Source) -> bool:
    """By name, or an object that opens the text."""
    return source.suffix in {".json", ".jsonl", ".ndjson"} or (
        source.suffix not in {".txt", ".md"} and source.data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith((b'{"', b"[{", b"{\n"))
    )


def documents(source: Source) -> Iterator[Document]:
    """Every record of the source, in order; raises `BrokenRecord` naming the line."""
    text = decoded(source)
    if source.suffix not in {".jsonl", ".ndjson"}:
        try:
            whole = _parsed(text, source.name)
        except BrokenRecord:
            if source.suffix == ".json" and text.strip().count("\n") == 0:
                raise
        else:
            records = whole if isinstance(whole, list) else [whole]
            for number, one in enumerate(records, 1):
                yield document(one, f"{source.name} record {number}")
            return
    for number, line in enumerate(text.split("\n"), 1):
        if line.strip():
            yield record(line, f"{source.name} line {number}")


def record(line: str | bytes, where: str) -> Document:
    """The document of one JSON line; `where` names it in errors. Raises `BrokenRecord`."""
    if isinstance(line, bytes):
        try:
            line = line.decode("utf-8-sig")
        except UnicodeDecodeError:
            raise BrokenRecord(f"{where}: not UTF-8; save the records as UTF-8") from None
    return document(_parsed(line, where), where)


def document(one: Any, where: str) -> Document:
    """The document of a parsed record; raises `BrokenRecord` where it is none."""
    if not isinstance(one, dict):
        raise BrokenRecord(f'{where}: not a record; expected {{"id", "title", "text", "attributes"}}')
    for name in ("title", "text"):
        if not isinstance(one.get(name, ""), str | None):
            raise BrokenRecord(f"{where}: {name} is not text; expected a string")
    given = one.get("attributes") or {}
    if not isinstance(given, dict):
        raise BrokenRecord(f"{where}: attributes is not an object of names and values")
    extra = {name: value for name, value in one.items() if name not in {"id", "title", "text", "attributes"}}
    attributes = {str(name): _plain(value) for name, value in {**given, **extra}.items()}
    identity = one.get("id")
    found = make_document(
        one.get("text") or "",
        title=one.get("title") or "",
        attributes=attributes,
        id=where.rpartition("/")[2] if identity is None else identity if isinstance(identity, int) else str(identity),
        source=where,
    )
    return dataclasses.replace(found, seen=_seen(attributes))


def _seen(attributes: dict[str, str]) -> str:
    """The day on which a record says that it was seen or posted; empty where none of its entries is one."""
    days = (found[0] for name in SEEN if (found := _DAY.match(attributes.get(name, ""))))
    return next(days, "")


def _plain(value: Any) -> str:
    if value is None or isinstance(value, dict):
        return ""
    if isinstance(value, list):
        return "; ".join(_plain(v) for v in value)
    return str(value)


def _parsed(text: str, where: str) -> Any:
    try:
        return json.loads(text.lstrip("\ufeff"), parse_int=_figure)
    except json.JSONDecodeError as error:
        place = f"column {error.colno}" if "\n" not in text.strip() else f"line {error.lineno} column {error.colno}"
        raise BrokenRecord(f"{where}: broken JSON at {place}: {error.msg}; mend or remove it") from None
    except RecursionError:
        raise BrokenRecord(f"{where}: nested too deep; a record is flat") from None


def _figure(digits: str) -> int | str:
    return int(digits) if len(digits) < LONGEST_FIGURE else digits
