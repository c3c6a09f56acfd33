"""Documents that exist or not, and what they say: sentences as sellers write them, with the claims they make.

The sentences are invented, so are their numbers; they were written before the phrases were tuned by them.
"""

import pytest

from claims.pack import shipped_packs
from claims.reader import read_claims
from extractors import make_document

Meaning = tuple[str, str, str]
"""(value, stance, words)"""


def said(text: str, **attributes: str) -> set[Meaning]:
    """(value, stance, words) of every claim about a document."""
    document = make_document(text, attributes={name.replace("_", " "): value for name, value in attributes.items()})
    return {(c.value or "", c.stance, c.quote.text) for c in read_claims(document, shipped_packs()) if c.kind == "papers"}


FRESH: list[tuple[str, set[Meaning]]] = [
    ("Clean title in hand, ready to go.", {("title", "stated", "Clean title")}),
    ("I have no title for this one, bill of sale only.", {("title", "denied", "no title"), ("title", "denied", "bill of sale only")}),
    ("Title was lost years ago, will give a bill of sale.", {("title", "denied", "Title was lost")}),
    ("Comes with the old buff log book and a current V5C.", {("registration", "stated", "old buff log book"), ("registration", "stated", "V5C")}),
    ("V5C in my name, MOT until March.", {("registration", "stated", "V5C"), ("inspection", "stated", "MOT")}),
    ("There is no V5 with it and it is not currently registered.",
        {("registration", "denied", "no V5"), ("registration", "denied", "not currently registered")}),
    ("Never been registered for the road.", {("registration", "denied", "Never been registered")}),
    ("Sold with Belgian registration papers, no. 44120, issued 3 May 1988 to P. Maes.",
        {("registration", "stated", "registration papers"), ("registration", "reported", "Belgian"), ("registration", "reported", "44120"),
         ("registration", "reported", "3 May 1988"), ("registration", "reported", "P. Maes")}),
    ("A copy of the factory build record confirms the engine number.", {("factory_record", "stated", "copy of the factory build record")}),
    ("Heritage certificate states it was despatched to Sydney.", {("factory_record", "stated", "Heritage certificate")}),
    ("5 speed manual, drives great.", set()),
    ("Includes owner's manual, workshop manual and a folder of receipts.",
        {("manual", "stated", "owner's manual"), ("manual", "stated", "workshop manual"), ("history", "stated", "folder of receipts")}),
    ("MOT exempt and tax exempt.", {("inspection", "stated", "MOT exempt")}),
    ("MOT history shows the mileage back to 2006.", {("inspection", "stated", "MOT history")}),
    ("Tags expired in 2019 but the title is clear.", {("registration", "stated", "Tags"), ("title", "stated", "title is clear")}),
    ("Passed state inspection in May, registered until April 2027.",
        {("inspection", "stated", "state inspection"), ("registration", "stated", "registered")}),
    ("Currently on a SORN.", {("registration", "stated", "SORN")}),
    ("Club dating letter included, which DVLA will accept.", {("history", "stated", "Club dating letter")}),
    ("It was first registered in Kent in 1951.", set()),
    ("Log book went missing in a house move.", {("registration", "denied", "Log book went missing")}),
    ("Italian libretto from 1964, in the name of Carlo Rossi.",
        {("registration", "stated", "libretto"), ("registration", "reported", "Italian"), ("registration", "reported", "1964"),
         ("registration", "reported", "Carlo Rossi")}),
    ("Full service history with every invoice since new.", {("history", "stated", "Full service history"), ("history", "stated", "invoice")}),
    ("No paperwork at all, sold as seen.", {("registration", "denied", "No paperwork")}),
    ("Paperwork includes the original sales invoice dated 4 June 1936.", {("history", "stated", "original sales invoice"), ("history", "reported", "4 June 1936")}),
    ("Fresh MOT and a service at a registered charity garage.", {("inspection", "stated", "MOT")}),
    ("Call me, letters on the screen are worn, the registered office is in Leeds.", set()),
    ("Old tax discs, FIVA passport and club certificate on file.",
        {("history", "stated", "Old tax discs"), ("history", "stated", "FIVA passport"), ("history", "stated", "club certificate")}),
    ("Canadian ownership present, clear.", {("registration", "stated", "ownership"), ("registration", "reported", "Canadian")}),
    ("The title is in my late father's name.", {("title", "stated", "title"), ("title", "reported", "my late father's name")}),
    ("Smogged last month, pink slip in hand.", {("inspection", "stated", "Smogged"), ("title", "stated", "pink slip")}),
]  # fmt: skip


