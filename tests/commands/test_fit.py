"""The steps for people with their own build: draft, fit, final, check."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable

from tests.conftest import ROOT, BookFolder

MakeBook = Callable[..., BookFolder]


def latexmk(book: BookFolder) -> None:
    """The author's own build, as the README's recipe has it."""
    subprocess.run(
        ["latexmk", "-pdf", "-interaction=nonstopmode", "-outdir=build", "book.tex"],
        cwd=book.folder,
        env={**os.environ, "TEXINPUTS": f"{ROOT / 'latex'}:"},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        check=True,
    )


def test_own_draft_fit_own_final_check(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    latexmk(book)
    fitted = book.fitter("fit", "--format", "json")
    assert fitted.status == 0, fitted.err
    latexmk(book)
    checked = book.fitter("check", "--format", "json")
    assert checked.status == 0, checked.out
    assert len(checked.report["pages"]) == fitted.report["extent"]
    again = book.fitter("fit", "--format", "json")
    assert again.report == fitted.report
    assert "says so already" in again.err


def test_a_filler_for_the_front_of_a_text_without_a_place_for_it_is_told(
    make_latex_book: MakeBook,
) -> None:
    book = make_latex_book()
    source = book.folder / "book.tex"
    source.write_text(source.read_text().replace("\\fillerslot{front}\n", ""))
    for command in ("build", "fit"):
        told = book.fitter(command)
        assert told.status == 0
        assert "fillers.yaml:2: 'praise' is left out, for it stands in front" in told.err


def test_a_draft_that_knew_no_catalogue_is_measured_first(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    latexmk(book)
    fitted = book.fitter("fit")
    assert "has not measured bio, tables: building it once more" in fitted.err
    assert "Printer, binder and publisher have the last word." in fitted.out


def test_a_final_build_without_the_inserts_is_caught(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    latexmk(book)
    book.fitter("fit")
    (book.folder / "book-inserts.tex").unlink()
    latexmk(book)
    checked = book.fitter("check", "--format", "json")
    assert checked.status == 1
    rules = {finding["rule"] for finding in checked.report["findings"]}
    assert "filler-lost" in rules
    assert "gathering-not-full" in rules


def test_fit_without_a_draft_says_what_to_do(make_latex_book: MakeBook) -> None:
    fitted = make_latex_book().fitter("fit")
    assert fitted.status == 2
    assert "build/book.pdf: there is no draft PDF" in fitted.err


def test_a_pdf_and_a_record_of_two_runs_are_refused(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    latexmk(book)
    record = book.folder / "build/book.pages"
    record.write_text(record.read_text().replace("shipped{", "shipped{1"))
    fitted = book.fitter("fit")
    assert fitted.status == 2
    assert "not of one run" in fitted.err


def test_the_book_builds_the_same_without_the_tool(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    report = book.fitter("build", "--format", "json").report
    (book.folder / "build/book.pdf").unlink()
    latexmk(book)
    checked = book.fitter("check", "--format", "json").report
    assert checked["passed"]
    assert checked["pages"] == report["check"]["pages"]
