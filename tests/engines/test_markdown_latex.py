"""Markdown through LaTeX, with all three engines and both pandocs, in real TeX."""

from __future__ import annotations

import itertools
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from fitter.book.loader import load_book
from fitter.engines.engine import engine_of
from tests.conftest import BookFolder, both_pandocs, path_with

MakeBook = Callable[..., BookFolder]
ENGINES = ("pdflatex", "lualatex", "xelatex")


def pages_of(pdf: Path) -> int:
    """The page count as poppler reads it."""
    told = subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout
    return int(next(line.split()[1] for line in told.splitlines() if line.startswith("Pages:")))


@pytest.mark.parametrize(
    ("engine", "pandoc"), [*itertools.product(ENGINES, ("system", "packaged"))]
)
def test_every_engine_fits_with_both_pandocs(
    make_markdown_book: MakeBook, tmp_path: Path, engine: str, pandoc: str
) -> None:
    book = make_markdown_book(engine)
    path = path_with(tmp_path / "bin", pandoc=both_pandocs()[pandoc])
    built = book.fitter("build", "--format", "json", PATH=path)
    assert built.status == 0, built.err + built.out
    report = built.report
    assert report["check"]["passed"]
    assert report["plan"]["extent"] % 16 == 0
    assert pages_of(book.folder / "build/book.pdf") == report["plan"]["extent"]
    assert built.err.count("pandoc\n") == 1
    again = book.fitter("build", "--format", "json", PATH=path)
    assert again.report["engine_runs"] == 0
    assert again.report["plan"] == report["plan"]


def test_pages_lead_back_to_the_markdown(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book("pdflatex", lengths=(30, 8, 1, 40))
    assert book.fitter("build").status == 0
    loaded = load_book(book.folder)
    record = engine_of(loaded).record(loaded)
    assert record
    places = [(page.file, page.line) for page in record.pages]
    assert places[0] == ("", 0)
    assert places[2] == ("front.md", 8)
    first = next(i for i, page in enumerate(record.pages) if page.folio == "1")
    assert places[first] == ("chapters/1.md", 1)
    after = next(i for i, place in enumerate(places) if place == ("chapters/4.md", 1))
    assert after + 1 in record.openers, "the blank verso is of the chapter that needed it"
    assert places[after + 1] == ("chapters/4.md", 1)


def test_without_latexmk_the_job_is_the_same(make_markdown_book: MakeBook, tmp_path: Path) -> None:
    book = make_markdown_book("pdflatex")
    programs = tmp_path / "bin"
    programs.mkdir()
    for name in ("pdflatex", "pandoc"):
        (programs / name).symlink_to(Path("/usr/bin") / name)
    built = book.fitter("build", "--format", "json", PATH=str(programs))
    assert built.status == 0, built.err
    assert built.report["check"]["passed"]


def test_a_missing_engine_is_named_with_what_to_install(
    make_markdown_book: MakeBook, tmp_path: Path
) -> None:
    book = make_markdown_book("xelatex")
    built = book.fitter("build", PATH=path_with(tmp_path / "bin").split(":")[0])
    assert built.status == 3
    assert "xelatex is not installed" in built.err and "texlive-xetex" in built.err


@pytest.mark.parametrize("engine", ["pdflatex", "typst"])
def test_a_finding_names_the_heading_that_made_the_page(
    make_markdown_book: MakeBook, engine: str
) -> None:
    settings = "binding: {gathering: 16}\nblanks: {openers: fail}\n"
    report = make_markdown_book(engine, settings).fitter("build", "--format", "json").report
    at = {
        (finding["file"], finding["line"])
        for finding in report["check"]["findings"]
        if finding["rule"] in ("blank-unmarked", "furniture-only")
    }
    assert ("chapters/2.md", 1) in at
    assert at <= {("front.md", 8), *((f"chapters/{number}.md", 1) for number in range(1, 5))}
