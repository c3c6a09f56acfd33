"""Check values of hull numbers, tyre and component dates, casting letters and marks, each with its source beside it.

"facts" are the project's collected facts; a head or a number "made up" here only carries a sourced tail or form.
"""

import string
from datetime import date
from types import ModuleType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claims.standards import casting_letter, component_date, hull, tyre, uk_mark
from claims.standards.edtf import month_number, month_text

MODULES = (hull, tyre, uk_mark, component_date, casting_letter)
HEAD = "ZZZ00000"  # made up: the sources hide maker and serial of these boats

# number, form, month of certification, model year; facts/standards/hin_examples.csv and facts/hull_numbers_us/forms.csv
HULLS = (
    ("ABC123451272", "straight year", "1972-12", None),  # owner forum relaying the 1972-84 rule
    ("ABC12345M73E", "model year", "1972-12", 1973),  # the same
    (HEAD + "M82H", "model year", "1982-03", 1982),  # sailboatdata forum
    (HEAD + "C585", "current", "1985-03", 1985),  # sailboatdata forum
    (HEAD + "K485", "current", "1984-11", 1985),  # sailboatdata forum
    ("ABC12345L495", "current", "1994-12", 1995),  # macgregorsailors relaying a boat-builder's page
    ("TNRD1234H394", "current", "1993-08", 1994),  # Formula boats FAQ (maker)
    ("BOA13579M84E", "model year", "1983-12", 1984),  # buccaneer18.org on the Coast Guard's guidelines, and two others
    ("BOA13579B607", "current", "2006-02", 2007),  # 33 CFR 181.25, buccaneer18.org
)

# letter: month in the current form, month in the model-year form; facts/standards/hin_month_letters.csv (33 CFR 181.25)
HULL_MONTHS = {
    "A": (1, 8), "B": (2, 9), "C": (3, 10), "D": (4, 11), "E": (5, 12), "F": (6, 1),
    "G": (7, 2), "H": (8, 3), "I": (9, 4), "J": (10, 5), "K": (11, 6), "L": (12, 7),
}  # fmt: skip


@pytest.mark.parametrize(("number", "form", "built", "model_year"), HULLS)
def test_hull_numbers(number: str, form: str, built: str, model_year: int | None) -> None:
    read = hull.decode(number)
    assert (read.form, str(read.built), read.model_year, read.doubt) == (form, built, model_year, "")
    assert hull.validate(number) == number
    assert read.standing == ("published" if form == "current" else "secondary")


@pytest.mark.parametrize(("letter", "months"), HULL_MONTHS.items())
def test_hull_month_letters(letter: str, months: tuple[int, int]) -> None:
    current, by_model_year = hull.decode(f"{HEAD}{letter}000"), hull.decode(f"{HEAD}M80{letter}")
    assert (str(current.built), current.model_year) == (f"2000-{months[0]:02d}", 2000)
    assert str(current.if_from_august) == f"2000-{months[1]:02d}"  # "seven months forward or five back" (facts/hull_numbers_us)
    assert str(by_model_year.built) == f"{1979 if letter in 'ABCDE' else 1980}-{months[1]:02d}"


def test_the_european_form_is_a_country_code_before_the_same_twelve() -> None:
    """ISO 10087 after facts/README.md; the number itself is made up after the impossible example."""
    read = hull.decode("GB-ABC00042-A9-99")
    assert (read.country, read.maker_code, read.serial, str(read.built), read.model_year) == ("GB", "ABC", "00042", "1999-01", 1999)
    assert str(hull.decode("GB-ABC00042-A8-99").built) == "1998-01"


def test_a_hull_number_outside_the_period_of_its_form_is_a_doubt() -> None:
    """Periods 1972-11/1984-07 and 1984-08/.. of facts/hull_numbers_us/forms.csv; numbers made up."""
    assert "before November 1972" in hull.decode("ABC123451072").doubt
    assert hull.decode("ABC123451172").doubt == "" == hull.decode("ABC123450784").doubt
    assert "after July 1984" in hull.decode("ABC123450884").doubt
    assert "after July 1984" in hull.decode("ABC12345M85A").doubt
    assert "before August 1984" in hull.decode("ABC12345G484").doubt
    assert hull.decode("ABC12345H484").doubt == ""


