"""The extent that tightening aims at, near the limits of a printer."""

from __future__ import annotations

import pytest

from fitter.book.loader import Book, load_book
from fitter.errors import BadInput
from fitter.steps.aim import aim_of
from fitter.steps.trials import Tried
from fitter.trade.plan import Draft
from tests.conftest import BookFolder


@pytest.fixture
def book(book_folder: BookFolder) -> Book:
    """Gatherings of 4, at a printer that binds at most two of them."""
    book_folder.write("book.tex", "").write("printer.yaml", "gatherings: [4]\npages: 4..8\n")
    book_folder.write("fillers.yaml", "fillers:\n  - {id: notes, page: notes, pages: 1..3}\n")
    book_folder.write(
        "book.yaml", "source: book.tex\nprinter: printer.yaml\nbinding: {gathering: 4}\n"
    )
    return load_book(book_folder.folder)


def of(pages: int) -> Tried:
    return Tried(Draft(pages, None, pages + 1))


def test_a_draft_beyond_the_printer_is_not_reached(book: Book) -> None:
    aim = aim_of(book, of(7), 8)
    assert (aim.now.extent, aim.extent) == (8, 8)
    assert [pages for pages in range(1, 20) if aim.reaches(pages)] == list(range(1, 9))
    assert aim.reached(of(8))
    assert not aim.reached(of(9))


def test_a_book_too_long_for_its_printer_is_tightened_until_it_is_not(book: Book) -> None:
    aim = aim_of(book, of(9))
    assert (aim.now.extent, aim.now.needed, aim.extent) == (12, 9, 8)
    assert aim.reaches(8)
    assert not aim.reaches(9)


def test_an_extent_the_printer_does_not_bind_is_refused_with_the_reason(book: Book) -> None:
    with pytest.raises(BadInput, match=r"no book of 12 pages\. The nearest are 4 and 8"):
        aim_of(book, of(7), 12)
    with pytest.raises(BadInput, match=r"--extent 400: .* this printer binds at most 8"):
        aim_of(book, of(7), 400)
