"""Features that a pack knows, said in sellers' own order, number and spelling; and what says none.

The sentences are of the invented demo world; they were written before the matching was tuned by them.
"""

import pytest

from claims.pack import shipped_packs
from claims.reader import read_claims
from extractors import make_document

Meaning = tuple[str, str]
"""(feature=variant, stance)"""
NAMED = "Northmark Pattern 5 parcel carrier. "


def said(text: str) -> set[Meaning]:
    """(feature=variant, stance) of every feature read."""
    return {(c.value or "", c.stance) for c in read_claims(make_document(NAMED + text), shipped_packs()) if c.kind == "feature"}


FRESH: list[tuple[str, set[Meaning]]] = [
    ("The data plate is brass and held on by two rivets.", {("plate_metal=brass", "stated"), ("plate_fixing=two_rivets", "stated")}),
    ("Brass plate, four rivets.", {("plate_metal=brass", "stated"), ("plate_fixing=four_rivets", "stated")}),
    ("Plate: zinc, screwed.", {("plate_metal=zinc", "stated"), ("plate_fixing=screws", "stated")}),
    ("Cylinder has 7 fins.", {("cylinder_fins=seven", "stated")}),
    ("I counted nine fins on the barrel.", {("cylinder_fins=nine", "stated")}),
    ("11-fin cylinder.", {("cylinder_fins=eleven", "stated")}),
    ("Box sides are of planks, corner irons bolted.", {("box_sides=planked", "stated"), ("corner_irons=bolted", "stated")}),
    ("The box is plywood, with the corner irons welded.", {("box_sides=plywood", "stated"), ("corner_irons=welded", "stated")}),
    ("Six studs hold the gearbox lid.", {("gearbox_lid=six_stud", "stated")}),
    ("Gearbox has the side filler and open gate.", {("gearbox_filler=side", "stated"), ("change_gate=open", "stated")}),
    ("Drain plug is at the front of the sump.", {("sump_drain=front", "stated")}),
    ("The frame number is stamped on the left of the headstock.", {("frame_number_place=headstock_left", "stated")}),
    ("Number is on the right side of the headstock.", {("frame_number_place=headstock_right", "stated")}),
    ("Frame number on the saddle lug.", {("frame_number_place=saddle_lug", "stated")}),
    ("Front springs with 6 leaves each.", {("spring_leaves=six", "stated")}),
    ("I think the springs have seven leaves.", {("spring_leaves=seven", "hedged")}),
    ("Hub caps are screwed brass.", {("hub_cap=screwed_brass", "stated")}),
    ("There is no tag on the box.", {("box_tag_place=no_tag", "stated")}),
    ("The tag is under the lid.", {("box_tag_place=under_lid", "stated")}),
    ("No maker's name on the plate.", {("plate_maker_line=no_maker", "stated")}),
    ("Crankcase has the pike mark cast on it.", {("crankcase_mark=pike", "stated")}),
    ("There's no mark on the axle beam.", {("axle_mark=unmarked", "stated")}),
    ("Magneto cap is brass.", {("magneto_cap=brass_cap", "stated")}),
    ("The timing cover has five screws.", {("timing_cover=five_screw", "stated")}),
    ("Square web on the headstock, footboards wooden.", {("headstock_web=square", "stated"), ("footboard_tread=wooden", "stated")}),
    ("New brass screws in the seat and a brass horn.", set()),
    ("Six months tax, four new tyres, two owners, seven photos.", set()),
    ("Front wheel has six spokes missing, left side of the box is dented.", set()),
    ("Wooden crate of spares and a steel toolbox included.", set()),
    ("The plate is not brass but zinc.", {("plate_metal=brass", "denied"), ("plate_metal=zinc", "stated")}),
]  # fmt: skip


