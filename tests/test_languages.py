"""Listings in other languages: what is read in each, how the languages are told apart, and that a new one is a file only.

The listings are invented; so are their numbers.
"""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from claims import languages as told_apart
from claims import phrase_files, reader
from claims.claim import PARTS, STANCES, Claim
from claims.languages import usual_language
from claims.pack import shipped_packs
from claims.phrase_files import ENGLISH, known_words, languages, tables
from claims.reader import read_claims
from extractors import make_document

OTHERS = [name for name in languages() if name != ENGLISH]
Meaning = tuple[str, str, str | None, str]


def said(text: str, title: str = "", **attributes: str) -> set[Meaning]:
    """(kind, part, value, stance) of every claim read; an attribute's name has `_` for a space."""
    document = make_document(text, title=title, attributes={name.replace("_", " "): value for name, value in attributes.items()})
    return {meaning(c) for c in read_claims(document, shipped_packs())}


def meaning(claim: Claim) -> Meaning:
    return claim.kind, claim.part, claim.value, claim.stance


GERMAN = [
    (
        "Verkaufe meine Horex, Baujahr 1953. Rahmen-Nr. 4532178, Motor-Nr. 3-5332177. Die Maschine wurde 1998 komplett restauriert. TÜV bis 2026.",
        {("built", "vehicle", "1953", "stated"), ("number", "frame", "4532178", "stated"), ("number", "engine", "35332177", "stated"),
         ("restored", "vehicle", "1998", "stated"), ("papers", "vehicle", "inspection", "stated"), ("maker", "vehicle", "Horex", "stated")},
    ),
    (
        "Der Wagen wurde am 3. Mai 1938 zugelassen. Motor 2016 überholt, Getriebe vermutlich noch das erste. AT-Motor, Nummer unleserlich. Ohne Papiere.",
        {("registered", "vehicle", "1938-05-03", "stated"), ("restored", "engine", "2016", "stated"), ("originality", "gearbox", "original", "hedged"),
         ("originality", "engine", "replaced", "stated"), ("number", "engine", None, "stated"), ("papers", "vehicle", "registration", "denied")},
    ),
    (
        "Baujahr laut Brief 1954. Ersatzrahmen, der Tank ist ein Nachbau. Angeblich noch der erste Motor. Fahrzeugbrief von 1961, auf meinen Vater.",
        {("built", "vehicle", "1954", "reported"), ("originality", "frame", "replaced", "stated"), ("originality", "component", "reproduction", "stated"),
         ("originality", "engine", "original", "reported"), ("papers", "vehicle", "registration", "reported")},
    ),
]  # fmt: skip
FRENCH = [
    (
        "Vends Motobécane de 1962, moteur refait en 2015, cadre n° 4412387. Peinture d'origine, dans son jus. Pas de carte grise.",
        {("year", "vehicle", "1962", "stated"), ("restored", "engine", "2015", "stated"), ("number", "frame", "4412387", "stated"),
         ("originality", "body", "original", "stated"), ("originality", "vehicle", "unrestored", "stated"), ("papers", "vehicle", "registration", "denied")},
    ),
    (
        "Voiture mise en circulation le 1er mars 1958. Le moteur serait d'origine selon le vendeur. La boîte a été remplacée, le pont n'est pas refait. Sellerie d'origine.",
        {("registered", "vehicle", "1958-03-01", "stated"), ("originality", "engine", "original", "reported"), ("originality", "gearbox", "replaced", "stated"),
         ("originality", "axle", "rebuilt", "denied")},
    ),
    (
        "Numéros concordants. Livrée neuve à Lyon le 2 mars 1962, restaurée de 2017 à 2020. Carte grise belge, n° B-77121, au nom de ma mère.",
        {("originality", "vehicle", "matching_numbers", "stated"), ("delivered", "vehicle", "1962-03-02", "stated"),
         ("restored", "vehicle", "2017/2020", "stated"), ("papers", "vehicle", "registration", "stated"), ("papers", "vehicle", "registration", "reported")},
    ),
]  # fmt: skip
DUTCH = [
    (
        "Nette auto, bouwjaar 1965. Chassisnummer 115 482 311. Het blok is niet meer het originele, in 1990 vervangen. APK tot mei 2025.",
        {("built", "vehicle", "1965", "stated"), ("number", "frame", "115482311", "stated"), ("originality", "engine", "replaced", "stated"),
         ("restored", "engine", "1990", "stated"), ("papers", "vehicle", "inspection", "stated")},
    ),
    (
        "Zündapp uit 1974, eerste toelating 12 maart 1974, framenummer 5412287. Ongerestaureerd, de tank is namaak. Geen papieren.",
        {("year", "vehicle", "1974", "stated"), ("registered", "vehicle", "1974-03-12", "stated"), ("number", "frame", "5412287", "stated"),
         ("originality", "vehicle", "unrestored", "stated"), ("originality", "component", "reproduction", "stated"),
         ("papers", "vehicle", "registration", "denied")},
    ),
    (
        "Motor in 2015 gereviseerd, vermoedelijk nog de originele achteras. Bouwjaar volgens de papieren 1951. Ploeg van Ransomes kan er bij.",
        {("restored", "engine", "2015", "stated"), ("originality", "axle", "original", "hedged"), ("built", "vehicle", "1951", "reported"),
         ("maker", "vehicle", "Ransomes", "other-item")},
    ),
]  # fmt: skip
ITALIAN = [
    (
        "Vendo Landini anno 1954, conservato, mai restaurato. Numero motore illeggibile. Senza documenti. Fermo dal 1998.",
        {("year", "vehicle", "1954", "stated"), ("originality", "vehicle", "unrestored", "stated"), ("number", "engine", None, "stated"),
         ("papers", "vehicle", "registration", "denied"), ("maker", "vehicle", "Landini", "stated")},
    ),
    (
        "Moto immatricolata nel marzo 1967, telaio n. 241877, vernice originale. Il motore non è quello originale, è stato sostituito nel 1985. Interni originali.",
        {("registered", "vehicle", "1967-03", "stated"), ("number", "frame", "241877", "stated"), ("originality", "body", "original", "stated"),
         ("originality", "engine", "replaced", "stated"), ("restored", "engine", "1985", "stated")},
    ),
    (
        "Motore rifatto nel 2018, carrozzeria riverniciata nel 2015. Secondo il vecchio proprietario il cambio è originale. Libretto intestato a mio nonno.",
        {("restored", "engine", "2018", "stated"), ("restored", "body", "2015", "stated"), ("originality", "gearbox", "original", "reported"),
         ("papers", "vehicle", "registration", "stated"), ("papers", "vehicle", "registration", "reported")},
    ),
]  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), [*GERMAN, *FRENCH, *DUTCH, *ITALIAN])
def test_what_a_listing_says_is_read(text: str, expected: set[Meaning]) -> None:
    found = said(text)
    assert expected <= found, sorted(map(str, expected - found))


