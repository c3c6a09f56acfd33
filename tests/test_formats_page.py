"""A saved page: which words are its headline, its entries, its text; what stays out."""

import json
from pathlib import Path

import pytest

from extractors import Document, NothingThere
from extractors.intake import documents
from extractors.page.apart import page_of

HEADED = "<html><head><title>{tab}</title>{head}</head><body>{body}</body></html>"


def read(tmp_path: Path, body: str, *, head: str = "", tab: str = "") -> Document:
    path = tmp_path / "page.html"
    path.write_text(HEADED.format(tab=tab, head=head, body=body), encoding="utf-8")
    (found,) = documents(str(path))
    return found


def entries(document: Document) -> dict[str, str]:
    return {f.label: f.text for f in document.fields if f.is_attribute}


def data(thing: object) -> str:
    return f'<script type="application/ld+json">{json.dumps(thing)}</script>'


VEHICLE = {"@type": "Vehicle", "name": "1932 Quillfeather QF-5", "brand": {"@type": "Brand", "name": "Quillfeather"}}


@pytest.mark.parametrize(
    ("body", "text"),
    [
        ("<p>One &amp; two<br>three</p><p>four</p>", "One & two\nthree\n\nfour"),
        ("<div>a\n  b <b>c</b>d</div><div>e</div>", "a b cd\ne"),
        ("a<br><br>b<br>c", "a\n\nb\nc"),
        ("<pre>a  b\n   c\n\nd</pre>", "a  b\n   c\n\nd"),
        ("<ul><li>a<li>b<ul><li>c</ul></ul>", "a\nb\nc"),
        ("<ol><li>1928 carrier<li><p>1930 carrier</p></ol>", "1. 1928 carrier\n2. 1930 carrier"),
        ("<table><tr><td>a<td>b<td>c<tr><td><p>d</p><td>e<td>f</table>", "a | b | c\nd | e | f"),
        ("<table><tr><td>1931<td>left the works</table>", "1931 | left the works"),
        ("<table><tr><th>Remarks<td>first line<br>second line</table>", "Remarks: first line\nsecond line"),
        ("<dl><dt>Remarks<dd>first line<br>second line</dl>", "Remarks: first line\nsecond line"),
        ("<ul><li><span>Year</span><span>1932</span></li><li><b>Make:</b> Quillfeather</li></ul>", "Year: 1932\nMake: Quillfeather"),
        ("33Q&nbsp;09488&#8203;P &lt;tag&gt;", "33Q\xa009488\u200bP <tag>"),
        ("<table><tr><td><a href=1>Home</a><td>Frame 33Q 09488 P.<br>It runs.</table>", "Home: Frame 33Q 09488 P.\nIt runs."),
        ("unclosed <b>bold <p>para <i>x</p></b> y</div></table>", "unclosed bold\n\npara x\n\ny"),
    ],
)
def test_text_keeps_its_lines(tmp_path: Path, body: str, text: str) -> None:
    assert read(tmp_path, body).text == text


@pytest.mark.parametrize(
    "body",
    [
        "<table><tr><th>Year<td>1932<tr><td>Frame no.:<td>33Q 09488 P</table>",
        "<table><tr><th>Year<td>1932<th>Frame no.<td>33Q 09488 P</table>",
        "<table><tr><th>Year<th>Frame no.<tr><td>1932<td>33Q 09488 P</table>",
        "<dl><dt>Year<dd>1932<dt>Frame no.:<dd>33Q 09488 P</dl>",
        "<dl><div><dt>Year</dt><dd>1932</dd></div><div><dt>Frame no.</dt><dd><span>33Q</span> 09488 P</dd></div></dl>",
        "<table><tr><td><p>Year</p><td><p>1932</p><tr><td>Frame no.<td>33Q 09488 P<tr><td>YEAR<td>1932</table>",
    ],
)
def test_short_rows_become_entries_and_leave_the_text(tmp_path: Path, body: str) -> None:
    found = read(tmp_path, body + "<p>It runs.</p>")
    assert entries(found) == {"Year": "1932", "Frame no.": "33Q 09488 P"}
    assert found.text == "It runs."


