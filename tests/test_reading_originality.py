"""How a thing relates to how it left the factory: sentences as sellers write them, the claims they make and those they do not.

The sentences are invented, so are their numbers; they were written before the phrases were tuned by them.
"""

import pytest

from claims.pack import shipped_packs
from claims.reader import read_claims
from extractors import make_document

Meaning = tuple[str, str, str]
"""(part, value, stance)"""


def said(text: str, kind: str = "originality", **attributes: str) -> set[Meaning]:
    """(part, value, stance) of every claim of a kind."""
    document = make_document(text, attributes={name.replace("_", " "): value for name, value in attributes.items()})
    return {(c.part, c.value or "", c.stance) for c in read_claims(document, shipped_packs()) if c.kind == kind and not c.is_decoded}


FRESH: list[tuple[str, set[Meaning]]] = [
    ("#'s matching 440 and its numbers matching transmission.", {("engine", "matching_numbers", "stated"), ("gearbox", "matching_numbers", "stated")}),
    ("Engine is a 1776 dual carb, rebuilt last year, hot cam.", {("engine", "rebuilt", "stated")}),
    ("Magneto with a brass cap, reconditioned.", {("component", "rebuilt", "stated")}),
    ("Tank cleaned, petcock rebuilt, new tyres.", {("component", "rebuilt", "stated")}),
    ("Runs great, fully rebuilt, repainted.", {("vehicle", "rebuilt", "stated"), ("body", "restored", "stated")}),
    ("Repainted in 2004. Needs a respray. Never been repainted.", set()),
    ("It's had a 186 put in it.", {("engine", "replaced", "stated")}),
    ("Somebody put a 350 in it years ago.", {("engine", "replaced", "stated")}),
    ("He put a 12 volt coil in it and put in a 1972 radio.", set()),
    ("The engine number matches the frame. Motor doesnt match the VIN.", {("engine", "matching_numbers", "stated"), ("engine", "matching_numbers", "denied")}),
    ("The engine number matches the log book.", set()),
    ("Chassis is a new galvanised one. The gearbox is a brand new unit.", {("frame", "replaced", "stated"), ("gearbox", "replaced", "stated")}),
    ("The engine is a new project for somebody.", set()),
    ("It is a numbers matching car with 61,000 original miles.", {("vehicle", "matching_numbers", "stated")}),
    ("Non matching engine, a 1969 block of the right type.", {("engine", "matching_numbers", "denied")}),
    ("The engine does not match the chassis.", {("engine", "matching_numbers", "denied")}),
    ("Matching #'s engine and transmission, per the previous owner.", {("engine", "matching_numbers", "reported"), ("gearbox", "matching_numbers", "reported")}),
    ("All original except for the exhaust.", {("vehicle", "original", "stated")}),
    ("Still has its original gearbox and rear axle.", {("gearbox", "original", "stated"), ("axle", "original", "stated")}),
    ("The motor, I believe, is the original one.", {("engine", "original", "hedged")}),
    ("Engine isn't the original, it was swapped out in the eighties.", {("engine", "replaced", "stated")}),
    ("One previous owner, original owner's manual and original keys.", set()),
    ("Original colour was Dove Grey, now in red.", set()),
    ("Untouched and unrestored, a real survivor.", {("vehicle", "unrestored", "stated")}),
    ("She was fully restored to a high standard by a marque specialist.", {("vehicle", "restored", "stated")}),
    ("Needs a full restoration, engine will have to be rebuilt.", set()),
    ("Carburettors have been rebuilt and the magneto reconditioned.", {("component", "rebuilt", "stated")}),
    ("Fitted with a reconditioned gearbox.", {("gearbox", "rebuilt", "stated")}),
    ("The engine has had a full rebuild, new pistons and rings.", {("engine", "rebuilt", "stated")}),
    ("Replacement crankcases were fitted after the con rod let go.", {("engine", "replaced", "stated")}),
    ("Runs a later five speed gearbox from a Toyota.", {("gearbox", "replaced", "stated")}),
    ("Exhaust and seat are pattern parts, tank is original.", {("component", "reproduction", "stated"), ("component", "original", "stated")}),
    ("Mudguards are pattern. The VIN plate is a reproduction.", {("component", "reproduction", "stated"), ("plate", "reproduction", "stated")}),
    ("This is a recreation of the works racer and is sold as such.", {("vehicle", "replica", "stated")}),
    ("It's not a replica, it is the real thing.", {("vehicle", "replica", "denied")}),
    ("Assembled from parts of several machines over twenty years.", {("vehicle", "composite", "stated")}),
    ("Completely stock apart from the tyres.", {("vehicle", "original", "stated")}),
    ("Stock engine, stock number 4471, more photos on request.", {("engine", "original", "stated")}),
    ("LS swapped, built motor, runs like a beast.", {("engine", "replaced", "stated")}),
    ("New tyres, new battery, new brakes and new interior.", set()),
    ("A new engine was put in by the dealer under warranty.", {("engine", "replaced", "stated")}),
    ("Paint is mostly original with some touch ups.", {("body", "original", "hedged")}),
    ("The hull is said to be original, deck has been replaced.", {("hull", "original", "reported"), ("body", "replaced", "stated")}),
]  # fmt: skip