@pytest.mark.parametrize(
    ("text", "unsaid"),
    [
        (
            "Das Motorrad ist in meinem Besitz seit 1987 und zum Restaurieren. Originale Farbe.",
            {"year", "built", "restored", "originality", "registered"},
        ),
        (
            "La voiture est dans la famille depuis 1987, à restaurer. Couleur d'origine, sellerie d'origine.",
            {"year", "built", "restored", "originality"},
        ),
        (
            "De auto is in mijn bezit sinds 1987, te restaureren. Originele kleur en het originele boekje.",
            {"year", "built", "restored", "originality"},
        ),
        ("La vettura è in mio possesso dal 1987, da restaurare. Colore originale, interni originali.", {"year", "built", "restored", "originality"}),
    ],
)
def test_false_friends_are_no_claims(text: str, unsaid: set[str]) -> None:
    assert not {kind for kind, *_ in said(text)} & unsaid


@pytest.mark.parametrize(
    "title",
    [
        "Suche Teile für NSU Quickly",
        "Cherche pièces pour Peugeot 203, avec photo",
        "Gezocht: onderdelen voor een Kreidler",
        "Cerco ricambi per Moto Guzzi",
    ],
)
def test_adverts_that_want_something_are_about_another_thing(title: str) -> None:
    makers = [c for c in said("", title) if c[0] == "maker"]
    assert makers
    assert {stance for *_, stance in makers} == {"other-item"}


