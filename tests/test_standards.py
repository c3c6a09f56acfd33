"""Check values of the public standards, each with its source (facts README, standards)."""

import pytest

from claims.standards import edtf, vin

# 49 CFR 565.15 as collected in facts/README.md; (memory) marks those given from memory there.
CHECKED = {
    "1M8GDM9AXKP042788": "X", "11111111111111111": "1", "1G4AH59H45G118341": "4",  # the last from memory
    "WDBEA30D3HA391172": "3", "1HGCM82633A004352": "3", "5GZCZ43D13S812715": "1",  # the last from memory
}  # fmt: skip


@pytest.mark.parametrize(("number", "digit"), CHECKED.items())
def test_check_digit(number: str, digit: str) -> None:
    assert vin.check_digit(number) == digit
    assert vin.validate(number) == number


def test_the_check_digit_misses_what_it_is_said_to_miss() -> None:
    """39 of 512 single substitutions on 1M8GDM9AXKP042788 (facts README, computed)."""
    number = "1M8GDM9AXKP042788"
    others = [number[:i] + c + number[i + 1 :] for i in range(17) if i != 8 for c in vin.VALUES if c != number[i]]
    missed = sum(vin.check_digit(n) == n[8] for n in others)
    assert (missed, len(others)) == (39, 512)


def test_no_check_digit_is_asked_of_european_numbers() -> None:
    for number, year in (("WVWZZZ1JZWW100013", 1998), ("WV2ZZZ25ZFH102429", 1985)):
        read = vin.decode(number)
        assert not read.check_required
        assert year in read.model_years
        assert vin.validate(number) == number


@pytest.mark.parametrize("number", ["1M8GDM9AXKP04278", "1M8GDM9AXKPO42788", "1M8GDM9A1KP042788", ""])
def test_a_wrong_number_is_refused(number: str) -> None:
    with pytest.raises(ValueError, match=r"characters instead|never used|check digit"):
        vin.validate(number)


def test_transliteration_follows_the_published_table() -> None:
    """49 CFR 565.15: A-H 1-8, J-N 1-5, P 7, R 9, S-Z 2-9."""
    assert [vin.VALUES[c] for c in "AHJNPRSZ09"] == [1, 8, 1, 5, 7, 9, 2, 9, 0, 9]


@pytest.mark.parametrize("text", ["1942-13", "42", "194", "1944/1942", "1942-03-32", "", "1942-5"])
def test_what_is_no_date(text: str) -> None:
    with pytest.raises(ValueError, match=r"not a date|backwards"):
        edtf.decode(text)
