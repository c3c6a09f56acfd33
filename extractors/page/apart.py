"""A page read in bounds: a small one here, any other in a process of its own with a deadline and a bound on memory."""

import json
import os
import sys
from dataclasses import asdict
from pathlib import Path

from extractors.errors import TooLarge, UnreadableListing
from extractors.page import bounds
from extractors.page.record import Entry, Page

DEADLINE = 10.0
"""Seconds. Measured: a plain page of 3 MB and 270,000 tags takes 1.6; the process itself 0.06."""
MEMORY = 2_000_000_000
"""Bytes of address space; only where the system can bound it (not on Windows)."""
_START = "import sys; sys.path.append(sys.argv[1]); from extractors.page.apart import main; main()"


def page_of(name: str, html: str, deadline: float = DEADLINE) -> Page:
    """The record of a page; `name` is for messages. Raises `TooLarge` past a bound or deadline, in one line."""
    bounds.check(name, html)
    if bounds.is_small(html):
        from extractors.page.reading import read

        return read(html)
    return _read_apart(name, html, deadline)


def _read_apart(name: str, html: str, deadline: float) -> Page:
    import subprocess

    root = str(Path(__file__).resolve().parents[2])
    command = [sys.executable, "-P", "-c", _START, root]
    try:
        done = subprocess.run(command, input=html.encode("utf-8", "replace"), capture_output=True, timeout=deadline, env=_environment(), check=False)
    except subprocess.TimeoutExpired:
        raise TooLarge(f"{name}: a page that takes over {deadline:g} seconds to read; save its text alone") from None
    except OSError as error:
        raise UnreadableListing(f"{name}: no process to read the page in ({error.strerror}); save its text alone") from None
    if done.returncode:
        raise TooLarge(f"{name}: a page too large or too broken to read in bounds; save its text alone")
    given = json.loads(done.stdout)
    entries = tuple(Entry(**e) for e in given.pop("entries"))
    return Page(**{**given, "entries": entries, "pictures": tuple(given["pictures"])})


def _environment() -> dict[str, str]:
    """The environment without what would start something else in the process."""
    return {name: value for name, value in os.environ.items() if name not in {"PYTHONSTARTUP", "PYTHONINSPECT", "PYTHONBREAKPOINT"}}


def main() -> None:
    """What the process does: a page on standard input, its record as JSON on standard output."""
    _bound_memory()
    from extractors.page.reading import read

    html = sys.stdin.buffer.read().decode("utf-8")
    sys.stdout.buffer.write(json.dumps(asdict(read(html))).encode("ascii"))
    sys.stdout.buffer.flush()
    os._exit(0)


def _bound_memory() -> None:
    try:
        import resource
    except ImportError:
        return
    for what, most in ((resource.RLIMIT_AS, MEMORY), (resource.RLIMIT_CORE, 0)):
        _, hard = resource.getrlimit(what)
        resource.setrlimit(what, (most if hard == resource.RLIM_INFINITY else min(most, hard), hard))
