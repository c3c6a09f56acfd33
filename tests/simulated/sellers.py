"""What a seller of a simulated vehicle tells, slips and all, and the words in which it is told.

`tell` gives the structured truth of the advert, `listing` its text. The wordings are many and were written after
`LISTINGS.md`, not after the reader's phrases; the words of features are the pack's own and some in another order.
"""

import random
from dataclasses import dataclass, field

from extractors.document import Document, make_document
from tests.simulated.vehicles import COPIED_PLATES, OP, QF, REPRODUCTION, TRADER, Vehicle, rows

TOLD = {"frame": 0.62, "engine": 0.5, "gearbox": 0.25, "body": 0.22, "plate": 0.3, "registration": 0.15}
"""How often a number is mentioned (no source: ours)."""
READS_PLATE = 0.5
"""Of sellers who tell a frame number, where plates are copied."""
CASTING_TOLD, YEAR_TOLD, MAKER_TOLD, HEDGED = 0.12, 0.75, 0.7, 0.1


@dataclass
class Told:
    """One advert's statements: numbers by part ("" for "none"), features, castings, what is owned up to."""

    numbers: dict[str, str] = field(default_factory=dict)
    hedged: set[str] = field(default_factory=set)
    features: dict[str, str] = field(default_factory=dict)
    castings: dict[str, str] = field(default_factory=dict)
    statements: set[tuple[str, str]] = field(default_factory=set)
    year: int = 0
    maker: str = ""


def tell(rng: random.Random, v: Vehicle, mode: str) -> Told:
    """What the seller of a vehicle says, by the pack's rates."""
    told = Told()
    for part, often in TOLD.items():
        if rng.random() < often:
            read = "plate" if part == "frame" and mode == COPIED_PLATES and rng.random() < READS_PLATE and v.parts["plate"].number else part
            if rng.random() < HEDGED:
                told.hedged.add(part)
            told.numbers[part] = as_copied(rng, v.parts[read].number, part in told.hedged)
    for part in ("engine", "axle"):
        if v.parts[part].casting and rng.random() < CASTING_TOLD:
            told.castings[part] = v.parts[part].casting
    for feature in rng.sample(rows("feature"), rng.choice((0, 1, 2, 3, 4, 6))):
        told.features[feature["feature"]] = as_named(rng, v, feature)
    _state(rng, v, told)
    return told


def as_named(rng: random.Random, v: Vehicle, feature: dict[str, str]) -> str:
    """The variant that a person names who looks at a feature."""
    there = v.parts[feature["part"]].features[feature["feature"]]
    others = [r["variant"] for r in rows("variant") if r["feature"] == feature["feature"] and r["variant"] != there]
    return rng.choice(others) if rng.random() < float(feature["misnamed_share"]) else there


def as_copied(rng: random.Random, number: str, hedged: bool = False) -> str:
    """A number as a person gives it; "" where there is none to be read."""
    if not number or rng.random() < 0.02:
        return ""
    if rng.random() < 0.03:
        figures = [i for i, c in enumerate(number) if c.isdigit()]
        cut = figures[-2:]
        return "".join("x" if i in cut else c for i, c in enumerate(number) if not (i > cut[-1] and c.isalpha()) and not (i > cut[-1] and c == " "))
    if rng.random() < 0.03 * (2 if hedged else 1):
        number = _slipped(rng, number)
    if rng.random() < 0.025:
        zeros = [i for i, c in enumerate(number) if c == "0"]
        if zeros:
            at = rng.choice(zeros)
            number = number[:at] + "O" + number[at + 1 :]
    return number


def _slipped(rng: random.Random, number: str) -> str:
    """One slip, kinds by `error_shares.csv` source A."""
    figures = [i for i, c in enumerate(number) if c.isdigit()]
    out = list(number)
    kind = rng.choices(("one", "swap", "jump"), (79.1, 10.2, 0.8))[0]
    if kind == "one":
        at = rng.choice(figures)
        out[at] = rng.choice([c for c in "0123456789" if c != out[at]])
    else:
        step = 1 if kind == "swap" else 2
        n = rng.randrange(len(figures) - step)
        i, j = figures[n], figures[n + step]
        out[i], out[j] = out[j], out[i]
    return "".join(out)


