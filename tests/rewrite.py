"""Rewrite the findings blocks of a check's fixture with what the check now finds, to be read and reviewed: `python -m tests.rewrite CHECK`.

What the rules demand decides, not what the check does: never keep a rewritten block unread.
"""

import sys

from auditor.audit import audit, known_checks
from tests.cases import BLOCK, FIXTURES, cases, line_of


def rewrite(check: str) -> int:
    """Rewrite `fixtures/checks/CHECK.md` in place; the number of blocks that changed."""
    path = FIXTURES / "checks" / f"{check}.md"
    head, *sections = path.read_text(encoding="utf-8").split("\n## ")
    changed = 0
    for number, case in enumerate(c for c in cases("checks") if c.file == check):
        found = [line_of(f) for f in audit(case.document, strict=True).findings if f.name == check]
        block = "".join(f"{line}\n" for line in found)
        changed += found != case.lines("findings")
        old = next(m for m in BLOCK.finditer(sections[number]) if m[1] == "findings")
        sections[number] = sections[number][: old.start(2)] + block + sections[number][old.end(2) :]
    path.write_text("\n## ".join([head, *sections]), encoding="utf-8")
    return changed


if __name__ == "__main__":
    if len(sys.argv) != 2 or sys.argv[1] not in known_checks():
        sys.exit(f"usage: python -m tests.rewrite CHECK, one of {', '.join(known_checks())}")
    print(f"{rewrite(sys.argv[1])} findings blocks changed; read them before you keep them")
