"""TeX without latexmk: run until nothing moves, and not at all when nothing has changed."""

from __future__ import annotations

import subprocess
from collections.abc import Callable

import pytest

from fitter.book.loader import load_book
from fitter.engines import rerun
from fitter.engines.engine import silent
from tests.conftest import BookFolder

MakeBook = Callable[..., BookFolder]


@pytest.fixture
def book(make_latex_book: MakeBook) -> BookFolder:
    return make_latex_book(lengths=(3, 2), end="\\input{last}").write("last.tex", "The end.\n")


def runs(folder: BookFolder) -> int:
    return rerun.build(load_book(folder.folder), silent)


def maker(folder: BookFolder) -> str:
    """Who made the PDF, as poppler tells it."""
    pdf = folder.folder / "build/book.pdf"
    told = subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout
    return next(line for line in told.splitlines() if line.startswith("Producer"))


def test_what_has_not_changed_is_not_run_again(book: BookFolder) -> None:
    assert runs(book) > 1
    assert runs(book) == 0
    assert runs(book.write("last.tex", "The very end.\n")) == 1
    assert runs(book) == 0


def test_another_engine_makes_another_pdf(book: BookFolder) -> None:
    runs(book)
    assert "pdfTeX" in maker(book)
    yaml = (book.folder / "book.yaml").read_text().replace("pdflatex", "lualatex")
    assert runs(book.write("book.yaml", yaml)) > 0
    assert "LuaTeX" in maker(book)


def test_a_file_taken_away_is_a_change(book: BookFolder) -> None:
    book.write("book.tex", (book.folder / "book.tex").read_text().replace(
        "\\input{last}", "\\InputIfFileExists{last}{}{}"
    ))  # fmt: skip
    runs(book)
    (book.folder / "last.tex").unlink()
    assert runs(book) > 0