VARIANTS: list[tuple[str, set[Meaning]]] = [
    ("TITLE IN HAND, CLEAN AND CLEAR.", {("title", "stated", "TITLE")}),
    ("No title. No key. No problem.", {("title", "denied", "No title")}),
    ("Does not come with a title.", {("title", "denied", "title")}),
    ("Tags good till next summer.", {("registration", "stated", "Tags")}),
    ("Reg paid through 2027.", {("registration", "stated", "Reg")}),
    ("Boat and trailer both currently registered.", {("registration", "stated", "currently registered")}),
    ("It was registered in Hamburg in 1961 and re-registered here in 1990.", set()),
    ("First taxed in June 1938.", set()),
    ("Taxed and MOT'd, ready to ride.", {("registration", "stated", "Taxed"), ("inspection", "stated", "MOT'd")}),
    ("V5 in the previous owner's name.", {("registration", "stated", "V5"), ("registration", "reported", "the previous owner's name")}),
    ("Dutch registration certificate, number 12345678, issued on 4 March 1999 in the name of H. de Vries.",
        {("registration", "stated", "registration certificate"), ("registration", "reported", "Dutch"), ("registration", "reported", "12345678"),
         ("registration", "reported", "4 March 1999"), ("registration", "reported", "H. de Vries")}),
    ("Clear Ohio title, transferable.", {("title", "stated", "title")}),
    ("Export papers from Japan and a Japanese title.",
        {("registration", "stated", "Export papers"), ("title", "stated", "title"), ("title", "reported", "Japanese")}),
    ("The engine number is not the one on the log book.", {("registration", "stated", "log book")}),
    ("Frame number as per V5.", {("registration", "stated", "V5")}),
    ("Dating certificate from the VMCC is with it.", {("history", "stated", "Dating certificate")}),
    ("Dating letter from the factory museum.", {("factory_record", "stated", "Dating letter")}),
    ("Our dating letter puts it at 1934.", {("history", "stated", "dating letter")}),
    ("Sold with a photocopy of the works ledger entry.", {("factory_record", "stated", "photocopy of the works ledger entry")}),
    ("Porsche Kardex and certificate of authenticity.", {("factory_record", "stated", "Kardex"), ("factory_record", "stated", "certificate of authenticity")}),
    ("Title status shows salvage on the history report.", {("title", "stated", "Title"), ("history", "stated", "history report")}),
    ("Papers are missing, I will write a receipt.", {("registration", "denied", "Papers are missing"), ("history", "stated", "receipt")}),
    ("Viewing and inspection welcome any time.", set()),
    ("Car was inspected by our mechanics.", set()),
    ("Manual gearbox, manual windows.", set()),
    ("Certified pre-owned with warranty.", set()),
    ("Comes with handbook, service book and all old MOTs.",
        {("manual", "stated", "handbook"), ("history", "stated", "service book"), ("inspection", "stated", "old MOTs")}),
    ("Letters and lines on the tank are hand painted.", set()),
    ("On historic tax, no MOT required.", set()),
    ("Will need registering, NOVA done.", set()),
]  # fmt: skip


LOOK_ALIKES: list[tuple[str, set[Meaning]]] = [
    ("Imported and UK registered in 2004.", set()),
    ("UK registered and taxed.", {("registration", "stated", "UK registered"), ("registration", "stated", "taxed")}),
    ("Lost title paperwork can be done for $600.", {("title", "denied", "Lost title")}),
    ("Registered new in Devon in 1966.", set()),
    ("He passed and I have the estate papers.", set()),
    ("Documentation fee of $299 extra, plus tax, title and tags.", set()),
    ("Title and tags extra.", set()),
    ("VJMC dating letter included.", {("history", "stated", "dating letter")}),
    ("Papers: V5C and old MOTs.", {("registration", "stated", "V5C"), ("inspection", "stated", "old MOTs")}),
    ("Paperwork includes a heritage certificate.", {("factory_record", "stated", "heritage certificate")}),
]  # fmt: skip


