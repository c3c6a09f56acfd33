"""Decoding with doubt: disputed edges, forms that ask for a model, several vehicles in one advert, slips that are offered."""

import csv
from collections.abc import Sequence
from pathlib import Path

import pytest

from claims.decode import decode, decode_numbers, decoded_claims, months_of
from claims.decoders import OPEN_DECADE
from claims.misreading import CONFUSED, misreadings, slips
from claims.pack import Pack, read_pack
from claims.period import period
from claims.reader import read_claims
from claims.reading_of_number import Decoding, readings_words
from extractors import make_document
from tests.test_packs import PACKS, TABLES, decoded, number_claim, written

BY_ID = {p.id: p for p in PACKS}
SCHEMES = sorted({(p.id, s) for p, s, _ in TABLES})


def readings(text: str) -> list[tuple[str, str, list[str]]]:
    """(rule, number, periods) of every decoding of a listing."""
    found = decode_numbers(read_claims(make_document(text), PACKS), PACKS)
    return [(d.rule, d.claim.value or "", months_of(d)) for d in found]


def raw_rows(pack: Pack, table: str) -> list[dict[str, str]]:
    with (pack.folder / f"{table}.csv").open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


@pytest.mark.parametrize(("pack_id", "scheme"), SCHEMES)
def test_every_edge_answers_with_every_table_that_holds_it(pack_id: str, scheme: str) -> None:
    """At both ends of every row of every table, each row that holds the number (read here anew from the CSV) has a reading that meets it."""
    pack = BY_ID[pack_id]
    form = pack.schemes[scheme]
    how = form.decode["serial"]
    start = int(form.decode.get("season", {}).get("start", 0)) or pack.season_start
    rows = [r for t in how["tables"] for r in raw_rows(pack, t) if all(r[c] in v for c, v in how.get("where", {}).items() if c in r)]
    if form.lag:
        rows = []
    for row in rows:
        for serial in {int(row["first"]), int(row["last"])}:
            number = written(pack, scheme, serial, row)
            found = [d for d in decoded(pack, number, form.part, scheme, form.models[:1]) if d.rule.endswith("/" + scheme)] if number else []
            if not found or found[0].failure or int(found[0].groups["serial"]) != serial:
                continue
            groups = found[0].groups
            holding = [
                r for r in rows
                if int(r["first"]) <= serial <= int(r["last"]) and all(not r.get(k) or r[k] == groups.get(k) for k in how.get("keys", ()))
            ]  # fmt: skip
            for other in holding:
                span = period(other["period"], other.get("period_kind") or form.period_kind or pack.period_kind, start).span
                assert any(s.first <= span.last and span.first <= s.last for s in found[0].spans), f"{number}: {other['period']} is missing"


def test_each_reading_of_several_has_its_reason() -> None:
    for example in (e for p in PACKS for e in p.examples if len(e.months) > 1 and e.scheme):
        pack = next(p for p in PACKS if example in p.examples)
        found = decoded(pack, example.as_written, example.part, example.scheme, [example.model])
        if len(found[0].readings) > 1:
            assert all(r.reason for r in found[0].readings), f"{pack.id}: {example.as_written}"


def test_an_open_decade_is_said_so() -> None:
    found = decoded(BY_ID["british_seagull"], "SJP 1234 AA3", "engine")[0]
    assert {r.reason for r in found.readings} == {OPEN_DECADE}
    assert [r.span.first_year for r in found.readings if r.span] == [1973, 1983, 1993]


def test_a_bare_number_is_read_only_where_its_model_is_named() -> None:
    assert readings("John Deere tractor\n\nSerial number 201000, runs.") == []
    assert readings("John Deere B\n\nSerial number 201000, runs.") == [("john_deere/b_named", "201000", ["model year 1947"])]
    assert readings("John Deere LA\n\nSerial number 5361, runs.") == [("john_deere/la_named", "5361", ["1942"])]


