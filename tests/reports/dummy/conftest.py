"""A real browser, and dummies to open in it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pymupdf
import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.conftest import fitter
from tests.drawn import MM, drawn, furnished, nothing, text, words

CHROMIUM = "/usr/bin/chromium"
SWITCHES = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]
WIDE, NARROW = {"width": 1440, "height": 900}, {"width": 400, "height": 860}
MARK = words(90, "This page is intentionally left blank.", left=30)


@dataclass
class Visit:
    """An open page, and all that went wrong or out on it."""

    page: Page
    said: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=SWITCHES)
        yield browser
        browser.close()


@pytest.fixture
def visit(browser: Browser) -> Iterator[object]:
    """Open a file in a window of its own."""
    contexts = []

    def open_(file: Path, scheme: str = "light", viewport: dict[str, int] = WIDE) -> Visit:
        context = browser.new_context(
            viewport=viewport,  # type: ignore[arg-type]
            color_scheme=scheme,  # type: ignore[arg-type]
            reduced_motion="reduce",
        )
        contexts.append(context)
        visit = Visit(context.new_page())
        visit.page.on("console", lambda message: visit.said.append(message.text))
        visit.page.on("pageerror", lambda error: visit.said.append(str(error)))
        visit.page.on("request", lambda request: visit.asked.append(request.url))
        visit.page.goto(file.as_uri())
        return visit

    yield open_
    for context in contexts:
        context.close()


@pytest.fixture(scope="package")
def everything(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The dummy of 45 pages with one of each state: 7 and 8 blank, 13 furniture only, 21 marked,
    26 damaged, 31 of another size, 46 to 48 left over."""
    folder = tmp_path_factory.mktemp("everything")
    pages = [furnished(number, text) for number in range(1, 46)]
    pages[6] = pages[7] = nothing
    pages[12] = furnished(13)
    pages[20] = MARK
    path = drawn(folder / "<b>every & thing.pdf", *pages)
    with pymupdf.open(path) as document:
        document.xref_set_key(document[25].xref, "Contents", "9999 0 R")
        document[30].set_mediabox(pymupdf.Rect(0, 0, 198 * MM, 129 * MM))
        document.saveIncr()
    return dummy_of(path)


@pytest.fixture(scope="package")
def two_books(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """The dummies of two books of 600 pages, one of text, one with a picture on each page."""
    folder = tmp_path_factory.mktemp("two")
    cloth = pymupdf.Pixmap(pymupdf.csRGB, pymupdf.IRect(0, 0, 120, 120), False)
    for x in range(120):
        for y in range(120):
            cloth.set_pixel(x, y, ((x * y) % 251, (x * 7 + y) % 253, (x + y * 11) % 255))
    picture = cloth.tobytes("png")

    def pictured(page: pymupdf.Page) -> None:
        text(page)
        page.insert_image(pymupdf.Rect(60, 300, 300, 500), stream=picture)

    return [
        dummy_of(drawn(folder / f"{name}.pdf", *[page] * 600))
        for name, page in (("text", text), ("pictures", pictured))
    ]


def dummy_of(path: Path, *options: str) -> Path:
    to = path.with_name(f"{path.stem}-dummy{''.join(options)}.html")
    done = fitter("dummy", path, *options, "--output", to, "--format", "json", cwd=path.parent)
    assert done.status == 0, done.err
    return path.parent / done.report["file"]
