"""Audits for-sale listings of historic vehicles: what is claimed, what cannot hold together, what to ask."""

from auditor.audit import Audit, audit
from auditor.finding import Finding
from auditor.questions import Question

__all__ = ["Audit", "Finding", "Question", "audit"]