def test_a_designation_names_its_pack_with_the_maker_and_in_its_years() -> None:
    assert readings("Fiat 500, 1958\n\nChassis number 28539.") == [("fiat_500/chassis", "28539", ["1958"])]
    assert readings("2012 Fiat 500\n\nChassis number 28539.") == []
    assert readings("Renault 500\n\nChassis number 28539.") == []
    assert readings("Fiat 500 Giardiniera, 1965\n\nChassis number 123456.") == []


def test_two_tractors_of_one_advert_do_not_read_each_others_numbers() -> None:
    text = "Two tractors\n\n1) 1949 Farmall Cub, serial 57900\n2) 1953 Ferguson TE20, serial 320000"
    assert readings(text) == [("ih_tractors/cub", "57900", ["1949"]), ("ferguson_te20/bare", "320000", ["1953"])]


@pytest.mark.parametrize(
    ("text", "part", "code", "periods"),
    [
        ("Nuffield Universal tractor. 17H9 on the rear axle.", "axle", "17H9", ["1959-08", "1969-08"]),
        ("Nuffield tractor. The gearbox has casting date 17H9.", "gearbox", "17H9", ["1959-08", "1969-08"]),
        ("Farmall Cub\n\n4-17-K on the rear axle.", "axle", "417K", ["1941"]),
    ],
)
def test_casting_codes_are_read_as_castings(text: str, part: str, code: str, periods: list[str]) -> None:
    found = [d for d in decode_numbers(read_claims(make_document(text), PACKS), PACKS) if d.claim.kind == "casting"]
    assert [(d.part, d.claim.value, months_of(d)) for d in found] == [(part, code, periods)]


def test_component_codes_are_the_makes_even_where_a_model_has_a_pack_of_its_own() -> None:
    rules = [r for r, _, _ in readings("Chevrolet Corvette 1965\n\nEngine block casting date F 10 5.")]
    assert rules == ["gm_codes/casting_date"]


def test_a_mark_dates_its_registration_and_never_the_vehicle() -> None:
    document = make_document("Old tractor, 1949\n\nRegistration 12-GBR-3.")
    claims = read_claims(document, PACKS)
    added = decoded_claims(decode_numbers(claims, PACKS))
    assert [(c.kind, c.part, c.value) for c in added] == [("registered", "registration", "2008-05-19/2013-03-05")] or added[0].kind == "registered"
    assert not [c for c in added if c.kind == "built"]


def test_the_way_a_mark_is_written_tells_whose_it_is() -> None:
    def rules(mark: str) -> list[str]:
        return [d.rule for d in decode(number_claim(mark, "registration"), PACKS, [])]

    assert rules("12-AB-34") == ["fr_registration/department_1950", "nl_registration/sidecode_3"]
    assert rules("12 AB 34") == ["fr_registration/department_1950", "gb_military_marks/mark_1949"]
    assert rules("12AB34") == ["gb_military_marks/mark_1949"]
    assert rules("123 AB 45") == ["fr_registration/department_1950"]
    assert rules("KS AB 123") == ["de_registration_papers/place_letters"]


def test_a_number_that_fits_several_families_says_so() -> None:
    claim = number_claim("NC 00100 T120R", "engine")
    both = _two_families()
    found = decode(claim, both, [p.id for p in both])
    assert len(found) == 2
    assert all(d.also_fits for d in found)
    assert "the number also fits: Another family of the same form" in decoded_claims(found)[0].note
    assert readings_words(found[0]).endswith("the number also fits: Another family of the same form")


def _two_families() -> Sequence[Pack]:
    pack = BY_ID["bsa_triumph_lettercode"]
    other = read_pack(pack.folder)
    object.__setattr__(other, "id", "another_family")
    object.__setattr__(other, "family", "Another family of the same form")
    return pack, other