VARIANTS: list[tuple[str, set[Meaning]]] = [
    ("MATCHING NUMBERS, NEVER APART.", {("vehicle", "matching_numbers", "stated"), ("vehicle", "unrestored", "stated")}),
    ("Numbers matching 327 V8 with four speed.", {("engine", "matching_numbers", "stated")}),
    ("The engine and frame numbers do not match.", {("engine", "matching_numbers", "denied"), ("frame", "matching_numbers", "denied")}),
    ("Frame, engine and gearbox all original to the bike.", {("frame", "original", "stated"), ("engine", "original", "stated"), ("gearbox", "original", "stated")}),
    ("The gearbox, no. 4471, is said to be original.", {("gearbox", "original", "reported")}),
    ("The previous owner told me the engine was replaced in the sixties.", {("engine", "replaced", "reported")}),
    ("Engine: rebuilt. Gearbox: original. Tank: reproduction.",
        {("engine", "rebuilt", "stated"), ("gearbox", "original", "stated"), ("component", "reproduction", "stated")}),
    ("- Carburettor: replacement", {("component", "replaced", "stated")}),
    ("It has the wrong carburettor and an incorrect seat.", {("component", "replaced", "stated")}),
    ("Nothing wrong with it, just a different ride.", set()),
    ("Later models had disc brakes.", set()),
    ("Original brochure and original sales receipt included.", set()),
    ("Original miles, original owner, original interior.", set()),
    ("Original condition throughout, never restored.", {("vehicle", "original", "stated"), ("vehicle", "unrestored", "stated")}),
    ("A very original car that has never been restored.", {("vehicle", "original", "stated"), ("vehicle", "unrestored", "stated")}),
    ("Wears its original Dove Grey paint.", {("body", "original", "stated")}),
    ("Largely original paint, gearbox has been rebuilt.", {("body", "original", "hedged"), ("gearbox", "rebuilt", "stated")}),
    ("I don't think the gearbox is original.", {("gearbox", "original", "denied")}),
    ("No longer has its original engine.", {("engine", "replaced", "stated")}),
    ("Cafe-style seat and clip-ons.", set()),
    ("Not a replica, not a kit car.", {("vehicle", "replica", "denied")}),
    ("Built from spares by a club member.", {("vehicle", "composite", "stated")}),
    ("Needs an engine rebuild and new tyres.", set()),
    ("Engine rebuild kit and gasket set included.", set()),
    ("Ideal restoration project, easy restoration for someone.", set()),
    ("Cosmetic restoration, engine not rebuilt.", {("vehicle", "restored", "stated"), ("engine", "rebuilt", "denied")}),
    ("Crate engine, later diff and a Getrag gearbox swap.",
        {("engine", "replaced", "stated"), ("axle", "replaced", "stated"), ("gearbox", "replaced", "stated")}),
    ("Converted to electric. Motor from a forklift.", set()),
    ("The radiator is new, the frame has been replaced with a galvanised one.", {("frame", "replaced", "stated")}),
    ("Is it matching numbers? Yes, matching numbers.", {("vehicle", "matching_numbers", "stated")}),
]  # fmt: skip