ANSWERS: list[tuple[str, set[Meaning]]] = [
    ("V5C: No\nMileage: 4,100", {("registration", "denied", "No")}),
    ("| Logbook | none, lost in a flood |\n| Colour | green |", {("registration", "denied", "none")}),
    ("Title | yes\nTires | good", {("title", "stated", "yes")}),
    ("Frame no: 77120Papers:none\nRuns well.", {("registration", "denied", "none")}),
    ("Title\nbill of sale only\n\nRuns.", {("title", "denied", "bill of sale only")}),
    ("Vends belle voiture de 1962, roule bien.\nCarte grise: non", {("registration", "denied", "non")}),
    ("Te koop mooie oude brommer, loopt goed.\nKenteken: ja", {("registration", "stated", "ja")}),
    ("Papers: V5C, no MOT", {("registration", "stated", "V5C"), ("inspection", "denied", "no MOT")}),
    ("title: ohio, 1951", {("title", "stated", "title")}),
    ("It has its V5C - no time wasters.", {("registration", "stated", "V5C")}),
]  # fmt: skip
"""A document that is a label: what stands behind it is the claim."""

HABITS: list[tuple[str, set[Meaning]]] = [
    ("The VRC and the old tax book come with it.", {("registration", "stated", "VRC"), ("registration", "stated", "old tax book")}),
    ("On club plates in Victoria.", {("registration", "stated", "club plates")}),
    ("Trailer is plated for life, WI numbers current.", {("registration", "stated", "plated for life"), ("registration", "stated", "WI numbers")}),
    ("The book is in my uncle's name.", {("registration", "stated", "book")}),
    ("The club gave us a dating letter.", {("history", "stated", "dating letter")}),
    ("A dispatch card and a depot record survive.", {("factory_record", "stated", "dispatch card"), ("factory_record", "stated", "depot record")}),
    ("Sold without documents.", {("registration", "denied", "without documents")}),
    ("Build sheet missing.", {("factory_record", "denied", "Build sheet missing")}),
    ("The bike is titled in Utah.", {("title", "stated", "titled")}),
    ("Ohio did not title mopeds then.", set()),
    ("It was sold in Leeds and registered KLB 114D that May.", set()),
    ("The contract papers bear that out.", set()),
    ("The book is in the toolbox.", set()),
    ("Papiere sind keine vorhanden.", {("registration", "denied", "Papiere sind keine vorhanden")}),
    ("Auskunft vom Werksarchiv liegt bei.", {("factory_record", "stated", "Auskunft vom Werksarchiv")}),
    ("Kenteken deel 2 en eigendomsbewijs aanwezig.", {("registration", "stated", "Kenteken deel 2"), ("title", "stated", "eigendomsbewijs")}),
    ("Il y a une attestation du conservatoire et le titre de circulation.",
        {("factory_record", "stated", "attestation du conservatoire"), ("registration", "stated", "titre de circulation")}),
]  # fmt: skip


def test_an_entry_for_papers_tells_of_a_registration() -> None:
    assert said("Runs well.", Papers="none") == {("registration", "denied", "none")}
    assert said("Runs well.", VRC="yes") == {("registration", "stated", "yes")}


def test_a_lien_that_is_none_denies_no_title() -> None:
    assert said("Runs well.", Title_status="lien none") == {("title", "stated", "lien none")}


def test_a_missing_title_is_denied() -> None:
    assert said("Runs well.", Title_status="missing") == {("title", "denied", "missing")}


@pytest.mark.parametrize(("text", "expected"), FRESH + VARIANTS + LOOK_ALIKES + ANSWERS + HABITS)
def test_fresh_sentences(text: str, expected: set[Meaning]) -> None:
    assert said(text) == expected