@pytest.mark.parametrize(
    ("pack", "written_as", "part", "offered"),
    [
        ("mgb", "GHNS/275114", "frame", "if the S is a 5: 1971-08/1972-08"),
        ("triumph_twins", "T120 DU 95284", "engine", "if the 9 and the 5 beside it have changed places: season 1967"),
        ("harley_1930_69", "4TEL1234", "engine", "if the T is a 7: model year 1947"),
        ("ferguson_te20", "TED 5176511", "vehicle", "if one 1 is too many: 1956"),
    ],
)
def test_slips_are_offered_by_name(pack: str, written_as: str, part: str, offered: str) -> None:
    found = misreadings(number_claim(written_as, part), PACKS, [pack])
    assert offered in [str(m) for m in found]
    assert not any(d.readings for d in decode(number_claim(written_as, part), PACKS, [pack]))


def test_nothing_is_offered_where_the_number_reads_as_written() -> None:
    assert misreadings(number_claim("T120 DU 44400", "engine"), PACKS, ["triumph_twins"]) == ()
    assert misreadings(number_claim("DU 44??0", "engine"), PACKS, ["triumph_twins"]) == ()


def test_the_confusable_characters_are_those_collected() -> None:
    """facts/standards/confusable_characters.csv: a proposal, not a measurement."""
    assert CONFUSED == ("B8", "CG", "D0OQ", "EF", "IJLT17", "KX", "S5", "UVY", "Z2", "089")
    shares = [share for _, _, share in slips("33144")]
    order = ["60–95 %", "10–20 %", "0.5–1.5 %"]
    assert shares == sorted(shares, key=order.index), "slips come in the order of their shares (facts/standards/error_shares.csv, source B)"


def test_a_slip_is_one_edit() -> None:
    for other, words, _ in slips("DU85904"):
        assert abs(len(other) - 7) <= 1
        assert other != "DU85904"
        assert words


# Forms that the notes of each family name as pre-war, wartime, prototype or of another run: they must not fall into the post-war run.
NOT_IN_THE_RUN = [
    ("norton", "35123", "engine", "NOTES: a pre-war number in the thirties of thousands must not be read as 1951"),
    ("norton", "W 41234", "frame", "NOTES: military 16H, never date by serial between 1939 and 1945"),
    ("norton", "94499", "frame", "NOTES: below 94500 ask for the letter first"),
    ("norton", "79X100", "engine", "NOTES: bore and stroke"),
    ("norton", "16123", "engine", "NOTES: may be a 1916 number with the year in front"),
    ("norton", "20M3 123456", "engine", "NOTES: 20M3 is a type; serials below 325000 have no table"),
    ("bsa_prefix", "101", "engine", "NOTES: the serial restarts at 101 for each prefix and never dates by itself"),
    ("bsa_prefix", "XM 12", "engine", "forms: a serial starts at 101"),
    ("bsa_prefix", "WM20 12345", "engine", "NOTES: WM20 is a model mark stamped anywhere around the number"),
    ("triumph_twins", "12345", "engine", "no letter: a number before the letter series"),
    ("harley_1930_69", "1234", "engine", "before 1930 no year stands in front: NOTES, cannot tell anything before 1930"),
    ("harley_1930_69", "29DL1234", "engine", "NOTES: cannot tell anything before 1930"),
    ("john_deere", "31350", "vehicle", "NOTES: 31321-31412 were Waterloo Boys"),
    ("john_deere", "1234", "vehicle", "NOTES: low numbers occur in B, G, H, LA and R alike"),
    ("kawasaki", "Z1F-91234", "frame", "NOTES: five figures beginning with 9 are prototypes, to 90099"),
    ("packard", "510-100", "vehicle", "NOTES: no year from the number unless the code is known"),
    ("packard", "12345", "engine", "NOTES: before late 1930 about equal to the vehicle number"),
    ("chris_craft_hulls", "54321", "hull", "NOTES: no year from a plain number"),
    ("lister_engines", "12345", "engine", "NOTES: plain numbers before 1952 are not dated"),
    ("lotus_elan_1970_73", "26/4321", "frame", "NOTES: 1962-69 cannot be told by year"),
    ("porsche_911_356", "10499", "frame", "NOTES: 356 numbers after 1952 have no table"),
    ("porsche_911_356", "5123", "frame", "four bare figures with no 356 named"),
    ("jaguar_xk_etype", "671", "frame", "six figures are required"),
    ("land_rover_series", "1234567", "frame", "NOTES: seven figures only where they begin 86"),
    ("british_seagull", "FP 1234 L5", "engine", "NOTES: before 1963 the letter L with a figure is no month code"),
    ("corvette", "001300", "vehicle", "NOTES: the year stands in the number; the range alone dates nothing"),
    ("gmc_chevrolet_trucks", "2537", "vehicle", "NOTES: equal serials exist in different years"),
    ("vespa", "1030", "frame", "four bare figures with no 98 named"),
    ("guzzi_v700", "1967", "frame", "NOTES: four-figure frame numbers look like years and are serials"),
    ("honda_twins", "CB77-1034567", "frame", "NOTES: from 1965 the first figure says nothing"),
    ("fiat_500", "181500", "frame", "NOTES: 181138-182000 were never used"),
    ("ferguson_to", "TE 1234", "vehicle", "NOTES: read the letters TO or TE first"),
    ("petter_m", "45612", "engine", "NOTES: no year by number"),
    ("unimog", "12345", "frame", "NOTES: no serial ranges by year"),
    ("sunfish_sailboat", "499", "hull", "NOTES: no serial before 1955"),
    ("us_farm_engines", "300007", "engine", "NOTES: do not date an E from these"),
]  # fmt: skip


