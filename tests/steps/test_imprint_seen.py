from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pymupdf
import pytest

from fitter.book.loader import Book, load_book
from fitter.steps.imprint_seen import imprint_seen
from fitter.trade.gate.evidence import Evidence
from fitter.trade.gate.gate import judge
from fitter.trade.gate.verdicts import PageVerdict
from tests.conftest import BookFolder

PAGES = tuple(PageVerdict(n, str(n), "printed", "body") for n in range(1, 13))
LINES = [
    "Wetherlode Press, Ansey",
    "© 2026 Elin Tarrowby. All rights reserved.",
    "First published 2026",
    "ISBN 978-1-234-56789-7",
]


def pdf_with(path: Path, lines: Sequence[str], imprint_at: int = 4, pages: int = 12) -> Path:
    """A book with running text, and an imprint page somewhere in its front."""
    document = pymupdf.open()
    for number in range(1, pages + 1):
        page = document.new_page(width=366, height=561)
        text = lines if number == imprint_at else [f"It rained on the {number}th day."]
        for line, words in enumerate(text):
            for column, group in enumerate(words.split("   ")):
                page.insert_text((40 + 110 * column, 60 + 14 * line), group, fontsize=9)
    document.save(path)
    return path


@pytest.fixture
def book(book_folder: BookFolder) -> Book:
    book_folder.write("book.tex", "")
    book_folder.write(
        "book.yaml",
        "source: book.tex\nimprint:\n  year: 2026\n  isbn: 978-1-234-56789-7\n"
        "  key: {years: 5, printer: QX}\n",
    )
    book_folder.write("printings.yaml", "printings:\n- {printing: 1, year: 2026}\n")
    return load_book(book_folder.folder)


def test_the_imprint_page_is_found_by_what_it_says(book: Book, tmp_path: Path) -> None:
    line = "1 2 3 4 5 6 7 8 9 10   QX   30 29 28 27 26"
    for at in (2, 4, 6, 12):
        seen = imprint_seen(pdf_with(tmp_path / f"{at}.pdf", [*LINES, line], at), book)
        assert (seen.page, seen.keys_found) == (at, (line,))
        assert seen.isbn_stands
        assert seen.isbns_wrong == ()


def test_an_older_key_is_seen_as_it_stands(book: Book, tmp_path: Path) -> None:
    seen = imprint_seen(pdf_with(tmp_path / "a.pdf", [*LINES, "2 3 4 5 6 7 8 9 10"]), book)
    assert seen.keys_found == ("2 3 4 5 6 7 8 9 10",)


def test_a_year_above_the_key_is_no_part_of_it(book: Book, tmp_path: Path) -> None:
    lines = [*LINES, "2026", "1 2 3 4 5 6 7 8 9 10   QX   30 29 28 27 26", "12"]
    seen = imprint_seen(pdf_with(tmp_path / "a.pdf", lines), book)
    assert seen.keys_found == (seen.key_wanted,)


def test_an_isbn_in_ten_signs_is_the_same_number(book: Book, tmp_path: Path) -> None:
    seen = imprint_seen(pdf_with(tmp_path / "a.pdf", [*LINES[:3], "ISBN 1-234-56789-X"]), book)
    assert seen.isbn_stands


def test_another_isbn_and_a_wrong_one(book: Book, tmp_path: Path) -> None:
    lines = [*LINES[:3], "ISBN 978-0-306-40615-7 (cloth)", "ISBN 978-0-306-40615-8 (paper)"]
    seen = imprint_seen(pdf_with(tmp_path / "a.pdf", lines), book)
    assert not seen.isbn_stands
    assert seen.isbns_found == ("978-0-306-40615-7",)
    assert "the last one should be 7" in seen.isbns_wrong[0]


def test_a_wrong_isbn_of_the_book_points_at_its_line(
    book_folder: BookFolder, tmp_path: Path
) -> None:
    book_folder.write("book.tex", "")
    book_folder.write("book.yaml", "source: book.tex\nimprint:\n  isbn: 978-0-306-40615-8\n")
    book = load_book(book_folder.folder)
    seen = imprint_seen(pdf_with(tmp_path / "a.pdf", LINES), book)
    assert seen.isbn_at and Path(seen.isbn_at.file).name == "book.yaml"
    (finding,) = judge(Evidence(PAGES, imprint=seen), {"isbn-missing": "off", "key-missing": "off"})
    assert (finding.rule, finding.page, finding.line) == ("isbn-invalid", None, 3)
    assert "the last one should be 7" in finding.message


def test_any_pdf_has_its_isbns_checked(tmp_path: Path) -> None:
    seen = imprint_seen(pdf_with(tmp_path / "a.pdf", [*LINES[:3], "ISBN 978-0-306-40615-8"]))
    assert (seen.key_wanted, seen.isbn_wanted) == (None, None)
    assert len(seen.isbns_wrong) == 1


def test_house_words_over_the_key(book_folder: BookFolder, tmp_path: Path) -> None:
    book_folder.write("book.tex", "")
    book_folder.write(
        "book.yaml",
        "source: book.tex\n"
        "imprint: {year: 2026, key: {scheme: descending, words: First Edition}}\n",
    )
    book = load_book(book_folder.folder)
    line = "10 9 8 7 6 5 4 3 2"
    with_words = imprint_seen(pdf_with(tmp_path / "a.pdf", [*LINES, "FIRST EDITION", line]), book)
    without = imprint_seen(pdf_with(tmp_path / "b.pdf", [*LINES, line]), book)
    assert (with_words.words_wanted, with_words.words_found) == (True, True)
    assert (without.words_wanted, without.words_found) == (True, False)
    assert with_words.keys_found == without.keys_found == (line,)
