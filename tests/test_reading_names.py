"""Makers and models outside every list: told by a form or by a headline's order, and variants behind a model."""

import pytest

from claims.grid import first_token, words
from claims.names_known import maker_of_model, models_of_makers
from claims.pack import shipped_packs
from claims.reader import read_claims
from extractors import make_document

PACKS = shipped_packs()


def names(title: str = "", text: str = "", **form: str) -> list[tuple[str, str, str]]:
    """(kind, field, words) of each maker and model read."""
    document = make_document(text, title=title, attributes=form)
    return [(c.kind, c.quote.field, c.quote.text) for c in read_claims(document, PACKS) if c.kind in {"maker", "model"}]


@pytest.mark.parametrize(
    ("title", "found"),
    [
        ("1958 Hobley Norrland sedan", [("maker", "title", "Hobley"), ("model", "title", "Norrland")]),
        ("2008 hobley X150", [("maker", "title", "hobley"), ("model", "title", "X150")]),
        ("'82 Hobley 175", [("maker", "title", "Hobley"), ("model", "title", "175")]),
        ("1958 Restored Norrland", []),
        ("1958 Horse Trailer", []),
        ("1958 Hobley, runs and drives", []),
        ("Hobley Transit camper", [("maker", "title", "Hobley"), ("model", "title", "Transit")]),
        ("Lovely Mustang convertible", []),
    ],
)
def test_a_maker_between_year_and_model_in_a_headline(title: str, found: list[tuple[str, str, str]]) -> None:
    assert names(title) == found


def test_a_maker_told_once_is_known_in_every_field() -> None:
    assert names("Hobley Norrland 1958", "My hobley runs well. Hobley parts are cheap; hobley is a village too.", Make="Hobley") == [
        ("maker", "title", "Hobley"),
        ("model", "title", "Norrland"),
        ("maker", "attributes.Make", "Hobley"),
        ("maker", "text", "hobley"),
        ("maker", "text", "Hobley"),
    ]


@pytest.mark.parametrize("entry", ["Other", "custom built", "n/a", "Unknown", "xxxx"])
def test_a_form_that_names_no_maker_tells_none(entry: str) -> None:
    assert [n for n in names("1958 sedan", f"A sedan, {entry} or so.", Make=entry) if n[1] == "text"] == []


@pytest.mark.parametrize(
    ("title", "found"),
    [
        ("1978 Winnabago Brave", [("maker", "Winnebago")]),
        ("1999 bayliner 175, trailer included", [("maker", "Bayliner")]),
        ("Fergie, Porshe and Merc spares", [("maker", "Ferguson"), ("maker", "Porsche"), ("maker", "Mercedes-Benz")]),
        ("Selling for Stanley, who is moving to Jordan", []),
        ("Dort steht der Wagen", []),
    ],
)
def test_makers_as_they_are_written(title: str, found: list[tuple[str, str]]) -> None:
    document = make_document(title)
    assert [(c.kind, c.value) for c in read_claims(document, PACKS) if c.kind == "maker"] == found


def test_a_model_whose_maker_a_listing_names_itself_has_none() -> None:
    assert "Mustang" in models_of_makers()[""]
    assert "" not in maker_of_model().values()
    assert not [name for name in models_of_makers()[""] if name.lower() in maker_of_model()]


@pytest.mark.parametrize(
    ("title", "found"),
    [
        ("Selling my Outback", ["Outback"]),
        ("1999 Sierra 1500 SLE", ["Sierra 1500 SLE"]),
        ("F-150 Lariat, runs well", ["F-150 Lariat"]),
        ("2012 Escape XLT", ["Escape XLT"]),
        ("No escape from the focus on detail", []),
        ("Schwalbe KR51/2 zu verkaufen", ["Schwalbe KR51/2"]),
        ("2CV and R5 GT Turbo wanted", ["2CV", "R5 GT Turbo"]),
        ("1966 Galaxie 500, Model T and Mobylette", ["Galaxie 500", "Model T", "Mobylette"]),
    ],
)
def test_models_without_their_maker(title: str, found: list[str]) -> None:
    assert [c.quote.text for c in read_claims(make_document("", title=title), PACKS) if c.kind == "model"] == found


def test_every_listed_model_waits_under_its_first_token() -> None:
    names = [name for listed in models_of_makers().values() for name in listed]
    assert [name for name in names if not name or first_token(name) != next(words(name))] == []