@given(
    st.dates(date(1984, 8, 1), date(2025, 12, 31)),
    st.booleans(),
    st.from_regex("[A-Z]{3}", fullmatch=True),
    st.from_regex("[A-HJ-NPR-Z0-9]{5}", fullmatch=True),
)
def test_a_hull_number_of_the_current_form_is_read_back(built: date, ahead: bool, maker: str, serial: str) -> None:
    model_year = built.year + ahead
    read = hull.decode(f"{maker}{serial}{hull.MONTHS[built.month - 1]}{built.year % 10}{model_year % 100:02d}")
    assert (read.maker_code, read.serial, read.built.first, read.model_year) == (maker, serial, month_number(built.year, built.month), model_year)


# facts/standards/tyre_examples.csv: 49 CFR 574.5; codes and readings from vehicle handbooks
@pytest.mark.parametrize(("code", "reading"), [("0301", "week 3 of 2001"), ("3208", "week 32 of 2008"), ("2501", "week 25 of 2001")])
def test_tyre_dates(code: str, reading: str) -> None:
    assert [str(w) for w in tyre.decode(code).readings] == [reading]


def test_three_figures_on_a_tyre_leave_the_decade_open() -> None:
    """031 is "week 3 of 1981 or 1991" (2006 van handbook), 317 week 31 of 1997 (handbook); 1971 and 1977 since codes began in 1971."""
    assert [str(w) for w in tyre.decode("031").readings] == ["week 3 of 1971", "week 3 of 1981", "week 3 of 1991"]
    assert [str(w) for w in tyre.decode("317").readings] == ["week 31 of 1977", "week 31 of 1987", "week 31 of 1997"]
    assert (tyre.decode("317").is_decade_known, tyre.decode("2501").is_decade_known) == (False, True)


def test_handbooks_differ_on_the_change_to_four_figures() -> None:
    """January or July 2000 (facts/component_stamps/NOTES.md): early 2000 can stand in three figures."""
    assert [w.year for w in tyre.decode("200").readings] == [1980, 1990, 2000]
    assert [w.year for w in tyre.decode("400").readings] == [1980, 1990]


@given(week=st.integers(1, 53), year=st.integers(1971, 2025), head=st.sampled_from(["", "DOT U2LL ", "DOT 4B9X K1W7 "]))
def test_the_true_week_is_among_the_readings_of_a_tyre(week: int, year: int, head: str) -> None:
    figures = f"{week:02d}{year % 100:02d}" if year >= 2000 else f"{week:02d}{year % 10}"
    readings = tyre.decode(head + figures).readings
    assert component_date.Week(year, week) in readings
    if year >= 2000 and not head:
        assert len(readings) == 1


# facts/README.md, "Components": the three worked codes (no publication named there)
@pytest.mark.parametrize(("code", "maker", "week", "year"), [("137634", "137", 34, 6), ("190-7215", "190", 15, 1972), ("606-4-21", "606", 21, 1964)])
def test_source_date_codes(code: str, maker: str, week: int, year: int) -> None:
    read = component_date.decode(code)
    years = [w.year for w in read.readings]
    assert read.maker_code == maker
    assert {w.week for w in read.readings} == {week}
    decades = range(1920 + year % 10, date.today().year + 1, 10)
    assert years == ([year] if len(read.year_figures) == 2 else list(decades))
    assert year == 6 or year in years


def test_two_figures_of_the_year_keep_both_centuries_where_both_are_possible() -> None:
    years = [[w.year for w in component_date.decode(c).readings] for c in ("190-2215", "190-1915")]
    assert years == [[1922, 2022], [2019]]