def _state(rng: random.Random, v: Vehicle, told: Told) -> None:
    state = {p: x.state for p, x in v.parts.items()}
    whole = state["frame"] == state["engine"] == "original"
    if rng.random() < {"original": 0.01, "exchanged": 0.15, "made_later": 0.20}[state["engine"]]:
        told.statements.add(("replaced", "engine"))
    elif rng.random() < (0.30 if whole else 0.12):
        told.statements.add(("matching_numbers", "vehicle"))
    if rng.random() < (0.20 if whole and state["body"] == "original" else 0.10):
        told.statements.add(("original", "vehicle"))
    for part, rates in (("body", (0.01, 0.02, 0.35)), ("plate", (0.005, 0.01, 0.20))):
        if rng.random() < dict(zip(("original", "exchanged", "made_later"), rates, strict=True))[state[part]]:
            told.statements.add(("reproduction", part))
    number = v.parts["plate"].number
    borne = _borne(number)
    if rng.random() < YEAR_TOLD:
        kind = rng.choices(("plate", "contract", "built", "fashion"), (0.40, 0.12, 0.25, 0.23))[0]
        fashion = rng.choices((1926, 1927, 1928, 1929, 1930, 1931, 1932, 1933, 1935, 1937), (8, 5, 12, 10, 25, 10, 5, 8, 10, 7))[0]
        built = int(v.origin.month[:4]) + rng.choices((0, 1, 2), (6, 3, 1))[0]
        told.year = built if kind == "built" else fashion if kind == "fashion" or borne is None else borne[1] if kind == "plate" else borne[2]
    if rng.random() < MAKER_TOLD:
        told.maker = borne[0] if borne and rng.random() < 0.75 else rng.choices((QF, OP), (0.7, 0.3))[0]


def _borne(number: str) -> tuple[str, int, int] | None:
    """(maker, year, contract as a year) of a frame number; None for no number of the family."""
    if not number or number.startswith("QT"):
        return None
    contract = number[2:4] if number.startswith("OP") else number[:2]
    serial = int(number.split("-")[-1] if number.startswith("OP") else number.split()[1])
    scheme = "op_frame" if number.startswith("OP") else "qf_frame"
    row = next(r for r in rows("dating_frame") if r["scheme"].startswith(scheme) and int(r["first"]) <= serial <= int(r["last"]))
    return row["maker"], int(row["period"][:4]), 1900 + int(contract)


