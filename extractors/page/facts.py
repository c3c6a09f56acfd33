"""What a page's data says of the listing: headline, description, and entries named as a form would show them.

Property names are those of schema.org (Vehicle, Product, Offer); beside them the page's Open Graph (ogp.me).
"""

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from extractors.page import tree
from extractors.page.record import Entry
from extractors.page.things import Said, Thing, linked_data, microdata, within

if TYPE_CHECKING:
    from selectolax.lexbor import LexborHTMLParser

VEHICLES = frozenset({"Vehicle", "Car", "Motorcycle", "MotorizedBicycle", "BusOrCoach", "Boat", "Trailer"})
PRODUCTS = frozenset({"Product", "IndividualProduct", "ProductModel", "SomeProducts"})
OFFERS = frozenset({"Offer", "AggregateOffer", "Demand"})
LABELS: dict[str, str] = {
    "brand": "Make", "manufacturer": "Make", "model": "Model",
    "vehicleModelDate": "Year", "modelDate": "Year",
    "productionDate": "Year built", "dateVehicleFirstRegistered": "First registered",
    "vehicleIdentificationNumber": "VIN", "serialNumber": "Serial number",
    "mileageFromOdometer": "Mileage", "color": "Colour", "vehicleTransmission": "Transmission", "itemCondition": "Condition",
}  # fmt: skip
"""schema.org's property -> the name that a form shows for it."""
ALSO_CALLED: tuple[tuple[str, ...], ...] = (
    ("Make", "Brand", "Maker", "Manufacturer", "Marque", "Vehicle make"),
    ("Model", "Model name", "Vehicle model"),
    ("Year", "Model year", "Vehicle year", "Year of vehicle"),
    ("Year built", "Year of manufacture", "Production date", "Date of manufacture", "Manufactured", "Built", "Build date", "Build year"),
    ("First registered", "First registration", "Date of first registration", "Registration date", "Date first registered"),
    ("VIN", "Vehicle identification number", "VIN number", "VIN no"),
    ("Serial number", "Serial no", "Serial"),
    ("Price", "Asking price"),
    ("Mileage", "Odometer"),
    ("Colour", "Color"),
)
"""Names of one entry in forms; the first is ours, the others are known again so that no fact is given twice."""
LONGEST_VALUE, LONGEST_NAME = 200, 60
_WORD = re.compile(r"[^\W_]+")
SHORTEST_PART = 3


@dataclass(slots=True)
class Facts:
    """Headline, description and entries, each with its place; `site` is the site's own name."""

    name: Entry | None = None
    description: Entry | None = None
    entries: list[Entry] = field(default_factory=list)
    shared_title: str = ""
    shared_description: Entry | None = None
    site: str = ""


def facts(page: "LexborHTMLParser", headlines: list[str]) -> Facts:
    """What the page's data says of its one listing; of several things, the one that a headline names."""
    out = Facts()
    shared = _shared(page)
    out.shared_title, out.site = shared.get("og:title", Entry("", "")).value, shared.get("og:site_name", Entry("", "")).value
    out.shared_description = shared.get("og:description")
    said = [*headlines, out.shared_title]
    for things in (linked_data(page), microdata(page)):
        thing = listed(things, said)
        if thing is not None:
            out.name = out.name or _first("name", thing)
            out.description = out.description or _first("description", thing)
            out.entries += _entries(thing)
    out.entries += [Entry(label, e.value, e.locator) for key, label in (("product:brand", "Make"), ("og:brand", "Make")) if (e := shared.get(key))]
    return out


def listed(things: list[Thing], headlines: list[str]) -> Thing | None:
    """The thing that the page lists: a vehicle before a product; among several the one a headline names, else none."""
    every = list(within(things))
    offered = [s.value for t in every if OFFERS.intersection(t.types) for s in t.said.get("itemOffered", []) if isinstance(s.value, Thing)]
    for wanted in ([t for t in every if VEHICLES.intersection(t.types)], offered, [t for t in every if PRODUCTS.intersection(t.types)]):
        if len(wanted) == 1:
            return _with_offer(wanted[0], every)
        for thing in wanted:
            name = _first("name", thing)
            if name and any(is_same(name.value, h) for h in headlines if h):
                return _with_offer(thing, every)
        if wanted:
            return None
    return None


