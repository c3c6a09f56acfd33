"""Rule packs: each loads, its examples decode and fail as they say, and every row of every table decodes to itself."""

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest

from claims.claim import Claim, compact
from claims.decode import decode, describe, months_of
from claims.pack import BadPack, Pack, read_pack, shipped_packs
from claims.pack_rows import STANDINGS, Example
from claims.reading_of_number import Decoding
from extractors import make_document

PACKS = shipped_packs()
EXAMPLES = [(p, e) for p in PACKS for e in p.examples]
TABLES = [
    (p, s.scheme, t) for p in PACKS for s in p.schemes.values() for how in s.decode.values() if how["decoder"] == "range" for t in how["tables"]
]


def number_claim(written: str, part: str, kind: str = "number") -> Claim:
    document = make_document(written)
    return Claim(kind, part, compact(written), "stated", document.quote("text", 0, len(written)))


def decoded(pack: Pack, written: str, part: str, scheme: str = "", models: Sequence[str] = ()) -> list[Decoding]:
    kind = "casting" if scheme and pack.schemes[scheme].earliest else "number"
    return decode(number_claim(written, part, kind), PACKS, [pack.id], models)


@pytest.mark.parametrize(("pack", "example"), EXAMPLES, ids=[f"{p.id}: {e.example}" for p, e in EXAMPLES])
def test_example(pack: Pack, example: Example) -> None:
    found = decoded(pack, example.as_written, example.part, example.scheme, [example.model] if example.model else [])
    if example.expected == "fails":
        found = [d for d in found if d.pack is pack or d.pack is None]
        assert not any(d.readings for d in found), [months_of(d) for d in found]
        if found and example.reason != "no_scheme":
            assert found[0].failure == example.reason
        return
    assert len(found) == 1, f"read by {[d.rule for d in found]}"
    reading = found[0]
    assert months_of(reading) == list(example.months)
    assert not example.scheme or reading.rule == f"{pack.id}/{example.scheme}"
    if example.maker not in {"", "either"}:
        assert {r.maker for r in reading.readings} == {example.maker}
    elif example.maker == "either":
        assert not reading.makers
    if example.groups:
        assert sorted(describe(reading.groups).split()) == sorted(example.groups.split())


@pytest.mark.parametrize("pack", PACKS, ids=[p.id for p in PACKS])
def test_every_pack_has_examples_of_both_kinds_and_sources_for_all_rows(pack: Pack) -> None:
    assert {e.expected for e in pack.examples} == {"decodes", "fails"}
    assert all(s.standing in STANDINGS for s in pack.sources.values())
    rows = [*pack.names, *pack.parts.values(), *pack.schemes.values(), *pack.blocks, *pack.equalities, *pack.features.values(), *pack.spans, *pack.marks,
            *pack.places, *pack.traps, *pack.cautions, *pack.innocents]  # fmt: skip
    assert rows
    for row in rows:
        assert pack.source(row.source_id).title
    for trap in pack.innocents:
        assert trap.findings, f"{trap.explanation} answers no finding"


@pytest.mark.parametrize(("pack", "scheme", "table"), TABLES, ids=[f"{p.id}/{s}/{t}" for p, s, t in TABLES])
def test_every_row_of_a_dating_table_decodes_to_its_own_period(pack: Pack, scheme: str, table: str) -> None:
    form = pack.schemes[scheme]
    how = form.decode["serial"]
    checked = 0
    for row in pack.dated(table, 0, form.period_kind):
        if not all(row.keys[c] in v for c, v in how.get("where", {}).items() if c in row.keys):
            continue
        for serial in {row.first, row.last}:
            number = written(pack, scheme, serial, row.keys)
            if number is None:
                continue
            found = [d for d in decoded(pack, number, form.part, scheme, form.models[:1]) if d.rule.endswith(scheme)]
            assert found, f"{number} is not read"
            spans = found[0].spans
            lagged = bool(form.lag)
            assert lagged or any(s.first <= row.period.span.last and row.period.span.first <= s.last for s in spans), (
                f"{number}: {months_of(found[0])}"
            )
            checked += 1
    assert checked


