"""Audits with a user's own packs beside the shipped ones: a pack that fails is named in the report and left out of it."""

import dataclasses
from collections.abc import Sequence
from typing import Any

from auditor.audit import Audit, audit
from auditor.finding import Fault
from auditor.share import OWN_PACK
from claims.own_packs import known_packs
from claims.pack import Pack, shipped_packs
from claims.pack_extension import has_private
from extractors.document import Document

OWN = f"{OWN_PACK}: "
PRIVATE_ROWS = "This report may rest on rows that you marked private: make it with --share before you show it to others."


def audited(document: Document, packs: Sequence[Pack], **letters: Any) -> Audit:
    """The audit of a document, its faults with the packs that were left out; `letters` go to `audit` as they are."""
    faults = [Fault(f"{OWN}{left.name}", left.why) for left in known_packs().left_out]
    try:
        result = audit(document, packs, **letters)
    except Exception:
        sound = _sound(document, packs, faults)
        if len(sound) == len(packs) and all(a is b for a, b in zip(sound, packs, strict=True)):
            raise
        result = audit(document, sound, **letters)
    cautions = (*result.cautions, *([PRIVATE_ROWS] if any(has_private(p) for p in result.packs) else []))
    return dataclasses.replace(result, faults=(*result.faults, *faults), cautions=cautions)


def _sound(document: Document, packs: Sequence[Pack], faults: list[Fault]) -> tuple[Pack, ...]:
    """The packs without those of the user's that fail on this document; what they extend stays in as it ships."""
    shipped = {p.id: p for p in shipped_packs()}
    kept = [shipped.get(p.id) if p.is_own else p for p in packs]
    for place, own in enumerate(packs):
        if own.is_own:
            try:
                audit(document, [p for p in (*kept[:place], own, *kept[place + 1 :]) if p])
            except Exception as error:
                faults.append(Fault(f"{OWN}{own.id}", f"left out of this listing: {type(error).__name__}: {error}"))
            else:
                kept[place] = own
    return tuple(p for p in kept if p)