@pytest.mark.parametrize(
    ("form", "expected"),
    [
        ({"Erstzulassung": "07/1958", "Fahrgestell-Nr.": "8500123", "HU": "neu"},
         {("registered", "vehicle", "1958-07", "stated"), ("number", "frame", "8500123", "stated"), ("papers", "vehicle", "inspection", "stated")}),
        ({"Année": "1978", "Première mise en circulation": "14/06/1978", "Moteur n°": "voir photo", "Carte grise": "normale"},
         {("year", "vehicle", "1978", "stated"), ("registered", "vehicle", "1978-06-14", "stated"), ("number", "engine", None, "stated"),
          ("papers", "vehicle", "registration", "stated")}),
        ({"Merk": "Volvo", "Datum eerste toelating": "30-06-1966", "Motornummer": "onbekend", "Kenteken": "82-14-HS"},
         {("maker", "vehicle", "Volvo", "stated"), ("registered", "vehicle", "1966-06-30", "stated"), ("number", "engine", None, "stated"),
          ("number", "registration", "8214HS", "stated")}),
        ({"Marca": "Landini", "Anno di costruzione": "1954", "Numero di telaio": "su richiesta", "Documenti": "no"},
         {("maker", "vehicle", "Landini", "stated"), ("built", "vehicle", "1954", "stated"), ("number", "frame", None, "stated"),
          ("papers", "vehicle", "registration", "denied")}),
    ],
)  # fmt: skip
def test_forms_are_read_by_their_labels(form: dict[str, str], expected: set[Meaning]) -> None:
    document = make_document("", title="", attributes=form)
    found = {meaning(c) for c in read_claims(document, shipped_packs())}
    assert expected <= found, sorted(map(str, expected - found))


def test_the_language_is_told_by_small_words_and_is_english_in_doubt() -> None:
    assert usual_language(["Verkaufe mein Motorrad mit Papieren, der Motor ist überholt"]) == "de"
    assert usual_language(["Vends moto dans son jus, moteur refait, avec facture pour les pièces"]) == "fr"
    assert usual_language(["Te koop een nette trekker, loopt goed, geen papieren"]) == "nl"
    assert usual_language(["Vendo moto in ottime condizioni, motore rifatto, senza documenti"]) == "it"
    assert usual_language(["OP-5, DU 44400", ""]) == ENGLISH
    assert usual_language(["Carte grise and Fahrzeugbrief come with the car, the engine is original"]) == ENGLISH


def test_each_sentence_is_read_in_its_own_language() -> None:
    found = said("The frame number is 412207 and it was built in 1953. Der Motor wurde 1998 überholt und ist nicht mehr der erste.")
    assert {("number", "frame", "412207", "stated"), ("built", "vehicle", "1953", "stated"), ("restored", "engine", "1998", "stated")} <= found
    assert ("originality", "engine", "replaced", "stated") in found


@pytest.mark.parametrize("language", OTHERS)
def test_the_words_of_a_language_tell_it_from_every_other(language: str) -> None:
    words = known_words(language)
    assert 25 <= len(words) <= 70
    for other in languages():
        assert other == language or not words & known_words(other)


