"""The same input gives the same bytes; with SOURCE_DATE_EPOCH the same PDF, which others can read.

Source: the SOURCE_DATE_EPOCH specification, reproducible-builds.org, version 1.1.
"""

from __future__ import annotations

import shutil
import subprocess
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.conftest import BookFolder

MakeBook = Callable[..., BookFolder]
ENGINES = ["pdflatex", "lualatex", "xelatex", "typst", "markdown-pdflatex"]
EPOCH = {"SOURCE_DATE_EPOCH": "1700000000"}


def book_for(engine: str, make: MakeBook, folder: BookFolder) -> BookFolder:
    """A book with today's date in it."""
    if engine in ("typst", "markdown-pdflatex"):
        folder.write("book.md", "# One\n\nText.\n\n::: {.imprint-page}\n:::\n")
        folder.write(
            "book.yaml",
            f"title: A Small Book\nsource: book.md\nengine: {engine.removeprefix('markdown-')}\n"
            "binding: {gathering: 8}\nimprint: {year: 2026, key: {}}\n",
        )
        return folder.write("fillers.yaml", "fillers: [{id: n, page: notes, pages: 1..8}]\n")
    return make(engine, lengths=(3, 2), end="\\today")


def everything(folder: Path) -> dict[str, bytes]:
    """What was made and is worth keeping: the PDF, its record, the inserts, dummy, fingerprint."""
    kept = (".pdf", ".pages", ".html", ".json", ".jsonl", ".yaml", ".tex")
    made = [*folder.glob("*"), *(folder / "build").glob("*")]
    files = (path for path in made if path.is_file() and path.suffix in kept)
    state = (".inputs.json", ".typeset.json", ".tex.json", ".typ.json")
    return {path.name: path.read_bytes() for path in files if not path.name.endswith(state)}


@pytest.mark.parametrize("engine", ENGINES)
def test_two_places_and_two_moments_give_the_same_files(
    make_latex_book: MakeBook, book_folder: BookFolder, tmp_path_factory: pytest.TempPathFactory,
    engine: str,
) -> None:  # fmt: skip
    first = book_for(engine, make_latex_book, book_folder)
    elsewhere = tmp_path_factory.mktemp("else") / "where"
    shutil.copytree(first.folder, elsewhere)
    for folder in (first, BookFolder(elsewhere)):
        for command in (["build"], ["printing", "add", "--year", "2026"], ["dummy", "-q"]):
            ran = folder.fitter(*command, **EPOCH)
            assert ran.status in (0, 1), ran.err
        time.sleep(1.1)  # a clock that tells seconds has moved on
    one, other = everything(first.folder), everything(elsewhere)
    assert sorted(one) == sorted(other)
    assert [name for name in one if one[name] != other[name]] == []
    readable(first.folder / "build/book.pdf")
    if not engine.startswith(("typst", "markdown")):
        read = ["pdftotext", first.folder / "build/book.pdf", "-"]
        text = subprocess.run(read, capture_output=True, text=True, check=True).stdout
        assert "November 14, 2023" in text  # the moment of EPOCH


def readable(pdf: Path) -> None:
    """qpdf finds nothing to say about it, and Ghostscript reads it without a warning."""
    checked = subprocess.run(["qpdf", "--check", pdf], capture_output=True, text=True, check=False)
    assert checked.returncode == 0, checked.stdout + checked.stderr
    assert "WARNING" not in checked.stdout + checked.stderr
    read = ["gs", "-dBATCH", "-dNOPAUSE", "-sDEVICE=nullpage", str(pdf)]
    told = subprocess.run(read, capture_output=True, text=True, check=True)
    words = (told.stdout + told.stderr).lower()
    assert "error" not in words
    assert "warning" not in words
