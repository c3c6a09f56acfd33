"""Writes the manual's generated pages from code and data: checks, kinds, packs, coverage, commands, schemas.

`python -m auditor.manual.generate` writes them; with `--check` it compares and ends with 1 where a page is stale.
"""

import json
import sys
from pathlib import Path

from auditor.cli import help_texts
from auditor.contract import AuditRecord
from auditor.explain import GRADE_MEANS, SECTIONS, STANCE_MEANS, entry, names
from auditor.keeper import coverage
from claims.pack import shipped_packs
from claims.pack_model import json_schema

HERE = Path(__file__).parent
INTRODUCTION = {
    "checks": "Each check compares statements and stays silent when it cannot know. Its name is the name of its findings.",
    "kinds": "What a claim can be about, how it can be said, and how a finding is graded.",
    "packs": "The rule packs that ship with the tool, with their sources. Demo data are invented and say so.",
    "standards": "Public number standards, each read by a module of its own.",
    "commands": "Every command with its options. Exit status: 0 no contradiction, 1 contradictions found, 2 could not read.",
}


def pages() -> dict[str, str]:
    """File name to content of every generated page."""
    out = {f"{section}.md": _page(section) for section in SECTIONS}
    out["contract.schema.json"] = json.dumps(AuditRecord.model_json_schema(), indent=1) + "\n"
    out["pack.schema.json"] = json.dumps(json_schema(), indent=1) + "\n"
    out["coverage.md"] = coverage.page(shipped_packs())
    return out


def _page(section: str) -> str:
    parts = [f"# {section.capitalize()}\n\nGenerated; do not edit. {INTRODUCTION[section]}\n"]
    parts += [entry(name, help_texts()) for name in names(section, help_texts())]
    if section == "kinds":
        parts.append("# How it is said\n\n" + "".join(f"- **{n}**: {m}\n" for n, m in STANCE_MEANS.items()))
        parts.append("# How a finding is graded\n\n" + "".join(f"- **{n}**: {m}\n" for n, m in GRADE_MEANS.items()))
    return "\n".join(parts)


def main() -> int:
    """Write the pages, or compare them with `--check`; 0 where all is well."""
    stale = []
    for name, text in pages().items():
        path = HERE / name
        if "--check" in sys.argv[1:]:
            if not path.is_file() or path.read_text(encoding="utf-8") != text:
                stale.append(name)
        else:
            path.write_text(text, encoding="utf-8")
    if stale:
        print(f"stale: {', '.join(stale)}; run python -m auditor.manual.generate")
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main())