def merged(shown: list[Entry], said: list[Entry]) -> tuple[list[Entry], list[Entry]]:
    """(the page's entries with those of its data that they lack, what found no free name).

    The same fact under the same or another of its names is given once; a differing value gets another of the names.
    """
    out, left = list(shown), []
    for entry in said:
        names = next((g for g in ALSO_CALLED if entry.name.casefold() in {n.casefold() for n in g}), (entry.name,))
        known = {n.casefold() for n in names}
        if any(is_same(e.value, entry.value) for e in out if e.name.casefold() in known):
            continue
        taken = {e.name.casefold() for e in out}
        free = next((n for n in names if n.casefold() not in taken), "")
        if free:
            out.append(Entry(free, entry.value, entry.locator))
        else:
            left.append(entry)
    return out, left


def is_same(one: str, other: str) -> bool:
    """Whether two values say the same: equal but for signs and case, or one is a run of words of the other.

    >>> is_same("QF-5", "qf5"), is_same("Quillfeather", "Quillfeather Motor Works"), is_same("1931", "1932")
    (True, True, False)
    """
    a, b = ([w.casefold() for w in _WORD.findall(text)] for text in (one, other))
    if "".join(a) == "".join(b):
        return bool(a) or one == other
    short, long = sorted((f" {' '.join(a)} ", f" {' '.join(b)} "), key=len)
    return len(short.strip()) >= SHORTEST_PART and short in long


def _entries(thing: Thing) -> list[Entry]:
    out = [Entry(label, value, place) for name, label in LABELS.items() for value, place in _texts(thing.said.get(name, []))]
    out = [Entry(e.name, e.value.rpartition("/")[2].removesuffix("Condition"), e.locator) if e.name == "Condition" else e for e in out]
    for offer in thing.said.get("offers", []):
        if isinstance(offer.value, Thing) and (price := _first("price", offer.value)):
            currency = _first("priceCurrency", offer.value)
            out.append(Entry("Price", f"{price.value} {currency.value}" if currency else price.value, price.locator))
    for more in thing.said.get("additionalProperty", []):
        if isinstance(more.value, Thing) and (title := _first("name", more.value)) and (said := _first("value", more.value)):
            out.append(Entry(tree.collapsed(title.value).strip(" :"), said.value, said.locator))
    fit = [e for e in out if 0 < len(e.value) <= LONGEST_VALUE and 0 < len(e.name) <= LONGEST_NAME]
    return [Entry(e.name, tree.collapsed(e.value).strip(), e.locator) for e in fit]


def _texts(said: list[Said]) -> list[tuple[str, str]]:
    """Texts of a property, those of things by their name, or value and unit."""
    out: list[tuple[str, str]] = []
    for one in said:
        if isinstance(one.value, str):
            out.append((one.value, one.locator))
        elif name := _first("name", one.value):
            out.append((name.value, name.locator))
        elif value := _first("value", one.value):
            unit = _first("unitText", one.value) or _first("unitCode", one.value)
            out.append((f"{value.value} {unit.value}" if unit else value.value, value.locator))
    return out


def _first(name: str, thing: Thing) -> Entry | None:
    """The first text of a property."""
    return next((Entry(name, s.value, s.locator) for s in thing.said.get(name, []) if isinstance(s.value, str)), None)


def _with_offer(thing: Thing, every: list[Thing]) -> Thing:
    """The thing with what the offer around it adds: its price, and its name and description where the thing has none."""
    for offer in every:
        if OFFERS.intersection(offer.types) and any(s.value is thing for s in offer.said.get("itemOffered", [])):
            for name in ("name", "description"):
                if name in offer.said:
                    thing.said.setdefault(name, offer.said[name])
            thing.said.setdefault("offers", [Said(offer, offer.locator)])
    return thing


def _shared(page: "LexborHTMLParser") -> dict[str, Entry]:
    """Open Graph: property -> its first value."""
    out: dict[str, Entry] = {}
    for node in page.css("meta[property]")[:200]:
        key, value = (node.attributes.get("property") or "").strip().lower(), (node.attributes.get("content") or "").strip()
        if value and key not in out:
            out[key] = Entry(key, value, tree.path(node))
    return out
