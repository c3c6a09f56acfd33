"""Geographic codes of the 17-character number: ISO 3780, list of 2003 (places 1 and 2), with those from memory apart.

FF-FK is printed twice in that list and kept for one country. Letters I, O and Q are never used; after Z come 1 to 9, then 0.

>>> area("WV"), area("YS"), area("T1"), area("9B"), area("ZT")
(('Germany', 'secondary'), ('Sweden', 'secondary'), ('Portugal', 'secondary'), ('Brazil', 'memory'), ('', ''))
>>> region("W"), region("K"), region("B"), region("1")
('Europe', 'Asia', 'Africa', 'North America')
"""

ORDER = "ABCDEFGHJKLMNPRSTUVWXYZ1234567890"
_SEEN = (
    "AA-AH South Africa; AJ-AN Ivory Coast; BA-BE Angola; BF-BK Kenya; BL-BR Tanzania; CA-CE Benin; CF-CK Madagascar; CL-CR Tunisia; "
    "DA-DE Egypt; DF-DK Morocco; DL-DR Zambia; EA-EE Ethiopia; EF-EK Mozambique; FA-FE Ghana; FF-FK Nigeria; JA-J0 Japan; KA-KE Sri Lanka; "
    "KF-KK Israel; KL-KR Korea (South); LA-L0 China; MA-ME India; MF-MK Indonesia; ML-MR Thailand; NF-NK Pakistan; NL-NR Turkey; "
    "PA-PE Philippines; PF-PK Singapore; PL-PR Malaysia; RA-RE United Arab Emirates; RF-RK Taiwan; RL-RR Vietnam; SA-SM United Kingdom; "
    "SN-ST Germany; SU-SZ Poland; TA-TH Switzerland; TJ-TP Czech Republic; TR-TV Hungary; TW-T1 Portugal; UH-UM Denmark; UN-UT Ireland; "
    "UU-UZ Romania; U5-U7 Slovakia; VA-VE Austria; VF-VR France; VS-VW Spain; VX-V2 Yugoslavia; V3-V5 Croatia; V6-V0 Estonia; "
    "WA-W0 Germany; XA-XE Bulgaria; XF-XK Greece; XL-XR Netherlands; XX-X2 Luxembourg; X3-X0 Russia; YA-YE Belgium; YF-YK Finland; "
    "YL-YR Malta; YS-YW Sweden; YX-Y2 Norway; Y3-Y5 Belarus; Y6-Y0 Ukraine; ZA-ZR Italy; ZX-Z2 Slovenia"
)
_FROM_MEMORY = (
    "1A-10 United States; 2A-20 Canada; 3A-3W Mexico; 4A-40 United States; 5A-50 United States; 6A-6W Australia; 7A-7E New Zealand; "
    "8A-8E Argentina; 8F-8K Chile; 9A-9E Brazil; 93-99 Brazil"
)
_REGIONS = ("AH Africa", "JR Asia", "SZ Europe", "15 North America", "67 Oceania", "89 South America")
"""First and last character of place 1; the figures are from memory."""


def areas() -> list[tuple[str, str, str]]:
    """(range, country, standing) of every code of the list, as printed."""
    return [
        (code, country, standing)
        for text, standing in ((_SEEN, "secondary"), (_FROM_MEMORY, "memory"))
        for code, _, country in (row.partition(" ") for row in text.split("; "))
    ]


def area(code: str) -> tuple[str, str]:
    """(country, standing) of places 1 and 2; two empty strings for a code that is not allotted in the list."""
    for span, country, standing in areas():
        first, _, last = span.partition("-")
        if code[0] == first[0] and code[1] in ORDER and ORDER.index(first[1]) <= ORDER.index(code[1]) <= ORDER.index(last[1]):
            return country, standing
    return "", ""


def region(first: str) -> str:
    """The part of the world that place 1 stands for; empty for 0, which is not used."""
    for row in _REGIONS:
        if first in ORDER[:-1] and ORDER.index(row[0]) <= ORDER.index(first) <= ORDER.index(row[1]):
            return row[3:]
    return ""