def test_an_entry_whose_name_is_taken_stays_in_the_text(tmp_path: Path) -> None:
    found = read(tmp_path, "<table><tr><td>Year<td>1932<tr><td>Year<td>1928</table>")
    assert entries(found) == {"Year": "1932"}
    assert found.text == "Year: 1928"


@pytest.mark.parametrize(
    "hidden",
    [
        "<p hidden>{}</p>", "<p style='color:red; display : none'>{}</p>", "<p style=visibility:hidden>{}</p>", "<i aria-hidden=true>{}</i>",
        "<script>{}</script>", "<style>{}</style>", "<template>{}</template>", "<noscript>{}</noscript>", "<!-- {} -->",
        "<select><option>{}</select>",
        "<textarea>{}</textarea>", "<button>{}</button>", "<svg><text>{}</text></svg>", "<iframe>{}</iframe>", "<dialog>{}</dialog>",
        "<p style='font-size:0'>{}</p>", "<nav>{}</nav>", "<footer>{}</footer>", "<aside>{}</aside>", "<div role=navigation>{}</div>",
        "<div class='page-footer'>{}</div>", "<div id=mainMenu>{}</div>", "<ul class=breadcrumbs><li>{}</ul>", "<header>{}</header>",
        "<h2>Similar items</h2><div>{}</div>", "<section><div><h3>You may also like</h3></div><ul><li>{}</ul></section>",
        "<h2>More from this seller</h2><p>{}</p><p>{}</p>", "<div class=cookie-banner><p>{}</p></div>",
        "<div><a href=1>{}</a> <a href=2>Buying</a> <a href=3>Selling</a> <a href=4>Help</a></div>",
    ],
)  # fmt: skip
def test_hidden_and_foreign_parts_stay_out(tmp_path: Path, hidden: str) -> None:
    found = read(tmp_path, "<h1>1932 carrier</h1><p>It runs very well and stops when it is asked to.</p>" + hidden.replace("{}", "OP31-03001"))
    assert found.text == "It runs very well and stops when it is asked to."


def test_what_follows_other_things_comes_back_with_the_next_heading(tmp_path: Path) -> None:
    found = read(tmp_path, "<h1>1932 carrier</h1><h2>Similar items</h2><p>no</p><h2>More information about the vehicle</h2><p>yes</p>")
    assert found.text == "More information about the vehicle\n\nyes"


def test_a_class_never_drops_headline_description_or_half_the_page(tmp_path: Path) -> None:
    body = "<div class='with-sidebar'><div class=related-wrapper><h1>1932 carrier</h1><p>It runs.</p></div></div>"
    assert read(tmp_path, body).text == "It runs."
    assert read(tmp_path, "<div class=sidebar><p>All there is of the listing.</p></div><p>x</p>").text.startswith("All there is")
    body = "<p>Some other words that stand on this page and are many</p><div class=share itemprop=description>It runs.</div>"
    assert read(tmp_path, body).text.endswith("It runs.")


def test_the_main_part_of_a_page_is_read_alone(tmp_path: Path) -> None:
    found = read(tmp_path, "<div>Sign in to your account</div><main><h1>1932 carrier</h1><p>It runs.</p></main><div>© 1998</div>")
    assert (found.title, found.text) == ("1932 carrier", "It runs.")


@pytest.mark.parametrize(
    ("head", "tab", "body", "title"),
    [
        ("", "1932 carrier | Market", "<h1>Market</h1><h1>1932 carrier</h1>", "1932 carrier"),
        ("<meta property=og:site_name content=Market>", "1932 carrier - Market", "<h1>Market</h1><p>x", "1932 carrier"),
        (data(VEHICLE), "Market", "<h1>The Market</h1>", "1932 Quillfeather QF-5"),
        (data(VEHICLE), "Market", "<h1>1932 Quillfeather QF-5, running</h1>", "1932 Quillfeather QF-5, running"),
        ("<meta property=og:title content='1932 carrier'>", "Market", "<p>x", "1932 carrier"),
        ("", "", "<header><h1>Market</h1></header><main><h1>1932   carrier</h1></main>", "1932 carrier"),
        ("", "", "<p>x", ""),
    ],
)
def test_headline(tmp_path: Path, head: str, tab: str, body: str, title: str) -> None:
    assert read(tmp_path, body, head=head, tab=tab).title == title