@pytest.mark.parametrize("language", languages())
def test_every_phrase_stands_for_something_that_readers_know(language: str) -> None:
    found = tables(language)
    for cue in found["stance"]["cue"]:
        assert cue["stance"] in {*STANCES, "none"}
        assert cue["direction"] in {"after", "before", "both"}
        assert cue["reach"] in {"phrase", "words", "clause", "sentence", "line", "rest", "advert"}
    for word in found["originality"]["word"]:
        assert word["of"] in {"whole", "part", "either", "listed", *PARTS}
        assert word["say"]
    assert set(found["numbers"]["label"]) | set(found["numbers"]["part"]) <= set(PARTS)
    assert set(found["things"]["part"]) <= {*PARTS, "none"}
    assert set(found["dates"]["event"]) <= {
        "built", "registered", "delivered", "restored", "repainted", "used", "completed", "finished", "dated", "year",
        "rebodied", "re-engined", "rechassised",
    }  # fmt: skip
    assert len(found["dates"]["months"]) == 12
    assert set(found["papers"]) <= {"title", "registration", "factory_record", "manual", "history", "inspection", "holder", "grammar"}
    assert set(found["cautions"]) == set(tables(ENGLISH)["cautions"])


@pytest.mark.parametrize("language", languages())
def test_small_words_are_those_that_english_names_and_readers_use(language: str) -> None:
    code = "".join(p.read_text(encoding="utf-8") for p in Path(reader.__file__).parent.rglob("*.py"))
    for name, table in tables(language).items():
        for key in table.get("grammar", {}):
            assert key in tables(ENGLISH)[name]["grammar"], f"{language}: {name}.grammar.{key}"
            assert f'"{key}"' in code, f"{language}: {name}.grammar.{key}"


SWEDISH = """
[language]
words = ["och", "är", "säljes", "tillverkad", "ramnummer", "renoverad", "inte"]
[numbers]
number_words = ["nummer"]
[numbers.label.frame]
say = ["ramnummer"]
[dates]
months = ["januari", "februari", "mars", "april", "maj", "juni", "juli", "augusti", "september", "oktober", "november", "december"]
[dates.event.built]
say = ["tillverkad"]
[[originality.word]]
value = "restored"
of = "either"
say = ["renoverad"]
[originality.grammar]
copulas = ["är", "inte"]
denied_inside = ["inte"]
[things.part]
engine = ["motor", "motorn"]
[things.field]
registered = ["första registrering"]
"""


@pytest.fixture
def phrases_of(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Callable[..., None]]:
    """Reads with the English phrases and those of files given by name, and with nothing else; forgets them afterwards."""
    shutil.copytree(phrase_files.FOLDER / ENGLISH, tmp_path / ENGLISH)

    def forget() -> None:
        for cached in (phrase_files.languages, phrase_files.tables, phrase_files.known_words, phrase_files.field_names,
                       told_apart.languages_by_word, told_apart.foreign_words, reader.vocabulary):  # fmt: skip
            cached.cache_clear()

    def use(**files: str) -> None:
        for name, text in files.items():
            (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
        forget()

    monkeypatch.setattr(phrase_files, "FOLDER", tmp_path)
    yield use
    monkeypatch.undo()
    forget()


def test_a_new_language_is_a_file_and_no_code(phrases_of: Callable[..., None]) -> None:
    text = "Säljes: Husqvarna tillverkad i maj 1953, ramnummer 412233. Motorn är inte renoverad och går bra."
    expected = {
        ("built", "vehicle", "1953-05", "stated"), ("number", "frame", "412233", "stated"), ("originality", "engine", "restored", "denied"),
        ("registered", "vehicle", "1954", "stated"),
    }  # fmt: skip
    phrases_of()
    assert languages() == (ENGLISH,)
    assert not expected & said(text, Första_registrering="1954")
    phrases_of(sv=SWEDISH)
    assert languages() == (ENGLISH, "sv")
    assert expected <= said(text, Första_registrering="1954")


def test_an_unknown_key_names_file_and_key(phrases_of: Callable[..., None]) -> None:
    phrases_of(sv=SWEDISH + "\n[numbers.lable]\nsay = []\n")
    with pytest.raises(phrase_files.BadPhrases, match=r"phrases/sv/numbers.*'lable'"):
        said("Säljes och är inte renoverad")
