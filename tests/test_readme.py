"""The README's recipes, run as written."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from tests.conftest import ROOT, BookFolder
from tests.recipes import recipe, section


def test_the_steps_by_hand(
    make_latex_book: Callable[..., BookFolder], run: Callable[..., str]
) -> None:
    book = make_latex_book()
    said = run(recipe("With your own build", "sh"), book.folder, TEXINPUTS=f"{ROOT / 'latex'}:")
    assert "The gate passed" in said


def test_the_latexmkrc(make_latex_book: Callable[..., BookFolder], run: Callable[..., str]) -> None:
    book = make_latex_book()
    book.write(".latexmkrc", recipe("With your own build", "perl"))
    latexmk = "latexmk -pdf -outdir=build book.tex"
    said = run(f"{latexmk} && fitter fit && {latexmk} && fitter check", book.folder)
    assert "The gate passed" in said
    before = (book.folder / "build/book.pdf").stat().st_mtime_ns
    run(latexmk, book.folder)
    assert (book.folder / "build/book.pdf").stat().st_mtime_ns == before


def test_the_makefile(make_latex_book: Callable[..., BookFolder], run: Callable[..., str]) -> None:
    book = make_latex_book()
    book.write("Makefile", recipe("With your own build", "make"))
    assert "The gate passed" in run("make final", book.folder)


@pytest.fixture
def own_pandoc(make_markdown_book: Callable[..., BookFolder]) -> Callable[[str], BookFolder]:
    """A Markdown book with the defaults file of the README and a build command."""

    def make(build: str) -> BookFolder:
        book = make_markdown_book("lualatex", f"binding: {{gathering: 16}}\nbuild: [{build}]\n")
        return book.write("print.yaml", recipe("With your own pandoc", "yaml"))

    return make


def test_own_pandoc_in_a_makefile(
    own_pandoc: Callable[[str], BookFolder], run: Callable[..., str]
) -> None:
    book = own_pandoc("make, draft")
    book.write("Makefile", recipe("With your own pandoc", "make"))
    assert "The gate passed" in run("make final", book.folder)
    assert "The gate passed" in run("fitter build", book.folder)


def test_own_pandoc_in_a_latexmkrc(
    own_pandoc: Callable[[str], BookFolder], run: Callable[..., str]
) -> None:
    book = own_pandoc("latexmk")
    book.write(".latexmkrc", recipe("With your own pandoc", "perl"))
    said = run("latexmk; fitter fit; latexmk; fitter check", book.folder)
    assert "The gate passed" in said


def test_own_pandoc_that_makes_the_pdf(
    own_pandoc: Callable[[str], BookFolder], run: Callable[..., str]
) -> None:
    book = own_pandoc("pandoc, -d, print.yaml")
    defaults = recipe("With your own pandoc", "yaml").replace("book.tex", "book.pdf")
    book.write("print.yaml", f"{defaults}pdf-engine: lualatex\n")
    assert "The gate passed" in run("fitter build", book.folder)


def test_an_electronic_edition(
    make_markdown_book: Callable[..., BookFolder], run: Callable[..., str]
) -> None:
    book = make_markdown_book()
    run("fitter build", book.folder)
    run(recipe("Markdown books", "sh"), book.folder)
    assert "1 2 3 4 5 6" in run("pandoc build/book.epub -t plain --wrap=none", book.folder)


def test_two_commands_stand_in_their_place() -> None:
    blocks = re.findall(r"^```sh\n(.*?)^```", section("Two commands"), re.DOTALL | re.MULTILINE)
    assert len(blocks) == 2
    assert "fitter build" in blocks[0]
    assert "pytest" in blocks[1]


def test_the_imprint_and_the_keys(book_folder: BookFolder, run: Callable[..., str]) -> None:
    heading = "Imprint page, printer's key, printings"
    settings = recipe(heading, "yaml")
    book_folder.write("book.tex", "").write("book.yaml", f"source: book.tex\n{settings}")
    said = run(f"{recipe(heading, 'sh')}fitter key make --book .", book_folder.folder)
    assert "printing 3, 2028, printer QX" in said
    assert "4 5 6 7 8 9 10\n" in said
    assert "1 3 5 7 9 10 8 6 4 2   30 29 28 27 26\n" in said
    assert "1 2 3 4 5 6 7 8 9 10   QX   30 29 28 27 26\n" in said


@pytest.mark.parametrize("engine", ["typst", "pdflatex"])
def test_the_settings_of_a_markdown_book(
    make_markdown_book: Callable[..., BookFolder], engine: str
) -> None:
    heading = "In a Markdown book"
    settings = f"binding: {{gathering: 16}}\n{recipe(heading, 'yaml')}"
    book = make_markdown_book(engine, settings, (9, 5), front=recipe(heading, "markdown"))
    tried = book.fitter("tighten", "--try", "--extent", "16", "--format", "json").report
    assert tried["settings"]["unused"] == []
    assert tried["drafts"] > 2
    assert tried["settings"]["failed"] == []