def test_data_of_the_page_becomes_entries_as_a_form_names_them(tmp_path: Path) -> None:
    said = {
        **VEHICLE, "model": {"@type": "ProductModel", "name": "QF-5"}, "vehicleModelDate": 1932, "productionDate": "1932-01",
        "dateVehicleFirstRegistered": "1946-06-11", "vehicleIdentificationNumber": "33Q 09488 P", "color": "post red",
        "mileageFromOdometer": {"@type": "QuantitativeValue", "value": 4210, "unitCode": "SMI"}, "itemCondition": "https://schema.org/UsedCondition",
        "offers": {"@type": "Offer", "price": "8750", "priceCurrency": "GBP"},
        "additionalProperty": [{"@type": "PropertyValue", "name": "Engine number", "value": "QE 12731"}],
    }  # fmt: skip
    assert entries(read(tmp_path, "<p>x", head=data(said))) == {
        "Make": "Quillfeather", "Model": "QF-5", "Year": "1932", "Year built": "1932-01", "First registered": "1946-06-11", "VIN": "33Q 09488 P",
        "Colour": "post red", "Mileage": "4210 SMI", "Condition": "Used", "Price": "8750 GBP", "Engine number": "QE 12731",
    }  # fmt: skip


def test_microdata(tmp_path: Path) -> None:
    body = """<div itemscope itemtype="http://schema.org/Product"><h1 itemprop=name>1932 carrier</h1>
    <span itemprop=brand itemscope itemtype="http://schema.org/Brand"><meta itemprop=name content="Quillfeather"></span>
    <link itemprop=itemCondition href="https://schema.org/UsedCondition"><p itemprop=description>It runs.</p>
    <time itemprop=productionDate datetime=1932-01>some winter</time>
    <div itemprop=isRelatedTo itemscope itemtype="http://schema.org/Product"><meta itemprop=model content="OP-5"></div></div>"""
    found = read(tmp_path, body)
    assert entries(found) == {"Make": "Quillfeather", "Condition": "Used", "Year built": "1932-01"}
    assert found.text == "It runs.\n\nsome winter"


def test_one_fact_told_four_times_is_one_entry(tmp_path: Path) -> None:
    said = {**VEHICLE, "manufacturer": "Quillfeather Motor Works", "vehicleModelDate": "1932"}
    head = data(said) + "<meta property=product:brand content=quillfeather>"
    body = "<table><tr><th>Manufacturer<td>Quillfeather<tr><th>Model year<td>1932</table>"
    body += "<div itemscope itemtype='https://schema.org/Car'><meta itemprop=brand content=Quillfeather></div>"
    assert entries(read(tmp_path, body, head=head)) == {"Manufacturer": "Quillfeather", "Model year": "1932"}


def test_facts_that_differ_are_all_kept(tmp_path: Path) -> None:
    head = data({**VEHICLE, "vehicleModelDate": ["1931", "1928"]})
    assert entries(read(tmp_path, "<table><tr><th>Year<td>1932</table>", head=head)) == {
        "Year": "1932", "Model year": "1931", "Vehicle year": "1928", "Make": "Quillfeather",
    }  # fmt: skip


def test_of_several_things_the_headline_names_the_one(tmp_path: Path) -> None:
    others = [{"@type": "Vehicle", "name": f"193{n} OP-5", "brand": "Ostrander & Pike"} for n in range(3)]
    assert entries(read(tmp_path, "<h1>1932 Quillfeather QF-5</h1>", head=data([*others, VEHICLE]))) == {"Make": "Quillfeather"}
    assert entries(read(tmp_path, "<h1>Something else</h1><p>x", head=data(others))) == {}
    listed = {"@type": "ItemList", "itemListElement": others}
    assert entries(read(tmp_path, "<p>x", head=data({"@graph": [listed, VEHICLE]}))) == {"Make": "Quillfeather"}


