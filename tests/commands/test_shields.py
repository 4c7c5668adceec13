"""An examination paper: a shield before each section, another mark on the pages that fill it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pymupdf
import pytest

from tests.conftest import BookFolder

STOP = "STOP. Wait until you are told to turn over."
BARE = "Nothing is asked of you here."
SETTINGS = (
    "binding: {gathering: 16}\n"
    f"blanks:\n  mark:\n    openers: {STOP}\n    fillers: {BARE}\n  end_at_most: 0\n"
)


def said(folder: Path, words: str) -> int:
    """On how many pages of the built book these words stand."""
    with pymupdf.open(folder / "build" / "book.pdf") as document:
        return sum(words in " ".join(page.get_text().split()) for page in document)


@pytest.mark.parametrize("engine", ["pdflatex", "typst"])
def test_a_shield_before_openers_and_another_mark_on_fillers(
    engine: str,
    make_latex_book: Callable[..., BookFolder],
    make_markdown_book: Callable[..., BookFolder],
) -> None:
    if engine == "typst":
        book = make_markdown_book(settings=SETTINGS)
    else:
        book = make_latex_book(settings=SETTINGS, options="twoside,openright")
    book.write("fillers.yaml", "fillers: [{id: bare, page: marked-blank, pages: 1..16}]\n")
    check = book.fitter("build", "--format", "json").report["check"]
    assert check["findings"] == []
    marked = [page["page"] for page in check["pages"] if page["verdict"] == "marked"]
    shields, fillers = said(book.folder, STOP), said(book.folder, BARE)
    assert shields > 0
    assert fillers > 0
    assert len(marked) == shields + fillers