def written(pack: Pack, scheme: str, serial: int, row: Mapping[str, str]) -> str | None:
    """A number of a scheme with that serial and the row's keys, by its own example of writing; None where it does not fit the form."""
    form = pack.schemes[scheme]
    like = form.written_like
    match = re.search(form.pattern, compact(like))
    assert match, f"{scheme}: written_like does not fit its own pattern"
    figures = str(serial).zfill(match.end("serial") - match.start("serial"))
    groups = {"serial": figures} | {key: value for key in keys(pack, scheme) if (value := row.get(key) or _key_of(pack, scheme, serial, key))}
    if "check" in match.groupdict():
        how = form.decode["check"]
        every = "".join(groups.get(name) or match[name] for name in how["over"])
        groups["check"] = how["alphabet"][sum(int(f) * w for f, w in zip(every, how["weights"], strict=True)) % how["modulus"]]
    number = _replaced(like, {match.span(name): text for name, text in groups.items() if match.start(name) >= 0})
    return number if pack.patterns[scheme].search(compact(number)) else None


def keys(pack: Pack, scheme: str) -> list[str]:
    """The further groups by which a scheme's tables choose their rows."""
    return list(pack.schemes[scheme].decode["serial"].get("keys", ()))


def _replaced(like: str, parts: Mapping[tuple[int, int], str]) -> str:
    """The written form with spans of its compact form replaced; blanks and strokes between its pieces stay."""
    places = [i for i, c in enumerate(like) if compact(c)]
    for (start, end), text in sorted(parts.items(), reverse=True):
        if len(text) == end - start:
            for place, c in zip(places[start:end], text, strict=True):
                like = like[:place] + c + like[place + 1 :]
        else:
            like = like[: places[start]] + text + like[places[end - 1] + 1 :]
    return like


def _key_of(pack: Pack, scheme: str, serial: int, key: str) -> str:
    """The key that the scheme's first table gives a serial, where it has that column."""
    form = pack.schemes[scheme]
    how = form.decode["serial"]
    rows = pack.dated(how["tables"][0], 0, form.period_kind)
    return next(
        (
            r.keys[key]
            for r in rows
            if r.first <= serial <= r.last and r.keys.get(key) and r.keys.get("scheme") in how.get("where", {}).get("scheme", [None])
        ),
        "",
    )


def test_the_triumph_letter_o_is_a_letter_and_the_demo_worlds_is_a_zero() -> None:
    by_id = {p.id: p for p in PACKS}
    assert months_of(decoded(by_id["triumph_twins"], "T110 O15000", "engine")[0]) == ["season 1958"]
    repaired = decoded(by_id["northmark_pattern5"], "QE O9366", "engine")[0]
    assert repaired.number == "QE09366"
    assert "letter O" in repaired.repaired


def test_an_unknown_key_names_file_and_key(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "pack.toml").write_text('title = "Mine"\n[[name]]\ncanonical = "A"\nkind = "maker"\ncolour = "red"\n')
    with pytest.raises(BadPack, match=r"mine/pack.toml \[\[name\]\] 1: unknown key 'colour'"):
        read_pack(folder)


def test_a_pattern_that_is_no_pattern_is_named(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "pack.toml").write_text(
        'title = "Mine"\ndefault_source = "S"\n[[source]]\nsource_id = "S"\ntitle = "a"\nstanding = "published"\n'
        '[[scheme]]\nscheme = "s"\npart = "frame"\npattern = \'(?=look)ahead\'\n'
    )
    pack = read_pack(folder)
    with pytest.raises(BadPack, match="mine: scheme s: pattern"):
        pack.patterns  # noqa: B018
