"""Dates in running text: what each is said of, in the words of sellers (invented sentences)."""

import pytest

from claims.pack import shipped_packs
from claims.reader import read_claims
from extractors.document import make_document

KINDS = {"year", "built", "registered", "delivered", "restored"}
SAID = [
    ("Built Sept. 1953, delivered new on 5/10/53, first registered 07.10.1953.", ["built vehicle 1953-09", "delivered vehicle 1953-10-05", "registered vehicle 1953-10-07"]),
    ("Probably 68 or 69. Rebuilt engine in '98.", ["year vehicle 1968/1969", "restored engine 1998"]),
    ("Reg'd 1938 according to the buff logbook.", ["registered vehicle 1938"]),
    ("Date of manufacture 03/1967; first road registration April 67.", ["built vehicle 1967-03", "registered vehicle 1967-04"]),
    ("1964½ model, titled as 65", ["year vehicle 1964", "year vehicle 1965"]),
    ("I have owned it for 25 years, it was my dad's from 1971 to 1998, MOT exempt", []),
    ("engine rebuilt in winter 2015/16, new clutch 2019, resprayed over the summer of 2020", ["restored engine 2015/2016", "delivered component 2019", "restored body 2020"]),
    ("It is believed to date from the early 1920s", ["year vehicle 192X"]),
    ("V5 has it down as 1975, but it was built in late 1974", ["year vehicle 1975", "built vehicle 1974"]),
    ("restored by the previous owner (finished 1996) and in a museum until 2012", ["restored vehicle 1996"]),
    ("sold new 1/4/62 by Kings of Oxford. Off the road 1975-2003. Restoration 2003-07.", ["delivered vehicle 1962-04-01", "restored vehicle 2003/2007"]),
    ("chassis replaced 1990 and body re-tubbed 1991; engine is a 1962 unit", ["restored frame 1990", "restored body 1991", "year engine 1962"]),
    ("manufactured between June and August 1942", ["built vehicle 1942-06/1942-08"]),
    ("2 owners, first 1965-1999, then me. Cambelt done 2020. Shown at a rally 2015", []),
    ("model year 1976, produced 11/75, Californian car until 2004", ["year vehicle 1976", "built vehicle 1975-11"]),
    ("Repainted 1972, 1998.", ["restored body 1972", "restored body 1998"]),
    ("MOT until March 2026, taxed to May. 34,000 miles, NCT 10/25", []),
    ("* BOX - planks, new in 2021", ["delivered body 2021"]),
    ("The gearbox is from a car. It was overhauled in 2003.", ["restored gearbox 2003"]),
    ("Bj. 52, Erstzulassung 3.6.1953, restauriert 1999-2001", ["built vehicle 1952", "registered vehicle 1953-06-03", "restored vehicle 1999/2001"]),
    ("Année 1955, première mise en circulation le 12/06/1955, moteur refait en 2010", ["year vehicle 1955", "registered vehicle 1955-06-12", "restored engine 2010"]),
    ("Bouwjaar 1961, eerste toelating 30-06-1961, gerestaureerd in 2008", ["built vehicle 1961", "registered vehicle 1961-06-30", "restored vehicle 2008"]),
    ("Sits on a 1988 S10 frame with a 1974 Chevrolet small block and a 1996 Camaro rear axle.", ["year frame 1988", "year engine 1974", "year axle 1996"]),
    ("this 1957 Corvette", ["year vehicle 1957"]),
    ("Reshelled in 1986. Repowered in 2016 with a Suzuki DF90.", ["restored body 1986", "restored engine 2016"]),
    ("Engine | rebuilt 2008\nMagneto | original, rebuilt in 2009", ["restored engine 2008", "restored component 2009"]),
    ("It has a later engine; my predecessor said he fitted it in 1985.", ["restored engine 1985"]),
    ("A man at the rally said 1928, because of the 28. The frame is June 1937.", ["year vehicle 1928", "year frame 1937-06"]),
    ("The V5C records 1936 as the date of first registration.", ["registered vehicle 1936"]),
    ("Built perhaps in November 1931. Might be a 1932.", ["built vehicle 1931-11?", "year vehicle 1932?"]),
    ("MOTOR\n2004 Yamaha F25, runs", ["year engine 2004"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), SAID)
def test_dates_are_said_of_the_right_thing(text: str, expected: list[str]) -> None:
    claims = read_claims(make_document(text, title="Truck", attributes=[], id="x"), shipped_packs())
    assert [f"{c.kind} {c.part} {c.value}" for c in claims if c.kind in KINDS] == expected
