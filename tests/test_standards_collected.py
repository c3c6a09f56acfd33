"""Every row of the collected standards, each table with its source, against the modules that encode it."""

import pytest

from claims.misreading import CONFUSED, COUNT, NEIGHBOURS, OVER_A_THIRD, SINGLE
from claims.standards import component_date, hull, tyre, vin, vin_areas

# facts/standards/vin_transliteration.csv, vin_weights.csv, vin_year_codes.csv: 49 CFR 565.15 (secondary copies that all agree)
TRANSLITERATION = "A1 B2 C3 D4 E5 F6 G7 H8 J1 K2 L3 M4 N5 P7 R9 S2 T3 U4 V5 W6 X7 Y8 Z9 00 11 22 33 44 55 66 77 88 99"
WEIGHTS = "8 7 6 5 4 3 2 10 0 9 8 7 6 5 4 3 2"
YEAR_CODES = (
    "A:1980/2010 B:1981/2011 C:1982/2012 D:1983/2013 E:1984/2014 F:1985/2015 G:1986/2016 H:1987/2017 J:1988/2018 K:1989/2019 L:1990/2020 M:1991/2021 N:1992/2022 P:1993/2023 R:1994/2024 S:"
    "1995/2025 T:1996/2026 V:1997/2027 W:1998/2028 X:1999/2029 Y:2000/2030 1:2001/2031 2:2002/2032 3:2003/2033 4:2004/2034 5:2005/2035 6:2006/2036 7:2007/2037 8:2008/2038 9:2009/2039"
)
# facts/standards/iso3780_areas.csv: ISO 3780, list of 2003; ranges that begin with a figure are from memory
AREAS = (
    "AA-AH=South Africa|AJ-AN=Ivory Coast|BA-BE=Angola|BF-BK=Kenya|BL-BR=Tanzania|CA-CE=Benin|CF-CK=Madagascar|CL-CR=Tunisia|DA-DE=Egypt|"
    "DF-DK=Morocco|DL-DR=Zambia|EA-EE=Ethiopia|EF-EK=Mozambique|FA-FE=Ghana|FF-FK=Nigeria|JA-J0=Japan|KA-KE=Sri Lanka|KF-KK=Israel|"
    "KL-KR=Korea (South)|LA-L0=China|MA-ME=India|MF-MK=Indonesia|ML-MR=Thailand|NF-NK=Pakistan|NL-NR=Turkey|PA-PE=Philippines|"
    "PF-PK=Singapore|PL-PR=Malaysia|RA-RE=United Arab Emirates|RF-RK=Taiwan|RL-RR=Vietnam|SA-SM=United Kingdom|SN-ST=Germany|SU-SZ=Poland|"
    "TA-TH=Switzerland|TJ-TP=Czech Republic|TR-TV=Hungary|TW-T1=Portugal|UH-UM=Denmark|UN-UT=Ireland|UU-UZ=Romania|U5-U7=Slovakia|"
    "VA-VE=Austria|VF-VR=France|VS-VW=Spain|VX-V2=Yugoslavia|V3-V5=Croatia|V6-V0=Estonia|WA-W0=Germany|XA-XE=Bulgaria|XF-XK=Greece|"
    "XL-XR=Netherlands|XX-X2=Luxembourg|X3-X0=Russia|YA-YE=Belgium|YF-YK=Finland|YL-YR=Malta|YS-YW=Sweden|YX-Y2=Norway|Y3-Y5=Belarus|"
    "Y6-Y0=Ukraine|ZA-ZR=Italy|ZX-Z2=Slovenia|1A-10=United States|2A-20=Canada|3A-3W=Mexico|4A-40=United States|5A-50=United States|"
    "6A-6W=Australia|7A-7E=New Zealand|8A-8E=Argentina|8F-8K=Chile|9A-9E=Brazil|93-99=Brazil"
)
# facts/standards/iso3780_regions.csv: ISO 3780; figures from memory
REGIONS = {"AH": "Africa", "JR": "Asia", "SZ": "Europe", "15": "North America", "67": "Oceania", "89": "South America"}
# facts/standards/error_shares.csv, source B (N. Wagner, "The laws of cryptography"), not mixed with source A (Verhoeff 1969 as quoted by a textbook)
SHARES_B = {"single digit": "60–95 %", "adjacent transposition": "10–20 %", "jump transposition": "0.5–1.5 %", "omission or addition": "10–20 %"}
# facts/standards/confusable_characters.csv: a proposal, not a measurement
CONFUSABLE = ("B 8", "C G", "D 0 O Q", "E F", "I J L T 1 7", "K X", "S 5", "U V Y", "Z 2", "0 8 9")


