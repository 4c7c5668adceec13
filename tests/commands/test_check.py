"""`fitter check` on a book and on any PDF."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pymupdf
import pytest

from tests.conftest import BookFolder

MakeBook = Callable[..., BookFolder]


@pytest.fixture
def thirteen_pages(book_folder: BookFolder) -> Path:
    """A PDF of 13 pages, the seventh of them blank."""
    path = book_folder.folder / "some book.pdf"
    with pymupdf.open() as pdf:
        for number in range(1, 14):
            page = pdf.new_page()
            if number != 7:
                page.insert_text((72, 72), f"Page {number} of a story.")
        pdf.save(path)
    return path


def test_any_pdf_is_judged_without_a_book(book_folder: BookFolder, thirteen_pages: Path) -> None:
    checked = book_folder.fitter("check", thirteen_pages, "--format", "json")
    assert checked.status == 1
    report = checked.report
    assert [page["page"] for page in report["pages"] if page["verdict"] == "blank"] == [7]
    assert [finding["rule"] for finding in report["findings"]] == ["blank-unmarked"]
    assert report["findings"][0]["page"] == 7
    assert report["passed"] is False


def test_the_gatherings_of_any_pdf_are_judged_when_asked(
    book_folder: BookFolder, thirteen_pages: Path
) -> None:
    checked = book_folder.fitter("check", thirteen_pages, "--gathering", "16", "--format", "json")
    found = {finding["rule"]: finding["message"] for finding in checked.report["findings"]}
    assert "16" in found["gathering-not-full"]


def test_an_unmarked_page_in_the_middle_of_a_book_points_at_its_source(
    make_latex_book: MakeBook,
) -> None:
    book = make_latex_book(options="twoside,openright", settings="blanks: {openers: fail}\n")
    built = book.fitter("build", "--format", "json")
    assert built.status == 1
    findings = built.report["check"]["findings"]
    assert findings
    lines = (book.folder / "book.tex").read_text().splitlines()
    for finding in findings:
        if finding["rule"] == "blank-unmarked":
            assert finding["file"] == "book.tex"
            assert lines[finding["line"] - 1].startswith(("\\chapter", "\\mainmatter"))


def test_chapters_that_say_the_same_end_with_text(make_latex_book: MakeBook) -> None:
    book = make_latex_book(packages="\\usepackage[a5paper]{geometry}", lengths=(26,) * 6)
    built = book.fitter("build", "--format", "json")
    with pymupdf.open(book.folder / "build/book.pdf") as pdf:
        lines = [page.get_text().count("\n") for page in pdf]
    assert sum(2 < one < 9 for one in lines) > 4, "most chapters end with a few lines on a page"
    assert "furniture-only" not in {page["verdict"] for page in built.report["check"]["pages"]}
    assert built.status == 0


def test_a_catalogue_that_contradicts_the_record_is_exit_2(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    assert book.fitter("build").status == 0
    catalogue = (book.folder / "fillers.yaml").read_text()
    wrong = catalogue.replace("bio.tex, priority: 1", "bio.tex, priority: 1, pages: 3")
    assert wrong != catalogue
    book.write("fillers.yaml", wrong)
    planned, checked = book.fitter("plan"), book.fitter("check")
    assert (planned.status, checked.status) == (2, 2)
    assert checked.err == planned.err


def test_a_catalogue_that_fits_no_more_does_not_pass(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    assert book.fitter("build").status == 0
    book.write("fillers.yaml", "fillers:\n  - {id: long, page: notes, pages: 60..64}\n")
    checked = book.fitter("check", "--format", "json")
    assert checked.status == 1
    (finding,) = [one for one in checked.report["findings"] if one["rule"] == "filler-lost"]
    assert finding["message"].startswith("no plan could be made for this book: ")


@pytest.mark.parametrize("cut", ["done{}\n", "shipped{"])
def test_a_record_of_another_run_is_told(make_latex_book: MakeBook, cut: str) -> None:
    book = make_latex_book()
    assert book.fitter("build").status == 0
    record = book.folder / "build/book.pages"
    text = record.read_text()
    assert cut in text
    record.write_text(text.replace(cut, "shipped{1" if "shipped" in cut else ""))
    checked = book.fitter("check")
    assert checked.status == 0
    assert "the record beside it is of another run" in checked.err
    assert book.fitter("dummy").status == 0


def test_openers_may_be_allowed(make_latex_book: MakeBook) -> None:
    book = make_latex_book(
        options="twoside,openright",
        settings="blanks: {openers: allow}\n",
        packages="\\pagestyle{empty}",
    )
    report = book.fitter("build", "--format", "json").report
    assert report["check"]["passed"]


@pytest.mark.parametrize(
    ("content", "wanted"),
    [(b"", "empty"), (b"not a pdf at all", "no PDF"), (b"%PDF-1.7\n1 0 obj\n", "PDF")],
)
def test_a_file_that_cannot_be_read_is_exit_2(
    book_folder: BookFolder, content: bytes, wanted: str
) -> None:
    (book_folder.folder / "bad.pdf").write_bytes(content)
    checked = book_folder.fitter("check", "bad.pdf")
    assert checked.status == 2
    assert wanted in checked.err
    assert "Traceback" not in checked.err


def test_an_encrypted_pdf_is_exit_2(book_folder: BookFolder) -> None:
    with pymupdf.open() as pdf:
        pdf.new_page()
        pdf.save(
            book_folder.folder / "locked.pdf",
            encryption=pymupdf.PDF_ENCRYPT_AES_256,
            user_pw="secret",
            owner_pw="more secret",
        )
    checked = book_folder.fitter("check", "locked.pdf")
    assert checked.status == 2
    assert "password" in checked.err


def test_a_book_not_built_yet_says_so(make_latex_book: MakeBook) -> None:
    checked = make_latex_book().fitter("check")
    assert checked.status == 2
    assert "fitter build" in checked.err


@pytest.mark.parametrize("size", ["", "0", " , "])
def test_a_gathering_of_nothing_is_refused(
    book_folder: BookFolder, thirteen_pages: Path, size: str
) -> None:
    refused = book_folder.fitter("check", thirteen_pages, "--gathering", size)
    assert refused.status == 2
    assert "--gathering: name a size, like 16 or 32,16" in refused.err