LABELS = {
    "frame": (
        "Frame no. {n}",
        "frame number {n}",
        "Frame: {n}",
        "frame no {n}",
        "Number on the frame is {n}",
        "Chassis number {n}",
        "frame stamped {n}",
    ),
    "engine": ("Engine no. {n}", "engine number {n}", "Engine: {n}", "engine {n}", "Motor number {n}", "the engine is stamped {n}", "eng. no. {n}"),
    "gearbox": ("Gearbox no. {n}", "gearbox number {n}", "Gearbox: {n}", "the gearbox is {n}", "gearbox stamped {n}"),
    "body": ("Load box no. {n}", "body number {n}", "load box number {n}", "the load box carries {n}", "tag on the load box reads {n}"),
    "plate": ("The data plate reads {n}", "plate number {n}", "number on the plate: {n}", "Data plate: {n}", "plate says {n}"),
    "registration": ("Fleet number {n}", "fleet no. {n}", "old fleet number {n} still to be seen", "Fleet no: {n}"),
}
NONE_SAID = {
    "frame": ("no number on the frame", "frame number not readable"), "engine": ("no engine number", "engine has no number"),
    "gearbox": ("no number on the gearbox", "gearbox number not readable"), "body": ("no body number", "load box has no number"),
    "plate": ("no number on the plate", "plate number unreadable"), "registration": ("no fleet number", "fleet number unreadable"),
}  # fmt: skip
HEDGES = ("I think the {x}", "{x}, I believe", "{x}, as far as I can read it", "looks like {x}")
SAID = {
    "matching_numbers": ("matching numbers", "Matching numbers.", "numbers match", "all matching numbers"),
    "original": ("all original", "completely original", "Original throughout.", "in original condition"),
    "replaced": ("replacement engine", "engine has been replaced", "not the original engine", "the engine was swapped at some time"),
    "reproduction body": ("reproduction load box", "the load box is a reproduction", "load box is new made"),
    "reproduction plate": ("reproduction plate", "data plate is a reproduction", "repro data plate"),
}
CASTINGS = {
    "engine": ("cast date {n} on the crankcase", "crankcase cast {n}", "casting date {n} on the engine"),
    "axle": ("cast date {n} on the axle", "axle casting date {n}", "front axle cast {n}"),
}
HEADS = ("{y}{m} parcel carrier", "{m} carrier {y}", "{y} {m} post tricycle for sale", "{m} Pattern 5 {y}", "Old {m} {y} Northmark Post carrier")
CALLED = {
    QF: ("Quillfeather", "Quillfeather QF-5", "Quillfeather Motor Works", "QF-5"),
    OP: ("Ostrander & Pike", "Ostrander and Pike OP-5", "Ostrander & Pike OP-5", "OP-5"),
    "": ("Pattern 5",),
}
FILLERS = (
    "Runs well and starts on the second kick.", "Stored dry for many years.", "Collection only.", "New tyres all round.", "A lovely thing to ride.",
    "No time for it any more.", "Came from an estate.", "Sensible offers please.", "Paint is tired but sound.", "More pictures on request.", "",
)  # fmt: skip


def listing(rng: random.Random, told: Told, name: int | str) -> Document:
    """The advert in words."""
    title = rng.choice(HEADS).format(y=str(told.year or ""), m=f" {rng.choice(CALLED[told.maker])}").strip().replace("  ", " ")
    if told.maker == "" and "attern 5" not in title:
        title = f"Pattern 5 {title}"
    entries: dict[str, str] = {}
    sentences = []
    as_form = rng.random() < 0.3
    for part, number in told.numbers.items():
        if as_form and number and part in ("frame", "engine") and part not in told.hedged:
            entries[{"frame": "Frame number", "engine": "Engine number"}[part]] = number
            continue
        words = rng.choice(LABELS[part]).format(n=number) if number else rng.choice(NONE_SAID[part])
        sentences.append(rng.choice(HEDGES).format(x=words) if part in told.hedged and number else words)
    for feature, variant in told.features.items():
        phrase = rng.choice(next(r["words"] for r in rows("variant") if (r["feature"], r["variant"]) == (feature, variant)).split(" | "))
        sentences.append(rng.choice(("{}", "{}", "it has the {}", "with {}", "note the {}")).format(phrase))
    for part, code in told.castings.items():
        sentences.append(rng.choice(CASTINGS[part]).format(n=code))
    for what, part in sorted(told.statements):
        sentences.append(rng.choice(SAID[f"reproduction {part}" if what == "reproduction" else what]))
    rng.shuffle(sentences)
    joined = _joined(rng, sentences)
    body = " ".join(filter(None, (rng.choice(FILLERS), joined, rng.choice(FILLERS))))
    return make_document(body, title=title, attributes=entries, id=name)


def _joined(rng: random.Random, sentences: list[str]) -> str:
    if rng.random() < 0.25:
        return "\n".join(f"- {s}" for s in sentences)
    out, i = [], 0
    while i < len(sentences):
        n = rng.choice((1, 1, 2, 3))
        chunk = ", ".join(sentences[i : i + n]).rstrip(".")
        out.append(chunk[:1].upper() + chunk[1:] + ".")
        i += n
    return " ".join(out)


LATER = (TRADER, REPRODUCTION)