def test_transliteration() -> None:
    assert {row[0]: int(row[1:]) for row in TRANSLITERATION.split()} == vin.VALUES
    assert len(vin.VALUES) == 33


def test_weights() -> None:
    assert tuple(int(w) for w in WEIGHTS.split()) == vin.WEIGHTS


@pytest.mark.parametrize("row", YEAR_CODES.split())
def test_year_codes(row: str) -> None:
    code, _, years = row.partition(":")
    first, second = (int(y) for y in years.split("/"))
    european = vin.decode(f"WVWZZZ1JZ{code}W100013")
    assert european.model_years == (first, second)
    for place_7, year in (("2", first), ("A", second)):
        american = vin.decode(f"1HGCM8{place_7}63{code}A004352")
        assert american.model_years == (year,)


def test_no_other_character_is_a_year_code() -> None:
    assert len(vin.YEAR_CODES) == 30
    assert vin.decode("WVWZZZ1JZ0W100013").model_years == ()


def test_areas() -> None:
    rows = [row.split("=") for row in AREAS.split("|")]
    assert len(rows) == 74
    assert [(code, country) for code, country in rows] == [(code, country) for code, country, _ in vin_areas.areas()]
    for code, country in rows:
        standing = "memory" if code[0].isdigit() else "secondary"
        for end in code.split("-"):
            assert vin_areas.area(end) == (country, standing), code


def test_an_area_stays_between_its_ends() -> None:
    assert vin_areas.area("SM") == ("United Kingdom", "secondary")
    assert vin_areas.area("SN") == ("Germany", "secondary")
    assert vin_areas.area("ZS") == ("", "")


@pytest.mark.parametrize(("ends", "name"), REGIONS.items())
def test_regions(ends: str, name: str) -> None:
    assert {vin_areas.region(c) for c in ends} == {name}
    assert vin_areas.region("0") == ""


# facts/README.md, "Check values": sums recomputed by hand of the rule; 49 CFR 565 (the two marked there are from memory)
@pytest.mark.parametrize(
    ("number", "total", "digit"),
    [
        ("1M8GDM9AXKP042788", 351, "X"), ("11111111111111111", 89, "1"), ("1G4AH59H45G118341", 411, "4"),
        ("WDBEA30D3HA391172", 355, "3"), ("1HGCM82633A004352", 311, "3"), ("5GZCZ43D13S812715", 408, "1"),
    ],
)  # fmt: skip
def test_sums_of_the_check_digit(number: str, total: int, digit: str) -> None:
    assert sum(vin.VALUES[c] * w for c, w in zip(number, vin.WEIGHTS, strict=True)) == total
    assert vin.check_digit(number) == digit


def test_the_check_digit_misses_one_neighbouring_swap_of_thirteen() -> None:
    """facts/README.md, computed on 1M8GDM9AXKP042788."""
    number = "1M8GDM9AXKP042788"
    swaps = [number[:i] + number[i + 1] + number[i] + number[i + 2 :] for i in range(16) if 8 not in (i, i + 1) and number[i] != number[i + 1]]
    assert (sum(vin.check_digit(n) == n[8] for n in swaps), len(swaps)) == (1, 13)


# facts/README.md, component source-date codes
@pytest.mark.parametrize(
    ("code", "maker", "week", "year"), [("137634", "137", 34, "6"), ("190-7215", "190", 15, "1972"), ("606-4-21", "606", 21, "1964")]
)
def test_component_codes(code: str, maker: str, week: int, year: str) -> None:
    read = component_date.decode(code)
    assert read.maker_code == maker
    assert {w.week for w in read.readings} == {week}
    assert any(str(w.year).endswith(year) for w in read.readings)
    assert all(w.year % 10 == int(year[-1]) for w in read.readings)


def test_the_impossible_european_hull_number_is_refused() -> None:
    """facts/README.md: the often-repeated example, which is read as "built 2013, model year 1999" and cannot be."""
    with pytest.raises(ValueError, match="does not go with model year 99"):
        hull.decode("GB-ABC00042-A3-99")


# facts/standards/tyre_examples.csv (49 CFR 574.5, vehicle handbooks)
def test_the_ambiguous_tyre_codes_keep_their_decades() -> None:
    assert {str(w) for w in tyre.decode("031").readings} >= {"week 3 of 1981", "week 3 of 1991"}
    assert "week 31 of 1997" in {str(w) for w in tyre.decode("317").readings}


def test_shares_and_confusable_characters() -> None:
    assert SHARES_B == {
        "single digit": SINGLE,
        "adjacent transposition": NEIGHBOURS,
        "jump transposition": OVER_A_THIRD,
        "omission or addition": COUNT,
    }
    assert tuple(row.replace(" ", "") for row in CONFUSABLE) == CONFUSED
