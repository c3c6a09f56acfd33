"""The report as one line of JSON by the contract (`auditor/contract.py`); only ASCII, so that it is safe anywhere."""

import json

from auditor.audit import Audit
from auditor.contract import of_audit


def render(audit: Audit) -> str:
    """One line of JSON with a line end."""
    return json.dumps(of_audit(audit).model_dump(exclude_unset=True)) + "\n"
