"""Books drawn in memory: each page is a function that draws on a fresh page of 129 × 198 mm."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pymupdf

MM = 72 / 25.4
WIDTH, HEIGHT = 129 * MM, 198 * MM
Draw = Callable[[pymupdf.Page], object]
TEXT = (
    "The harbour lay quiet that morning, and three of the boats had not come home. Somebody at the "
    "quay said that the wind had gone round in the night; somebody else said nothing at all. "
)


def drawn(path: Path, *pages: Draw) -> Path:
    """Save a book of these pages."""
    document = pymupdf.open()
    for draw in pages:
        draw(document.new_page(width=WIDTH, height=HEIGHT))
    document.save(path)
    return path


def text(page: pymupdf.Page) -> None:
    """A page full of text between the margins."""
    body = pymupdf.Rect(18 * MM, 22 * MM, WIDTH - 18 * MM, HEIGHT - 22 * MM)
    page.insert_textbox(body, TEXT * 8, fontsize=10)


def nothing(page: pymupdf.Page) -> None:
    """A blank page."""


def words(at: float, said: str, size: float = 10, left: float = 18) -> Draw:
    """A line of words, `at` mm from the head of the page."""

    def draw(page: pymupdf.Page) -> None:
        for number, line in enumerate(said.splitlines()):
            page.insert_text((left * MM, at * MM + number * size * 1.3), line, fontsize=size)

    return draw


def together(*draws: Draw) -> Draw:
    """All of these on one page."""

    def draw(page: pymupdf.Page) -> None:
        for one in draws:
            one(page)

    return draw


def furnished(number: int, *draws: Draw, head: str = "The Harbour") -> Draw:
    """A page with a running head and a folio."""
    return together(words(12, head, 8), words(188, str(number), 8, left=63), *draws)


def raw(content: str, resources: str = "", **entries: str) -> Draw:
    """A page of hand-written content, with resources and page entries as PDF source.

    Helvetica is /F1; lengths are points from the foot of the page on the left.
    """

    def draw(page: pymupdf.Page) -> None:
        document, xref = page.parent, page.xref
        stream = document.get_new_xref()
        document.update_object(stream, "<<>>")
        document.update_stream(stream, content.encode("latin-1"), new=True)
        font = "/Font<</F1<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>"
        document.xref_set_key(xref, "Contents", f"{stream} 0 R")
        document.xref_set_key(xref, "Resources", f"<<{font}{resources}>>")
        for key, value in entries.items():
            document.xref_set_key(xref, key, value)

    return draw


def said(words: str, before: str = "", at: tuple[int, int] = (60, 300), size: int = 11) -> str:
    """The content that says a word, with operators before it."""
    return f"q {before} BT /F1 {size} Tf {at[0]} {at[1]} Td ({words}) Tj ET Q\n"