@given(day=st.dates(date(1920, 1, 14), date(2025, 12, 31)))
def test_a_week_covers_its_day_however_weeks_are_counted(day: date) -> None:
    """By ISO 8601 (Monday, week 1 holds 4 January), by the first full week from Sunday, and counted from 1 January."""
    month = month_number(day.year, day.month)
    iso = day.isocalendar()
    by_sunday = int(day.strftime("%U"))
    for year, week in ((iso.year, iso.week), (day.year, by_sunday), (day.year, (day.timetuple().tm_yday - 1) // 7 + 1)):
        if week:
            span = component_date.Week(year, week).span
            assert span.first <= month <= span.last


def test_casting_letters() -> None:
    """facts/ih_tractors/casting_year_letters.csv (antiquetractorblog.com): A 1931 to Z 1956; good to about 1950."""
    years = {letter: casting_letter.decode(letter).cast.first_year for letter in string.ascii_uppercase}
    assert years == dict(zip(string.ascii_uppercase, range(1931, 1957), strict=True))
    assert [casting_letter.decode(c).standing for c in "AHTUZ"] == ["published"] * 3 + ["secondary"] * 2
    assert casting_letter.validate(" h ") == "H"


# facts/standards/uk_registration_years.csv, all 93 rows: (place, standing): identifier, first and last day
UK_ROWS = {
    ("suffix", "seen conflict"): "A 1963-01-01|1963-02-01 1963-12-31",
    ("suffix", "seen"): "B 1964-01-01 1964-12-31; C 1965-01-01 1965-12-31",
    ("suffix", "by rule seen"): (
        "D 1966-01-01 1966-12-31; G 1968-08-01 1969-07-31; H 1969-08-01 1970-07-31; J 1970-08-01 1971-07-31; K 1971-08-01 1972-07-31; "
        "L 1972-08-01 1973-07-31; M 1973-08-01 1974-07-31; N 1974-08-01 1975-07-31; P 1975-08-01 1976-07-31; R 1976-08-01 1977-07-31; "
        "S 1977-08-01 1978-07-31; T 1978-08-01 1979-07-31; V 1979-08-01 1980-07-31; W 1980-08-01 1981-07-31; X 1981-08-01 1982-07-31; "
        "Y 1982-08-01 1983-07-31"
    ),
    ("suffix", "seen x2"): "E 1967-01-01 1967-07-31; F 1967-08-01 1968-07-31",
    ("prefix", "seen"): (
        "A 1983-08-01 1984-07-31; B 1984-08-01 1985-07-31; C 1985-08-01 1986-07-31; D 1986-08-01 1987-07-31; E 1987-08-01 1988-07-31; "
        "F 1988-08-01 1989-07-31; G 1989-08-01 1990-07-31; H 1990-08-01 1991-07-31; J 1991-08-01 1992-07-31; K 1992-08-01 1993-07-31; "
        "L 1993-08-01 1994-07-31; M 1994-08-01 1995-07-31; N 1995-08-01 1996-07-31; P 1996-08-01 1997-07-31; R 1997-08-01 1998-07-31"
    ),
    ("prefix", "seen x2"): "S 1998-08-01 1999-02-28; T 1999-03-01 1999-08-31",
    ("prefix", "by rule seen"): "V 1999-09-01 2000-02-29; W 2000-03-01 2000-08-31; X 2000-09-01 2001-02-28",
    ("prefix", "seen start"): "Y 2001-03-01 2001-08-31",
    ("age identifier", "rule seen x3"): (
        "51 2001-09-01 2002-02-28; 02 2002-03-01 2002-08-31; 52 2002-09-01 2003-02-28; 03 2003-03-01 2003-08-31; 53 2003-09-01 2004-02-29; "
        "04 2004-03-01 2004-08-31; 54 2004-09-01 2005-02-28; 05 2005-03-01 2005-08-31; 55 2005-09-01 2006-02-28; 06 2006-03-01 2006-08-31; "
        "56 2006-09-01 2007-02-28; 07 2007-03-01 2007-08-31; 57 2007-09-01 2008-02-29; 08 2008-03-01 2008-08-31; 58 2008-09-01 2009-02-28; "
        "09 2009-03-01 2009-08-31; 59 2009-09-01 2010-02-28; 10 2010-03-01 2010-08-31; 60 2010-09-01 2011-02-28; 11 2011-03-01 2011-08-31; "
        "61 2011-09-01 2012-02-29; 12 2012-03-01 2012-08-31; 62 2012-09-01 2013-02-28; 13 2013-03-01 2013-08-31; 63 2013-09-01 2014-02-28; "
        "14 2014-03-01 2014-08-31; 64 2014-09-01 2015-02-28; 15 2015-03-01 2015-08-31; 65 2015-09-01 2016-02-29; 16 2016-03-01 2016-08-31; "
        "66 2016-09-01 2017-02-28; 17 2017-03-01 2017-08-31; 67 2017-09-01 2018-02-28; 18 2018-03-01 2018-08-31; 68 2018-09-01 2019-02-28; "
        "19 2019-03-01 2019-08-31; 69 2019-09-01 2020-02-29; 20 2020-03-01 2020-08-31; 70 2020-09-01 2021-02-28; 21 2021-03-01 2021-08-31; "
        "71 2021-09-01 2022-02-28; 22 2022-03-01 2022-08-31; 72 2022-09-01 2023-02-28; 23 2023-03-01 2023-08-31; 73 2023-09-01 2024-02-29; "
        "24 2024-03-01 2024-08-31; 74 2024-09-01 2025-02-28; 25 2025-03-01 2025-08-31; 75 2025-09-01 2026-02-28; 26 2026-03-01 2026-08-31; "
        "76 2026-09-01 2027-02-28"
    ),
}  # fmt: skip
MADE_UP = {"suffix": "KLM 123{}", "prefix": "{}123 KLM", "age identifier": "KL{} KLM"}


def test_every_collected_year_letter_and_age_identifier() -> None:
    seen = [(place, standing, row.split()) for (place, standing), rows in UK_ROWS.items() for row in rows.split("; ")]
    assert len(seen) == 93
    for place, standing, (identifier, first, last) in seen:
        read = uk_mark.decode(MADE_UP[place].format(identifier))
        assert [month_text(s.first) for s in read.issue] == [day[:7] for day in first.split("|")]
        assert {month_text(s.last) for s in read.issue} == {last[:7]}
        assert (read.identifier, read.is_dated, read.standing) == (identifier, True, "secondary" if "conflict" in standing else "published")
    tables = {"suffix": uk_mark.SUFFIX_LETTERS, "prefix": uk_mark.PREFIX_LETTERS, "age identifier": uk_mark.AGE_IDENTIFIERS}
    assert {(p, row[0], row[2]) for p, table in tables.items() for row in table} == {(p, row[0], standing) for p, standing, row in seen}


@pytest.mark.parametrize(
    ("mark", "form", "issue", "is_dated"),
    [
        ("DE51 ABC", "current", "2001-09/2002-02", True),  # facts/uk_identity_marks/forms.csv (SI 2001/561), as the next five
        ("A123 ABC", "prefix", "1983-08/1984-07", True),
        ("ABC 123A", "suffix", "1963 1963-02/1963-12", True),
        ("1234 AB", "dateless", "../1963-12 1950-01/1969-12", False),
        ("ABC 123", "dateless", "1932-01/1963-12 1932-01/1965-12", False),
        ("ABZ 1234", "Northern Ireland", "1966-01/..", False),
        ("EA 1234", "dateless", "1903-01/1935-12 1903-01/1938-12", False),  # one council to December 1938 (joc.org.uk)
        ("QA 1234", "dateless", "", False),  # made up: no source read tells of such letters
        ("Q123 ABC", "Q", "", False),  # DVLA guidance: age or identity in doubt
        ("QNI 1234", "Q", "", False),  # autokennzeichen.de: the same in Northern Ireland
        ("AXI 2541", "Northern Ireland", "1966-01/..", False),  # facts/ni_ireland_marks/NOTES.md: cannot be dated by its letters
        ("BXI 2590", "Northern Ireland", "1966-01/..", False),
        ("AIW 1", "Northern Ireland", "1966-01/..", False),  # the last county's first, October 1973
        ("1 IA", "Northern Ireland", "1958-01/1973-10", False),  # the first reversed mark, January 1958
        ("IA 1234", "Northern Ireland", "1904-01/1957-12", False),
        ("1234 AIA", "Northern Ireland", "", False),  # SI 2001/561: only there; no dates read
        ("ZV 1234", "Ireland", "1903-01/1986-12", False),  # no northern code (facts/ni_ireland_marks/numbers.csv)
        ("MAN 123H", "Isle of Man", "1974-05/1979-01", True),  # record S29: the letter is a serial, not 1969-70; so the next three
        ("MAN 30N", "Isle of Man", "1974-05/1979-01", True),
        ("R168 MAN", "Isle of Man", "1979-01/1983-05", True),
        ("BMN 66P", "Isle of Man", "1987-08/..", True),
        ("MN 1234", "Isle of Man", "1906-01/1935-03 1971-11/1974-05", False),  # given out twice
        ("12 MN", "Isle of Man", "1959-05/1964-05 1959-05/1964-10", True),  # its two sources differ
    ],
)
def test_forms_of_marks(mark: str, form: str, issue: str, is_dated: bool) -> None:
    read = uk_mark.decode(mark)
    assert (read.form, " ".join(str(s) for s in read.issue), read.is_dated) == (form, issue, is_dated)


def test_series_given_late_to_older_vehicles_say_so() -> None:
    """facts/uk_identity_marks/age_related_series.csv."""
    assert all("age-related" in uk_mark.decode(m).note for m in ("SV 8000", "SV 9999", "DSK 123", "NVS 1"))
    assert not any(uk_mark.decode(m).note for m in ("SV 7999", "SVA 123", "ABC 123"))  # made up


# module, reason of the refusal, texts; made up where no source stands beside them
REFUSED = (
    (hull, "year figure 3 does not go with model year 99", ["GB-ABC00042-A3-99", "GBABC00042A399"]),  # often read as "built 2013" (facts/README.md)
    (hull, "year figure 8 does not go", ["BOA13579B807"]),  # certified a year after its model year
    (hull, "13 characters instead of 12", ["ABC1234512725"]),  # one summary prints a stray last character (facts/hull_numbers_us)
    (hull, "no form of date", ["ABC123451372", "ABC123450072", "ABC12345M73M", "ABC12345N585", "ABC12345C58A"]),  # month letters end with L
    (hull, "in the serial", ["ABC1O345C585", "ABCI2345C585", "ABCQ2345M73E"]),  # 33 CFR 181.25: no I, O, Q
    (hull, "begins with three letters", ["AB112345C585", "ABC1?345C585"]),
    (hull, "still to come", ["ABC12345C575"]),  # model year 75 in a form that began in 1984
    (hull, "year form, which was used", ["ABC123451290", "ABC123450371", "ABC12345M90E", "ABC12345M71A"]),  # November 1972 to July 1984
    (hull, "no country code", ["GBABC123451272", "12ABC12345C585"]),
    (hull, "0 characters", [""]),
    (tyre, "week (54|00)", ["5401", "540", "DOT U2LL LMLR 5401", "0001", "001"]),
    (tyre, "still to come", ["0399"]),
    (tyre, "three or four figures", ["03?1", "03001", "12", "DOT U2LL LMLR", "DOT", "185/70R14", ""]),
    (component_date, "week (54|00)", ["137654", "137600", "1907200"]),
    (component_date, "six or seven figures", ["13763", "13763412", "13763A", "?37634", "١٣٧٦٣٤", ""]),
    (casting_letter, "one letter from A to Z", ["", "1", "AB", "É", "?", "H1", "ſ", "ß"]),
    (uk_mark, "never a year letter", ["KLM 123I", "KLM 123O", "KLM 123Q", "KLM 123U", "KLM 123Z", "I123 KLM", "O123 KLM", "U123 KLM", "Z123 KLM"]),
    (uk_mark, "no age identifier", ["KL01 KLM", "KL50 KLM", "KL77 KLM", "KL00 KLM"]),
    (uk_mark, "never had a year letter", ["AIA 123B", "B123 ABZ"]),  # facts/ni_ireland_marks/NOTES.md
    (uk_mark, "only in Northern Ireland", ["ABC 1234", "1234 ABC"]),  # SI 2001/561
    (uk_mark, "never begin with 0", ["ABC 012", "0 AB"]),
    (uk_mark, "Isle of Man", ["AMN 123", "S123 BMN", "BMN 1234"]),  # record S29: letters and forms never used
    (uk_mark, "no form", ["12 AB 34", "87-D-12345", "ABC 12?", "ABſ 123", "ABC", "12345", ""]),
)


@pytest.mark.parametrize(("module", "reason", "text"), [(module, reason, text) for module, reason, texts in REFUSED for text in texts])
def test_what_is_refused_and_why(module: ModuleType, reason: str, text: str) -> None:
    with pytest.raises(ValueError, match=reason):
        module.validate(text)


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.__name__.rsplit(".", 1)[-1])
@given(
    text=st.one_of(
        st.text(),
        st.text(string.ascii_letters + string.digits + " -./?*", max_size=20),
        st.from_regex(r"[A-Z]{3}[A-Z0-9]{5}([A-M][0-9]{2}[0-9A-M]|[01][0-9]{3})", fullmatch=True),
        st.from_regex(r"(DOT [A-Z0-9]{4,9} ?)?[0-6][0-9]{2,6}", fullmatch=True),
        st.from_regex(r"[A-Z]{0,3} ?[0-9]{1,4} ?[A-Z]{0,3}", fullmatch=True),
    )
)
def test_any_text_is_read_or_refused_in_one_line(module: ModuleType, text: str) -> None:
    compact = module.compact(text)
    assert module.compact(compact) == compact
    refusal = _refusal(module, text)
    if refusal is None:
        assert module.validate(text) == compact == module.validate(compact)
        assert module.decode(text) == module.decode(compact)
    else:
        assert 0 < len(refusal) < 200
        assert "\n" not in refusal
        assert len(compact) < 5 or compact not in refusal  # a refusal never repeats the number
        with pytest.raises(ValueError, match=r"."):
            module.decode(text)


def _refusal(module: ModuleType, text: str) -> str | None:
    try:
        module.validate(text)
    except ValueError as error:
        return str(error)
    return None