@pytest.mark.parametrize(("pack", "number", "part", "why"), NOT_IN_THE_RUN, ids=[f"{p}: {n}" for p, n, *_ in NOT_IN_THE_RUN])
def test_a_number_of_another_run_is_not_dated_by_this_one(pack: str, number: str, part: str, why: str) -> None:
    found: list[Decoding] = decode(number_claim(number, part), PACKS, [pack])
    assert not [s for d in found if d.pack and d.pack.id == pack for s in d.spans], why


@pytest.mark.parametrize(
    "text",
    [
        "1939 Norton ES2\n\nEngine number 98765, girder forks.",
        "Norton 16H, War Department\n\nEngine number 98765.",
        "1947 Triumph Speed Twin\n\nEngine number 5T 81234.",
        "Land Rover Series III\n\nChassis number 27612345.",
    ],
)
def test_an_older_or_another_run_with_the_same_figures_is_left_undated(text: str) -> None:
    assert [r for r in readings(text) if r[2]] == []


def test_the_same_figures_are_dated_where_nothing_speaks_against_them() -> None:
    assert readings("1962 Norton ES2\n\nEngine number 98765.") == [("norton/bare", "98765", ["season 1961"])]
    assert readings("1956 Triumph Speed Twin\n\nEngine number 5T 81234.") == [("triumph_twins/pre_unit", "5T81234", ["season 1956"])]


def test_a_code_of_several_years_gives_each(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "pack.toml").write_text(
        'title = "Mine"\ndefault_source = "S"\n[[source]]\nsource_id = "S"\ntitle = "a"\nstanding = "published"\n'
        '[[name]]\ncanonical = "Mine"\nkind = "maker"\n[[scheme]]\nscheme = "s"\npart = "engine"\npattern = \'^X(?P<year>[AB])(?P<month>\\d\\d)$\'\n'
        '[scheme.decode.year]\ndecoder = "lookup"\ntable = "letters"\nby = "letter"\ngives = "year"\n[scheme.decode.month]\ndecoder = "month"\n'
    )
    (folder / "letters.csv").write_text("letter,year\nA,1951 | 1962\nB,1953/1955\n")
    pack = read_pack(folder)
    assert months_of(decode(number_claim("XA05", "engine"), [pack], ["mine"])[0]) == ["1951-05", "1962-05"]
    assert months_of(decode(number_claim("XB05", "engine"), [pack], ["mine"])[0]) == ["1953/1955"]