LOOK_ALIKES: list[tuple[str, set[Meaning]]] = [
    ("Tank has the later badge holes.", set()),
    ("Ledger copy pairs chassis, engine and body.", set()),
    ("Turbo Twist wheels (replica) with good tyres.", {("component", "reproduction", "stated")}),
    ("Needs a few things; a works reconditioned unit is in the shed.", set()),
    ("Built from a 1979 donor (gearbox, axle, dials). It is a replica, not a Lotus.", {("vehicle", "replica", "stated")}),
    ("The full bathtub has been in a crate.", set()),
    ("Engine number QE 4410, November 1930, and the workshop never changed a thing.", set()),
    ("4L60E rebuilt twice, Turbo 400 in the shed.", {("gearbox", "rebuilt", "stated")}),
    ("Essex V6 rebuilt by me.", {("engine", "rebuilt", "stated")}),
    ("Matching frame, engine and gearbox numbers.",
        {("frame", "matching_numbers", "stated"), ("engine", "matching_numbers", "stated"), ("gearbox", "matching_numbers", "stated")}),
    ("Matching helmet, jacket and gloves, sizes and numbers on request.", set()),
    ("The engine is a later 1600 dual port.", {("engine", "replaced", "stated")}),
    ("Paint is 90% original.", {("body", "original", "hedged")}),
    ("The previous owner told me the heads were swapped.", {("component", "replaced", "reported")}),
    ("Restored with new panels, engine rebuilt.", {("vehicle", "restored", "stated"), ("engine", "rebuilt", "stated")}),
    ("Not matching. Mudguards missing.", {("vehicle", "matching_numbers", "denied")}),
    ("Not matching paint, not matching wheels.", set()),
    ("The engine, rebuilt by a specialist, is believed to be the original unit.", {("engine", "rebuilt", "stated"), ("engine", "original", "hedged")}),
    ("Engine rebuild is about half done.", set()),
    ("Replica Minilites, rebuilt front end.", {("component", "reproduction", "stated")}),
    ("Dash restored and recovered.", {("component", "restored", "stated")}),
]  # fmt: skip


NOT_THE_FIRST: list[tuple[str, set[Meaning]]] = [
    ("The motor isn't the one she left Coventry with.", {("engine", "replaced", "stated")}),
    ("Engine: 302, not the 289 it left with.", {("engine", "replaced", "stated")}),
    ("The engine is the one it left the works with.", {("engine", "original", "stated")}),
    ("The 1968 got replaced with a 1971 in the nineties.", set()),
    ("The engine is not the one it left the factory with.", {("engine", "replaced", "stated")}),
    ("Cab is from another truck.", {("body", "replaced", "stated")}),
    ("The 998 is not the one it was born with.", {("engine", "replaced", "stated")}),
    ("It had an engine change in the seventies.", {("engine", "replaced", "stated")}),
    ("The back axle is from something else.", {("axle", "replaced", "stated")}),
    ("The 161 got replaced with a 202 long ago.", {("engine", "replaced", "stated")}),
    ("A tuned B20 replaces the B16.", {("engine", "replaced", "stated")}),
    ("Motor is an M115 instead of the M121.", {("engine", "replaced", "stated")}),
    ("A Toyota five speed replaces the original gearbox.", {("gearbox", "replaced", "stated")}),
    ("Wheels replaced with 16 inch ones.", {("component", "replaced", "stated")}),
    ("4 speed swapped for a 5 speed.", {("gearbox", "replaced", "stated")}),
    ("Engine is a 1.6 from a later saloon, swapped in 2011.", {("engine", "replaced", "stated")}),
    ("The gearbox is a four speed one, the family told me it was changed.", {("gearbox", "replaced", "reported")}),
    ("Hardtop comes from a later vehicle.", {("body", "replaced", "stated")}),
    ("The engine, correct type but not the original, runs sweetly.", {("engine", "replaced", "stated")}),
    ("We left with the trailer and came home with it.", set()),
    ("Swapped hands a few times; 2019 instead of 2020 on the form.", set()),
]  # fmt: skip

