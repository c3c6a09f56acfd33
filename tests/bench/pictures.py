"""Makes the pictures of the reports that stand in README and manual, from a demo listing (everything in it is invented).

`python -m tests.bench.pictures [DEMO]` writes `auditor/manual/pictures/*.png`: the terminal report, the HTML report at
the width of a desk and of a phone, in the dark, and two printed pages. Needs Debian's `chromium` and `poppler-utils`.
Prints each file with its size; ends with 1 where one is over 200 kB or the page scrolls sideways.
"""

import html as entities
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from click.testing import CliRunner

from auditor import audit
from auditor.cli import DEMO, FIRST_DEMO
from auditor.cli import main as cli
from auditor.keeper.number_lines import page
from auditor.render import html
from claims.number_runs import Run
from claims.pack import Row
from claims.pack_rows import Source
from claims.period import period
from extractors.intake import documents

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

PICTURES = DEMO.parent / "manual" / "pictures"
LARGEST = 200_000
DESK, PHONE = 1280, 360
DESK_HEIGHT, PHONE_HEIGHT = 1100, 1000
ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update",
    "--disable-sync", "--disable-dev-shm-usage",
]  # fmt: skip
TERMINAL_LINES = 44
NUMBER_LINES_WIDTH = 900
ODD_TABLE = [
    (100, 400, "1931-01"),
    (401, 900, "1931-02"),
    (1100, 1500, "1931-03"),
    (1450, 2100, "1931-06"),
    (2101, 2600, "1931-04"),
    (2601, 2900, "1931-05"),
]
TERMINAL = """<!DOCTYPE html><meta charset="utf-8"><style>
body {{ margin: 0; background: #17171a; color: #e9e5dc; }}
pre {{ margin: 0; padding: 24px 28px; display: inline-block; font: 14px/1.35 "DejaVu Sans Mono", monospace; }}
</style><pre>$ auditor demo {name}

{report}
…</pre>"""


def main(name: str = FIRST_DEMO) -> int:
    """Write all pictures; 0 where all is well."""
    from playwright.sync_api import sync_playwright

    browser_path, pages_path = shutil.which("chromium"), shutil.which("pdftoppm")
    if not browser_path or not pages_path:
        print("pictures: needs chromium and pdftoppm (Debian: apt-get install chromium poppler-utils)")
        return 1
    (document,) = documents(str(DEMO / f"{name}.txt"))
    result = audit(document)
    report, lines = html.render(result), CliRunner().invoke(cli, ["demo", name]).stdout.splitlines()[:TERMINAL_LINES]
    terminal = TERMINAL.format(name=name, report=entities.escape("\n".join(lines)))
    PICTURES.mkdir(exist_ok=True)
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=browser_path, args=ARGUMENTS)
        wide = [w for w in (DESK, PHONE) if scrolls_sideways(browser, report, w)]
        for file, draw in _pictures(browser, report, terminal):
            (PICTURES / file).write_bytes(draw())
        _printed(browser, report, pages_path)
        drawn = opened(browser, number_lines(), NUMBER_LINES_WIDTH)
        (PICTURES / "number-lines.png").write_bytes(drawn.locator("body").screenshot())
        browser.close()
    sizes = {p.name: p.stat().st_size for p in sorted(PICTURES.glob("*.png"))}
    print("\n".join(f"{size:>8} {file}" for file, size in sizes.items()))
    print("\n".join(f"scrolls sideways at {w} px" for w in wide))
    return 1 if wide or max(sizes.values()) > LARGEST else 0


def number_lines() -> str:
    """The page of the number lines of an invented table with a gap, an overlap and a step backwards."""
    source = Source("S1", "invented", "invented")
    rows = [Row(first, last, period(month, "month"), "", "", 0, source, False, "", {}) for first, last, month in ODD_TABLE]
    return page("Tollmer tricycles (invented)", [Run("numbers", "", tuple(rows), tuple(range(2, len(rows) + 2)))], private=0)


def _pictures(browser: "Browser", report: str, terminal: str) -> Iterator[tuple[str, Callable[[], bytes]]]:
    """(file name, what draws it) of every picture of a screen."""
    desk, dark, phone = opened(browser, report, DESK), opened(browser, report, DESK, "dark"), opened(browser, report, PHONE)
    top = {"x": 0, "y": 0, "width": DESK, "height": DESK_HEIGHT}
    yield "terminal.png", opened(browser, terminal, DESK).locator("pre").screenshot
    yield "report-desk.png", lambda: desk.screenshot(full_page=True, clip=top)
    yield "report-listing.png", desk.locator("#listing").screenshot
    yield "report-time.png", desk.locator("#time figure").first.screenshot
    yield "report-numbers.png", desk.locator("#numbers").screenshot
    yield "report-dark.png", lambda: dark.screenshot(full_page=True, clip=top)
    for part in ("findings", "listing", "time"):
        yield f"report-phone-{part}.png", lambda part=part: _from(phone, f"#{part}")


def _from(page: "Page", selector: str) -> bytes:
    """A phone's screen from an element on."""
    y = page.locator(selector).evaluate("e => e.getBoundingClientRect().top + window.scrollY")
    return page.screenshot(full_page=True, clip={"x": 0, "y": y, "width": PHONE, "height": PHONE_HEIGHT})


def _printed(browser: "Browser", report: str, pages_path: str) -> None:
    """The first printed page on A4, and the page of the numbers sheet."""
    with tempfile.TemporaryDirectory() as folder:
        pdf = Path(folder) / "report.pdf"
        opened(browser, report, DESK).pdf(path=str(pdf), format="A4")
        subprocess.run([pages_path, "-r", "75", "-gray", "-png", str(pdf), str(Path(folder) / "page")], check=True)
        pages = sorted(Path(folder).glob("page*.png"))
        sheet = next(p for p in pages if _is_wide(p))
        shutil.copyfile(pages[0], PICTURES / "report-print.png")
        shutil.copyfile(sheet, PICTURES / "report-print-numbers.png")


def _is_wide(path: Path) -> bool:
    """Whether a PNG lies on its side: width and height are the first two numbers of its header (W3C PNG, 11.2.1)."""
    head = path.read_bytes()[16:24]
    return int.from_bytes(head[:4], "big") > int.from_bytes(head[4:], "big")


def opened(browser: "Browser", source: str, width: int, scheme: str = "light") -> "Page":
    """A page in a window of that width, in light or dark."""
    page = browser.new_page(viewport={"width": width, "height": DESK_HEIGHT}, color_scheme="dark" if scheme == "dark" else "light")
    page.set_content(source)
    return page


def scrolls_sideways(browser: "Browser", source: str, width: int) -> bool:
    """Whether a page is wider than its window."""
    return bool(opened(browser, source, width).evaluate("document.documentElement.scrollWidth > window.innerWidth"))


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
