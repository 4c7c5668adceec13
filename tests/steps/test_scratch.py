"""Copies of a book in which drafts are tried."""

from __future__ import annotations

import os

from fitter.book.loader import load_book
from fitter.steps.scratch import scratch_copy
from tests.conftest import BookFolder


def copied(book: BookFolder) -> set[str]:
    with scratch_copy(load_book(book.folder)) as copy:
        files = copy.folder.rglob("*")
        return {path.relative_to(copy.folder).as_posix() for path in files if path.is_file()}


def test_links_that_lead_round_in_a_ring_end(book_folder: BookFolder) -> None:
    book_folder.write("book.yaml", "source: book.tex\n").write("book.tex", "")
    book_folder.write("one/a.tex", "").write("two/b.tex", "")
    (book_folder.folder / "a").symlink_to(".")
    (book_folder.folder / "b").symlink_to(".")
    (book_folder.folder / "one/over").symlink_to("../two")
    (book_folder.folder / "two/back").symlink_to("../one")
    assert copied(book_folder) == {
        "book.yaml", "book.tex", "one/a.tex", "two/b.tex", "one/over/b.tex", "two/back/a.tex",
    }  # fmt: skip


def test_what_lies_behind_a_link_is_copied_and_a_pipe_is_not(book_folder: BookFolder) -> None:
    book = BookFolder(book_folder.folder / "book")
    book.write("book.yaml", "source: book.tex\n").write("book.tex", "")
    outside = book_folder.folder / "common"
    outside.mkdir()
    (outside / "look.sty").write_text("")
    (book.folder / "common").symlink_to(outside)
    (book.folder / "gone").symlink_to("nowhere")
    os.mkfifo(book.folder / "pipe")
    assert copied(book) == {"book.yaml", "book.tex", "common/look.sty"}