VARIANTS: list[tuple[str, set[Meaning]]] = [
    ("PLATE: ALUMINIUM, FOUR RIVETS.", {("plate_metal=aluminium", "stated"), ("plate_fixing=four_rivets", "stated")}),
    ("Data plate | zinc, screwed on", {("plate_metal=zinc", "stated"), ("plate_fixing=screws", "stated")}),
    ("The original plate is brass and still on its two rivets.", {("plate_metal=brass", "stated"), ("plate_fixing=two_rivets", "stated")}),
    ("Frame 33Q 06600 G, stamped on the right rear lug.", {("frame_number_place=rear_lug", "stated")}),
    ("Engine: QE 10263, nine fins, quill mark, no bar under the number.",
        {("cylinder_fins=nine", "stated"), ("crankcase_mark=quill", "stated"), ("engine_number_bar=no_bar", "stated")}),
    ("Gearbox: four studs, open gate, top filler.", {("gearbox_lid=four_stud", "stated"), ("change_gate=open", "stated"), ("gearbox_filler=top", "stated")}),
    ("Box - plywood, riveted corner irons, two strap hinges.",
        {("box_sides=plywood", "stated"), ("corner_irons=riveted", "stated"), ("lid_hinges=two_strap", "stated")}),
    ("Magneto, moulded cap.", {("magneto_cap=moulded_cap", "stated")}),
    ("Steering arms cranked, five leaves in the front springs.", {("steering_arm=cranked", "stated"), ("spring_leaves=five", "stated")}),
    ("The floor of the box is ribbed steel.", {("box_floor=ribbed_steel", "stated")}),
    ("The drain plug is on the left where the old one had it at the front.", {("sump_drain=left", "stated")}),
    ("It appears the axle beam is unmarked.", {("axle_mark=unmarked", "hedged")}),
    ("Exhaust is held by two bolts at the flange.", {("exhaust_joint=two_bolt", "stated")}),
    ("The plate reads no. 33Q 12210 and nothing else.", set()),
    ("Brass polish, screws, two rivets and a box of bolts included.", set()),
    ("Left on the headstock is a sticker from the rally.", set()),
    ("The brass lamp has a round lens; seven spokes are bent.", set()),
    ("Steel toecaps and wooden wheels on the trolley.", set()),
    ("There were three owners, I welded the exhaust and painted the lid.", set()),
    ("Has a lid with a turn lock, hasp missing.", {("lid_lock=turn_lock", "stated"), ("lid_lock=hasp", "denied")}),
]  # fmt: skip


FOREIGN: list[tuple[str, set[Meaning]]] = [
    ("Das Datenschild ist aus Messing, mit vier Nieten.", {("plate_metal=brass", "stated"), ("plate_fixing=four_rivets", "stated")}),
    ("Der Zylinder hat elf Kühlrippen, der Getriebedeckel hat sechs Stehbolzen.", {("cylinder_fins=eleven", "stated"), ("gearbox_lid=six_stud", "stated")}),
    ("Der Kasten hat Seiten aus Sperrholz, die Trittbretter sind aus Holz.", {("box_sides=plywood", "stated"), ("footboard_tread=wooden", "stated")}),
    ("La plaque est en zinc, vissée. Le cylindre a neuf ailettes.",
        {("plate_metal=zinc", "stated"), ("plate_fixing=screws", "stated"), ("cylinder_fins=nine", "stated")}),
    ("Les cornières sont soudées, le bouchon de vidange est à gauche.", {("corner_irons=welded", "stated"), ("sump_drain=left", "stated")}),
    ("Te koop met kenteken. De typeplaat is van messing en de cilinder heeft zeven koelribben.", {("plate_metal=brass", "stated"), ("cylinder_fins=seven", "stated")}),
    ("De hoekijzers zijn gelast en de laadbak heeft zijkanten van multiplex.", {("corner_irons=welded", "stated"), ("box_sides=plywood", "stated")}),
    ("La targhetta è di ottone con quattro rivetti, il cilindro ha nove alette.",
        {("plate_metal=brass", "stated"), ("plate_fixing=four_rivets", "stated"), ("cylinder_fins=nine", "stated")}),
    ("Das Fahrzeug hat vier neue Reifen und sechs Monate TÜV, links hinten eine Delle.", set()),
    ("La voiture a deux portes et quatre pneus neufs, vis et boulons en vrac.", set()),
    ("De fiets heeft zes versnellingen en twee nieuwe banden, met plaatje van de club.", set()),
]  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), FRESH + VARIANTS + FOREIGN)
def test_fresh_sentences(text: str, expected: set[Meaning]) -> None:
    assert said(text) == expected
