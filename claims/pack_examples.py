"""A pack's own examples as tests: each decodes, or fails, as it says."""

from claims.claim import Claim, compact
from claims.decode import decode, describe, months_of
from claims.pack import Pack
from claims.pack_files import PACK_FILE, REMARK, PackFiles
from claims.pack_rows import Example
from claims.reading_of_number import Decoding
from extractors.document import make_document


def check_examples(files: PackFiles, pack: Pack) -> None:
    """Each example of the folder decodes or fails as it says."""
    placed = files.blocks.get("example", [])
    expected = {p.row["expected"] for p in placed}
    for kind, word in (("decodes", "decodes"), ("fails", "must fail")):
        if kind not in expected:
            files.note(PACK_FILE, 0, "example", f"no [[example]] that {word}: one that you know from a vehicle is the best test of a table", REMARK)
    examples = {e.example: e for e in pack.examples}
    for p in placed:
        if fault := example_fault(pack, examples[p.row["example"]]):
            files.note(p.file, p.line, f"example {p.row['example']}", fault)


def example_fault(pack: Pack, example: Example) -> str:
    """How an example decodes otherwise than it says; empty where it decodes, or fails, as it should."""
    found = decoded(pack, example)
    read = [d for d in found if d.readings]
    said = ", ".join(f"{' or '.join(months_of(d)) or 'no date'} by {d.rule.partition('/')[2]}" for d in read)
    if example.expected == "fails":
        return f"{example.as_written} should fail, but decodes to {said}" if read else ""
    if len(read) != 1:
        why = "; ".join(d.detail for d in found if d.detail)
        return (
            f"{example.as_written} is read {len(read)} times: {said}" if read else f"{example.as_written} does not decode{': ' + why if why else ''}"
        )
    reading = read[0]
    if example.months and months_of(reading) != list(example.months):
        return f"{example.as_written} decodes to {said}, not to {' or '.join(example.months)}"
    if example.scheme and not reading.rule.endswith(f"/{example.scheme}"):
        return f"{example.as_written} is read {said}, not by {example.scheme}"
    if example.groups and sorted(describe(reading.groups).split()) != sorted(example.groups.split()):
        return f"{example.as_written} gives {describe(reading.groups)}, not {example.groups}"
    return ""


def decoded(pack: Pack, example: Example) -> list[Decoding]:
    """How a pack alone, or a public standard, reads an example's number."""
    scheme = pack.schemes.get(example.scheme)
    document = make_document(example.as_written)
    quote = document.quote("text", 0, len(example.as_written))
    part = example.part or (scheme.part if scheme else "unknown")
    claim = Claim("casting" if scheme and scheme.earliest else "number", part, compact(example.as_written), "stated", quote)
    return decode(claim, [pack], [pack.id], [example.model] if example.model else [])
