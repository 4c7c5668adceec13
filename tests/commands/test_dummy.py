"""`fitter dummy` as a user meets it; the page itself is looked at in tests/reports/dummy."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pymupdf
import pytest

from tests.conftest import BookFolder
from tests.drawn import drawn, text

MakeBook = Callable[..., BookFolder]


@pytest.fixture
def pdf(book_folder: BookFolder) -> Path:
    """A PDF of 13 pages without any book.yaml."""
    return drawn(book_folder.folder / "some book.pdf", *[text] * 13)


def test_any_pdf_has_a_dummy_beside_it(book_folder: BookFolder, pdf: Path) -> None:
    done = book_folder.fitter("dummy", pdf)
    assert done.status == 0
    assert (book_folder.folder / "some book-dummy.html").is_file()
    assert "13 pages, 1 gathering of 16" in done.out and "Open it in a browser" in done.out
    assert "drawing the pages" in done.err


def test_json_says_where_it_is_and_what_is_in_it(book_folder: BookFolder, pdf: Path) -> None:
    done = book_folder.fitter("dummy", pdf, "--gathering", "8", "--format", "json", "-q")
    assert done.report == {
        "file": str(book_folder.folder / "some book-dummy.html"),
        "pages": 13,
        "gatherings": [8, 8],
        "findings": 1,
    }
    assert done.err == ""


def test_a_pdf_whose_name_is_no_text_has_a_dummy(book_folder: BookFolder, pdf: Path) -> None:
    odd = pdf.rename(pdf.with_name(os.fsdecode(b"caf\xe9.pdf")))
    done = book_folder.fitter("dummy", odd, "--output", "d.html")
    assert done.status == 0, done.err
    assert "caf?.pdf" in (book_folder.folder / "d.html").read_text(encoding="utf-8")


def test_a_page_of_the_author_s_is_not_written_over(book_folder: BookFolder, pdf: Path) -> None:
    book_folder.write("some book-dummy.html", "<title>my own</title>")
    done = book_folder.fitter("dummy", pdf)
    assert (done.status, done.out) == (2, "")
    assert "some book-dummy.html: this is the name of the folding dummy" in done.err
    assert (book_folder.folder / "some book-dummy.html").read_text() == "<title>my own</title>"
    assert book_folder.fitter("dummy", pdf, "--output", "other.html").status == 0
    (book_folder.folder / "other.html").rename(book_folder.folder / "some book-dummy.html")
    assert book_folder.fitter("dummy", pdf).status == 0


def test_no_folder_is_made_for_a_dummy(book_folder: BookFolder, pdf: Path) -> None:
    done = book_folder.fitter("dummy", pdf, "--output", "nowhere/d.html")
    assert (done.status, (book_folder.folder / "nowhere").exists()) == (2, False)
    assert "--output: there is no folder nowhere. Make it, or name another." in done.err


def test_the_same_pdf_makes_the_same_file(book_folder: BookFolder, pdf: Path) -> None:
    made = []
    for name in ("one.html", "two.html"):
        assert book_folder.fitter("dummy", pdf, "--output", name).status == 0
        made.append((book_folder.folder / name).read_bytes())
    assert made[0] == made[1]


def test_a_book_is_shown_as_it_was_built(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    assert book.fitter("build").status == 0
    done = book.fitter("dummy", "--format", "json")
    plan = book.fitter("plan", "--format", "json").report
    assert done.status == 0
    assert done.report["gatherings"] == plan["gatherings"]
    assert (book.folder / "build/book-dummy.html").is_file()


def test_without_a_record_every_page_counts_as_text(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    assert book.fitter("build").status == 0
    (book.folder / "build/book.pages").unlink()
    done = book.fitter("dummy", "--format", "json")
    with pymupdf.open(book.folder / "build/book.pdf") as built:
        assert done.report["pages"] == len(built)


def test_a_book_that_is_not_built_yet_is_told_so(make_latex_book: MakeBook) -> None:
    done = make_latex_book().fitter("dummy")
    assert done.status == 2
    assert "there is no PDF yet. Run 'fitter build' first." in done.err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["no such.pdf"], "no such.pdf: there is no such file"),
        (["some book.pdf", "--output", "some book.pdf"], "the dummy is an HTML file"),
        (["some book.pdf", "--gathering", "15"], "a gathering of 15 pages cannot be folded"),
        (["broken.pdf"], "broken.pdf: this is no PDF"),
        (["some book.pdf", "--output", "a\nb.html"], "'a\\nb.html' has control characters"),
    ],
)
def test_mistakes_are_told_in_a_sentence(
    book_folder: BookFolder, pdf: Path, arguments: list[str], said: str
) -> None:
    book_folder.write("broken.pdf", "This is a letter.")
    before = pdf.read_bytes()
    done = book_folder.fitter("dummy", *arguments)
    assert done.status == 2
    assert said in done.err and "Traceback" not in done.err
    assert pdf.read_bytes() == before


def test_a_book_too_long_for_its_printer_is_still_shown(make_latex_book: MakeBook) -> None:
    book = make_latex_book(settings="binding: {gathering: 16}\n")
    assert book.fitter("build").status == 0
    pages = len(book.fitter("check", "--format", "json").report["pages"])
    book.write("book.yaml", (book.folder / "book.yaml").read_text() + "printer: printer.yaml\n")
    book.write("printer.yaml", f"pages: 2..{pages - 16}\ngatherings: [16]\n")
    done = book.fitter("dummy", "--format", "json")
    assert done.status == 0, done.err
    assert sum(done.report["gatherings"]) == pages


def test_a_page_that_cannot_be_read_is_a_finding_and_no_end(
    book_folder: BookFolder, pdf: Path
) -> None:
    with pymupdf.open(pdf) as document:
        document.xref_set_key(document[4].xref, "Contents", "9999 0 R")
        document.saveIncr()
    done = book_folder.fitter("dummy", pdf, "--format", "json")
    assert done.status == 0
    assert done.report["findings"] == 1
    shown = (book_folder.folder / "some book-dummy.html").read_text(encoding="utf-8")
    assert "The gate did not pass: 1 error." in shown
    assert shown.count("page-damaged") == 1
