"""Words to claims, and numbers to more claims: `read_claims`, `decode_numbers`, the rule packs."""

from claims.claim import Claim
from claims.pack import BadPack, Pack, shipped_packs

__all__ = ["BadPack", "Claim", "Pack", "shipped_packs"]
