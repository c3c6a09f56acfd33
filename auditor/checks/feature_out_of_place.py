"""A feature is named that the maker, or the year, did not have.

Features tell makers and months apart where numbers are missing, but some bolt on and sellers name wrong ones. On the
part that carries the identity, and hard to change, it is a contradiction; elsewhere a doubt, and a note for what is
often changed. Within the soft weeks of a change-over, and two months more, the check is silent.
"""

from collections.abc import Iterator, Sequence

from auditor.case import Case, stated_span
from auditor.finding import CONTRADICTION, DOUBT, NOTE, Finding
from claims.claim import STATED, Claim
from claims.models_named import can_be_meant, named_models
from claims.pack import Pack
from claims.pack_rows import Feature, FeatureSpan
from claims.standards import edtf
from claims.standards.edtf import Span

ASK = "Could you photograph the {part}: {where}?"
ABOUT = "feature:{feature}"
ROOM_MONTHS = 2
HARD_TO_CHANGE = 0.05
OFTEN_CHANGED = 0.15


def check(case: Case) -> Iterator[Finding]:
    """Compare each named feature with the makers and months that the numbers, else the statements, allow."""
    for claim in case.said("feature"):
        pack = next((p for p in case.packs if p.id == claim.family), None)
        if pack is None:
            continue
        name, _, variant = (claim.value or "").partition("=")
        feature = pack.features[name]
        makers, dates, grounds = _known(case, pack)
        models = named_models(case.claims)
        spans = [s for s in pack.spans if s.feature == name and s.variant == variant and can_be_meant(s.models, False, models, pack)]
        if not grounds or not spans or case.is_owned_up(feature.part) or _source_is_named(case, pack, spans):
            continue
        known = {n.canonical for n in pack.makers}
        own = [s for s in spans if s.maker in makers] if makers else [s for s in spans if s.maker in known or not known]
        if own and (_agrees_by_serial(case, own) if own[0].axis == "serial" else not dates or any(_meets(s, d) for s in own for d in dates)):
            continue
        yield _finding(case, pack, feature, claim, own, grounds, makers)


def _source_is_named(case: Case, pack: Pack, spans: Sequence[FeatureSpan]) -> bool:
    """Whether the listing itself names the workshop or successor that fitted such parts later."""
    later = {s.maker for s in spans} - {n.canonical for n in pack.makers}
    text = " ".join(f.text for f in case.document.fields).lower()
    return any(maker.rsplit(" ", 1)[-1].lower() in text for maker in later)


def _known(case: Case, pack: Pack) -> tuple[frozenset[str], list[Span], list[Claim]]:
    """(makers, dates, claims they rest on) of the vehicle: by its identity number, else by what is stated."""
    readings = [d for d in case.identity_readings if d.pack is pack]
    if readings:
        return frozenset(m for d in readings for m in d.makers), [s for d in readings for s in d.spans], [readings[0].claim]
    known = {n.canonical for n in pack.makers}
    makers = [c for c in case.said("maker", "model") if c.part == "vehicle" and (c.value in known or pack.model_maker(c.value or "") in known)]
    years = [c for c in case.said("year", "built") if c.part == "vehicle"]
    names = frozenset((c.value or "") if c.kind == "maker" else pack.model_maker(c.value or "") for c in makers)
    dates = [Span(s.first - 12, s.last + 12) for c in years if (s := stated_span(c))]
    return names, dates, [*makers[:1], *years[:1]]


def _meets(span: FeatureSpan, date: Span) -> bool:
    room_from = ROOM_MONTHS + round(span.from_soft_weeks / 4)
    room_to = ROOM_MONTHS + round(span.to_soft_weeks / 4)
    first = edtf.decode(span.from_[:7]).first if span.from_ else edtf.OPEN_START
    last = edtf.decode(span.to[:7]).last if span.to else edtf.OPEN_END
    return first - room_from <= date.last and date.first <= last + room_to


def _agrees_by_serial(case: Case, own: Sequence[FeatureSpan]) -> bool:
    """Whether some identity number's serial lies within a span that is given in serials; silence where none is known."""
    serials = [
        (d.scheme.run or d.scheme.scheme, int(d.groups["serial"]))
        for d in case.identity_readings
        if d.scheme and d.groups.get("serial", "").isdigit()
    ]
    spans = [s for s in own if not s.scheme or any(s.scheme == name for name, _ in serials)]
    if not serials or not spans:
        return True
    return any(int(s.from_ or 0) <= n <= int(s.to or n) for s in spans for name, n in serials if s.scheme in {"", name})


def _finding(
    case: Case, pack: Pack, feature: Feature, claim: Claim, own: Sequence[FeatureSpan], grounds: list[Claim], makers: frozenset[str]
) -> Finding:
    hard = feature.changed_share <= HARD_TO_CHANGE
    numbered = grounds[0].kind == "number" and grounds[0].stance == STATED
    if (feature.part == pack.identity and hard and numbered and claim.stance == STATED) or (
        case.is_held_original(feature.part) and hard and numbered and claim.stance == STATED
    ):
        grade = CONTRADICTION
    else:
        grade = NOTE if feature.changed_share >= OFTEN_CHANGED else DOUBT
    who = " or ".join(sorted(makers)) or "the makers"
    when = ", ".join(f"{s.from_[:7] or 'the first'} to {s.to[:7] or 'the last'}" for s in own)
    why = f"{who} fitted it {when}" if own else f"{who} did not fit it"
    return Finding(
        "feature_out_of_place",
        grade,
        f"“{claim.quote.text}” ({feature.name}) does not go with “{grounds[0].quote.text}”: {why}.",
        feature.part,
        (claim, *grounds),
        f"{pack.id}/{feature.feature}",
        tuple(dict.fromkeys(pack.source(source_id) for source_id in (feature.source_id, *(s.source_id for s in own)))),
        False,
        case.innocent("feature_out_of_place", feature.part) or ("The part may have been changed, or the feature misnamed.",),
        f"A photograph: {feature.where}.",
    )
