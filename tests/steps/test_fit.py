"""What is told of a plan that was made for a book."""

from __future__ import annotations

import pytest

from fitter.book.loader import Book, load_book
from fitter.steps.fit import left_out, never_in_front
from fitter.trade.plan import Draft
from tests.conftest import BookFolder

WITH_SLOT, WITHOUT_SLOT = Draft(30, 3, 31), Draft(30, None, 31)
PRAISE = "{id: praise, page: notes, pages: 1, place: front}"


def book_with(folder: BookFolder, *fillers: str) -> Book:
    folder.write("book.tex", "").write("book.yaml", "source: book.tex\n")
    folder.write("fillers.yaml", "fillers:\n" + "".join(f"  - {one}\n" for one in fillers))
    return load_book(folder.folder)


def test_a_front_filler_that_nothing_evens_out_is_told_by_its_line(book_folder: BookFolder) -> None:
    [said] = never_in_front(book_with(book_folder, PRAISE), WITH_SLOT, {})
    assert said.startswith("fillers.yaml:2: 'praise' is never placed")


@pytest.mark.parametrize(
    "other",
    [
        "{id: map, page: notes, pages: 3, place: front}",
        "{id: map, page: notes, pages: 2..3, place: front}",
    ],
)
def test_another_odd_one_in_front_evens_it_out(book_folder: BookFolder, other: str) -> None:
    assert never_in_front(book_with(book_folder, PRAISE, other), WITH_SLOT, {}) == []


@pytest.mark.parametrize("pages", ["2", "1..2"])
def test_one_that_can_be_even_needs_no_other(book_folder: BookFolder, pages: str) -> None:
    alone = PRAISE.replace("pages: 1", f"pages: {pages}")
    assert never_in_front(book_with(book_folder, alone), WITH_SLOT, {}) == []


def test_without_a_slot_the_slot_alone_is_missing(book_folder: BookFolder) -> None:
    book = book_with(book_folder, PRAISE)
    assert never_in_front(book, WITHOUT_SLOT, {}) == []
    [said] = left_out(book, WITHOUT_SLOT)
    assert "Add \\fillerslot{front}" in said