def test_a_description_adds_only_what_the_text_lacks(tmp_path: Path) -> None:
    said = {**VEHICLE, "description": "It runs &amp; stops well.<br>The box is dented.<br>Short."}
    assert read(tmp_path, "<p>It runs & stops <b>well</b>.</p>", head=data(said)).text == "It runs & stops well.\n\nThe box is dented.\nShort."
    assert read(tmp_path, "", head=data({**VEHICLE, "description": "One\n<b>two</b>"})).text == "One\ntwo"
    assert read(tmp_path, "", head=data({**VEHICLE, "description": "Frame 33Q 09488 P"})).text == "Frame 33Q 09488 P"
    teaser = "<meta property=og:description content='Find carriers near you'>"
    assert read(tmp_path, "<p>It runs.</p>", head=teaser).text == "It runs."


@pytest.mark.parametrize(
    "broken",
    ["{", '{"@type": "Vehicle", "name": ', "[" * 99_000, '"text"', "null", '{"@type": 5, "brand": [[[[1]]]]}', '{"a": 1' + "0" * 5000 + "}"],
)
def test_broken_data_is_passed_over(tmp_path: Path, broken: str) -> None:
    found = read(tmp_path, "<p>It runs.</p>", head=f'<script type="application/ld+json">{broken}</script>')
    assert (found.text, entries(found)) == ("It runs.", {})


@pytest.mark.parametrize(
    ("declared", "encoding"),
    [
        ("utf-8", "utf-8"), ("utf-8", "cp1252"), ("iso-8859-1", "utf-8"), ("iso-8859-1", "cp1252"), ("", "cp1252"), ("", "utf-16"),
        ("utf-7", "utf-8"), ("idna", "cp1252"),
    ],
)  # fmt: skip
def test_a_wrong_character_set_does_no_harm(tmp_path: Path, declared: str, encoding: str) -> None:
    path = tmp_path / "page.html"
    meta = f"<meta charset={declared}>" if declared else ""
    path.write_bytes(f"<html>{meta}<p>£8,750 – café</p></html>".encode(encoding))
    assert [d.text for d in documents(str(path))] == ["£8,750 – café"]


def test_a_declared_character_set_is_used(tmp_path: Path) -> None:
    path = tmp_path / "page.html"
    path.write_bytes("<html><meta charset=koi8-r><p>рама</p></html>".encode("koi8-r"))
    assert [d.text for d in documents(str(path))] == ["рама"]


def test_pictures_lie_beside_the_page_or_in_it(tmp_path: Path) -> None:
    (tmp_path / "page_files").mkdir()
    (tmp_path / "page_files" / "a b.gif").write_bytes(b"GIF89a....")
    (tmp_path / "page_files" / "no.gif").write_bytes(b"<html>")
    sources = ["./page_files/a%20b.gif?x=1", "page_files/no.gif", "https://example.org/x.gif", "file:///etc/passwd"]
    sources += ["data:image/gif;base64,R0lGODlhAA", "data:image/gif;base64,%%%"]
    found = read(tmp_path, "<p>x" + "".join(f'<img src="{s}">' for s in sources) + "<img><nav><img src='page_files/menu.gif'></nav>")
    assert [p.name for p in found.photos] == ["a b.gif", "embedded-1.gif"]


def test_a_page_without_words_says_so(tmp_path: Path) -> None:
    with pytest.raises(NothingThere, match="no words in the page"):
        read(tmp_path, "<script>draw()</script>")


def test_a_page_is_known_by_its_opening(tmp_path: Path) -> None:
    path = tmp_path / "saved"
    path.write_text("\ufeff <!-- a --> <!-- b -->\n<!DOCTYPE HTML><p>It runs.")
    assert [d.text for d in documents(str(path))] == ["It runs."]


def test_read_here_and_apart_give_the_same() -> None:
    body = "<h1>1932 carrier</h1><table><tr><td>Year<td>1932</table><p>It runs &amp; stops. 33Q 09488 P “é”</p><img src=a.png>"
    assert page_of("x", body) == page_of("x", body + "<!--" + "x" * 40_000 + "-->")
