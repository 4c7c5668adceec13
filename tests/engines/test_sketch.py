"""A first rough run in real TeX: what it tells, what it leaves, and when there is none."""

from __future__ import annotations

import shutil
from collections.abc import Callable

import pytest

from fitter.book.loader import load_book
from fitter.engines.engine import engine_of
from fitter.engines.record import Record
from tests.conftest import BookFolder

MakeBook = Callable[..., BookFolder]
PLACEHOLDERS = r"\providecommand\imprintkey{}\providecommand\fillerslot[1]{}"
LONG_CONTENTS = (1,) * 100  # more chapters than one page of contents has lines


def sketched(book: BookFolder) -> Record | None:
    loaded = load_book(book.folder)
    return engine_of(loaded).sketch(loaded, lambda text, page=0: None)


@pytest.mark.parametrize("engine", ["pdflatex", "lualatex", "xelatex"])
def test_a_first_run_counts_pages_and_leaves_no_pdf(make_latex_book: MakeBook, engine: str) -> None:
    book = make_latex_book(engine)
    record = sketched(book)
    assert record
    assert record.finished
    assert record.text_pages > 10
    assert not list(book.folder.rglob("*.pdf"))
    assert (book.folder / "build/book-tex/book.toc").is_file()


def test_what_was_typeset_before_needs_no_sketch(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    assert sketched(book)
    assert sketched(book) is None


def test_a_run_that_fails_leaves_nothing(make_latex_book: MakeBook) -> None:
    book = make_latex_book(end="\\nonsense")
    assert sketched(book) is None
    assert not (book.folder / "build/book-tex").exists()


def test_two_runs_make_a_book_whose_contents_take_the_page_they_had(
    make_latex_book: MakeBook,
) -> None:
    built = make_latex_book(lengths=(30, 8)).fitter("build", "--format", "json")
    assert built.status == 0, built.err
    assert built.report["engine_runs"] == 2
    assert "draft: pdflatex, run 1" in built.err
    assert "final: pdflatex, run 1" in built.err


def test_a_choice_by_a_sketch_without_contents_is_made_anew(make_latex_book: MakeBook) -> None:
    book = make_latex_book(cls="report", lengths=LONG_CONTENTS)
    rough = sketched(book)
    assert rough
    shutil.rmtree(book.folder / "build")
    built = book.fitter("build", "--format", "json")
    assert built.status == 0, built.err
    assert built.report["plan"]["text_pages"] > rough.text_pages
    assert built.report["check"]["passed"]


def test_a_source_without_the_package_is_told_after_one_run(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    source = (book.folder / "book.tex").read_text()
    book.write("book.tex", source.replace("\\usepackage{fitter}", PLACEHOLDERS))
    built = book.fitter("build")
    assert built.status == 2
    assert built.err.count("run 1") == 1
    assert "run 2" not in built.err
    assert "Add \\usepackage{fitter} to the preamble." in built.err
    book.write(
        ".latexmkrc",
        r"""$pdflatex = 'pdflatex -jobname=%R %O "\RequirePackage{fitter}\input{%S}"';""",
    )
    built = book.fitter("build")
    assert built.status == 0, built.err


def test_settings_of_the_author_s_for_latexmk_hold_where_the_sketch_fails(
    make_latex_book: MakeBook,
) -> None:
    book = make_latex_book(packages="\\usepackage{house}")
    book.write("styles/house.sty", "\\ProvidesPackage{house}\n")
    book.write(".latexmkrc", "ensure_path('TEXINPUTS', './styles//');\n")
    built = book.fitter("build", "--format", "json")
    assert built.status == 0, built.err
    assert built.report["check"]["passed"]


def test_a_viewer_that_the_author_s_settings_start_is_left_out(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    book.write(".latexmkrc", "$preview_continuous_mode = 1; $pdf_previewer = 'touch viewed %S';")
    built = book.fitter("build", "--format", "json")
    assert built.status == 0, built.err
    assert not (book.folder / "viewed").exists()


def test_markdown_is_sketched_by_way_of_pandoc(make_markdown_book: MakeBook) -> None:
    record = sketched(make_markdown_book("pdflatex"))
    assert record
    assert record.text_pages > 10
