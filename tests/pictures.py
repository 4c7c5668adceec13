"""Makes the README's two pictures from the sample book: `python -m tests.pictures`.

Beside them it writes what the terminal said, which a test compares with what it says now.
"""

from __future__ import annotations

import io
import shutil
import tempfile
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Page, sync_playwright
from rich.console import Console
from rich.terminal_theme import TerminalTheme
from rich.text import Text

from tests.reports.terminal_seen import ROOT, as_seen, on_a_terminal

PICTURES = ROOT / ".pictures"
SAMPLE = "sample_book"
BROWSER = "/usr/bin/chromium"
SWITCHES = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run"]
PAPER = TerminalTheme(
    (243, 245, 244),
    (26, 33, 35),
    [(26, 33, 35), (156, 33, 25), (40, 105, 60), (120, 90, 0), (18, 90, 128)] + [(70, 84, 87)] * 3,
)
SHEET = """<!DOCTYPE html><meta charset="utf-8"><style>
body {{ margin: 0; background: #e5eae9; }}
pre {{ margin: 0; padding: 26px 30px; width: fit-content; background: #f3f5f4; color: {foreground};
  font: 15px/1.4 "DejaVu Sans Mono", monospace; }}
</style><pre>{code}</pre>"""


@dataclass(frozen=True, slots=True)
class Made:
    """What the terminal showed, with its styles, and where the dummy lies."""

    terminal: str
    dummy: Path

    @property
    def words(self) -> str:
        """What the terminal showed, without styles."""
        plain = Text.from_ansi(self.terminal).plain.rstrip()
        return "".join(f"{line.rstrip()}\n" for line in plain.splitlines())


def make(folder: Path) -> Made:
    """Build a copy of the sample book in a folder, and lay it out."""
    book = folder / SAMPLE
    shutil.copytree(ROOT / SAMPLE, book, ignore=shutil.ignore_patterns("build", "*-inserts.*"))
    lines: list[str] = []
    for command in ("build", "plan"):
        lines += [f"$ fitter {command} {SAMPLE}"]
        lines += as_seen(on_a_terminal("-m", "fitter", command, SAMPLE, cwd=folder))
        lines += [""]
    on_a_terminal("-m", "fitter", "dummy", SAMPLE, cwd=folder)
    return Made("\n".join(lines), book / "build/book-dummy.html")


def without_progress(words: str) -> list[str]:
    """The lines that do not depend on how often TeX had to run."""
    return [line for line in words.splitlines() if not line.startswith(("draft: ", "final: "))]


def _terminal_page(made: Made) -> str:
    console = Console(record=True, width=110, file=io.StringIO())
    console.print(Text.from_ansi(made.terminal.rstrip()), soft_wrap=True, highlight=False)
    return console.export_html(theme=PAPER, code_format=SHEET, inline_styles=True)


def _photograph(made: Made, folder: Path) -> None:
    terminal = folder / "terminal.html"
    terminal.write_text(_terminal_page(made), encoding="utf-8")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=BROWSER, args=SWITCHES)
        page = browser.new_page(viewport={"width": 1440, "height": 900}, reduced_motion="reduce")
        page.goto(terminal.as_uri())
        page.locator("pre").screenshot(path=PICTURES / "terminal.png")
        page.goto(made.dummy.as_uri())
        _to_the_end(page)
        page.screenshot(path=PICTURES / "dummy.png")
        browser.close()


def _to_the_end(page: Page) -> None:
    """Where the fillers stand, once every page in view is drawn."""
    page.evaluate("window.scrollTo(0, document.documentElement.scrollHeight)")
    page.evaluate("Promise.all([...document.images].map(image => image.decode()))")
    page.wait_for_timeout(500)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as name:
        made = make(Path(name))
        PICTURES.mkdir(exist_ok=True)
        _photograph(made, Path(name))
        (PICTURES / "terminal.txt").write_text(made.words, encoding="utf-8")
