"""The layer table: `extractors` imports neither of the others, `claims` only `extractors.document`, no circles."""

import ast
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
OURS = ("extractors", "claims", "auditor")
MODULES = {".".join(p.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): p for top in OURS for p in (ROOT / top).rglob("*.py")}
FACES = ("auditor.cli", "auditor.digest", "auditor.catalogue", "auditor.batch", "auditor.web")


def imports(path: Path) -> set[str]:
    """The modules of ours that a file imports, wherever the import stands, types included."""
    out: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            out |= {f"{node.module}.{a.name}" if f"{node.module}.{a.name}" in MODULES else node.module for a in node.names}
        elif isinstance(node, ast.Import):
            out |= {a.name for a in node.names}
    return {name for name in out if name.split(".")[0] in OURS}


@pytest.mark.parametrize("name", sorted(MODULES))
def test_imports_follow_the_layers(name: str) -> None:
    found = imports(MODULES[name])
    if name.startswith("extractors"):
        assert not [m for m in found if not m.startswith("extractors")]
    elif name.startswith("claims"):
        assert not [m for m in found if not m.startswith("claims") and m != "extractors.document"]


def test_there_are_no_import_circles() -> None:
    graph = {name: {m for m in imports(path) if m != name and not name.startswith(m + ".")} for name, path in MODULES.items()}
    assert list(TopologicalSorter(graph).static_order())


def test_no_face_imports_another() -> None:
    for face in FACES:
        files = {n: p for n, p in MODULES.items() if n == face or n.startswith(face + ".")}
        for name, path in files.items():
            others = [m for m in imports(path) for other in FACES if other != face and (m == other or m.startswith(other + "."))]
            assert not others, f"{name} imports {others}"