OTHER_PARTS: list[tuple[str, set[Meaning]]] = [
    ("The bimini is a reproduction, awning original.", {("component", "reproduction", "stated"), ("component", "original", "stated")}),
    ("Footwell liners reproduction. Bellmouth replaced after a crash.", {("component", "reproduction", "stated"), ("component", "replaced", "stated")}),
    ("| Sideboards | reproduction |", {("component", "reproduction", "stated")}),
    ("Plate is a reproduction.", {("plate", "reproduction", "stated")}),
    ("New wings (repro) and a new loom.", {("body", "reproduction", "stated")}),
    ("Hydraulic pump rebuilt. Overdrive box rebuilt last year.", {("component", "rebuilt", "stated"), ("gearbox", "rebuilt", "stated")}),
    ("Dynamo sent out and rebuilt.", {("component", "rebuilt", "stated")}),
    ("Leg shields are repops.", {("body", "reproduction", "stated")}),
    ("Stub axles were overhauled.", {("axle", "rebuilt", "stated")}),
    ("Work included rebuilding the carburettor and the gearbox.", {("component", "rebuilt", "stated"), ("gearbox", "rebuilt", "stated")}),
    ("Interior is original. Seats are original. The title is original.", set()),
    ("Battery replaced, oil changed, tyres replaced last year.", {("tyre", "replaced", "stated")}),
    ("Professionally rebuilt over two winters.", {("vehicle", "rebuilt", "stated")}),
    ("Tri-power is a bonus; a gold-seal replacement is on the bench.", set()),
    ("My own rebuild diary comes along.", set()),
    ("Everything is original.", {("vehicle", "original", "stated")}),
]  # fmt: skip
"""Parts that no list knows are components; trim, papers and stores are none."""

TOLD_OF_THE_WHOLE: list[tuple[str, set[Meaning]]] = [
    ("Never restored, never messed with.", {("vehicle", "unrestored", "stated")}),
    ("Not matching anything, sold cheap.", {("vehicle", "matching_numbers", "denied")}),
    ("Nothing matching on this one.", {("vehicle", "matching_numbers", "denied")}),
    ("Motor is a 454 but not numbers matching.", {("engine", "matching_numbers", "denied")}),
    ("Both numbers match.", {("frame", "matching_numbers", "stated"), ("engine", "matching_numbers", "stated")}),
    ("Frame and engine don't belong together.", {("frame", "matching_numbers", "denied"), ("engine", "matching_numbers", "denied")}),
    ("Engine and gearbox left the works together.", {("engine", "matching_numbers", "stated"), ("gearbox", "matching_numbers", "stated")}),
    ("The engine number doesn't match the log book.", set()),
    ("Numbers match. V5 present.", {("vehicle", "matching_numbers", "stated")}),
    ("Frame off restored long ago, rebodied in the fifties.", {("vehicle", "restored", "stated"), ("body", "replaced", "stated")}),
    ("Engine oil changed every spring.", set()),
    ("Put together from three bikes over a winter.", {("vehicle", "composite", "stated")}),
    ("Older resto, still tidy. Would suit a resto mod.", {("vehicle", "restored", "stated")}),
    ("Engine and gearbox are still with the car.", {("engine", "original", "stated"), ("gearbox", "original", "stated")}),
]  # fmt: skip


def test_a_headline_names_another_engine_without_a_hyphen() -> None:
    def titled(title: str) -> set[Meaning]:
        document = make_document("Runs well.", title=title)
        return {(c.part, c.value or "", c.stance) for c in read_claims(document, shipped_packs()) if c.kind == "originality"}

    assert titled("Handcart, Villiers powered") == {("engine", "replaced", "stated")}
    assert titled("Handcart, Petrol powered") == set()


@pytest.mark.parametrize(("text", "expected"), FRESH + VARIANTS + LOOK_ALIKES + NOT_THE_FIRST + OTHER_PARTS + TOLD_OF_THE_WHOLE)
def test_fresh_sentences(text: str, expected: set[Meaning]) -> None:
    assert said(text) == expected
