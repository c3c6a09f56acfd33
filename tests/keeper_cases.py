"""Packs and spreadsheets for the tests of the keeper's bench; everything in them is invented."""

from pathlib import Path

HEAD = """title = "Tollmer tricycles (invented)"
invented = true
default_source = "S1"
[[source]]
source_id = "S1"
title = "Works list, invented"
standing = "invented"
[[name]]
canonical = "Tollmer"
kind = "maker"
[[part]]
part = "frame"
name = "frame"
numbered = "yes"
"""
SCHEME = """[[scheme]]
scheme = "numbers"
part = "frame"
maker = "Tollmer"
pattern = '^TM(?P<serial>\\d{3,5})$'
written_like = "TM 1001"
[scheme.decode.serial]
decoder = "range"
tables = ["numbers"]
"""
EXAMPLES = """[[example]]
example = "known"
as_written = "TM 1200"
expected = "decodes"
part = "frame"
months = ["1931"]
[[example]]
example = "too high"
as_written = "TM 9000"
expected = "fails"
part = "frame"
"""
NUMBERS = "first,last,period,source_id\n1001,1999,1931,S1\n2000,2999,1932,S1\n"


def write_pack(folder: Path, name: str = "tollmer", toml: str = HEAD + SCHEME + EXAMPLES, **tables: str) -> Path:
    """A pack's folder with its files."""
    made = folder / name
    made.mkdir(parents=True)
    (made / "pack.toml").write_text(toml, encoding="utf-8")
    for table, text in ({"numbers": NUMBERS} | tables).items():
        (made / f"{table}.csv").write_text(text, encoding="utf-8")
    return made
