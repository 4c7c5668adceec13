"""The inserts for Typst: lines of texts, and what fitter.lua makes of them."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

from fitter.book.loader import load_book
from fitter.inserts import typst
from fitter.inserts.chosen import Chosen
from fitter.inserts.content import Inserts, Placement, is_ours
from fitter.trade.fill.choose import Placed
from tests.conftest import BookFolder

FILLERS = """fillers:
  - {id: bio, source: fillers/bio.md}
  - {id: ad, source: fillers/ad.pdf}
  - {id: notes, page: notes, lines: dotted, title: 'My "notes"', pages: 1..4}
  - {id: empty, page: marked-blank, pages: 1..4}
"""


def inserts(book: BookFolder, *placed: Placed, end_blanks: int = 0) -> Inserts:
    book.write("a.md", "# A\n").write("fillers/bio.md", "Bio").write("fillers/ad.pdf", "%PDF-")
    book.write("book.yaml", "source: a.md\nblanks: {mark: 'Left \\ \"blank\".'}\n")
    book.write("fillers.yaml", FILLERS)
    loaded = load_book(book.folder)
    placement = Placement(placed, end_blanks)
    return Inserts(loaded, "1 2 3", ("First", "Then"), "978", {"ad": 2}, placement)


def lines(text: str) -> list[list[str]]:
    return [json.loads(line) for line in text.splitlines()]


def test_what_was_chosen_is_said_line_by_line(book_folder: BookFolder) -> None:
    placed = (
        Placed("bio", "front", 2, 5),
        Placed("ad", "back", 2, 20),
        Placed("notes", "back", 3, 22),
        Placed("empty", "back", 1, 25),
    )
    said = lines(typst.render(inserts(book_folder, *placed, end_blanks=1)))
    assert said[0][0] == "note"
    assert said[1:] == [
        ["mark", 'Left \\ "blank".'],
        ["openers", "mark"],
        ["key", "1 2 3"],
        ["isbn", "978"],
        ["history", "First"],
        ["history", "Then"],
        ["candidate", "bio", "fillers/bio.md"],
        ["place", "front", "text", "bio"],
        ["place", "back", "pdf", "ad", "2", "/fillers/ad.pdf"],
        ["place", "back", "notes", "notes", "3", "dotted", 'My "notes"'],
        ["place", "back", "marked-blank", "empty", "1"],
        ["end-blanks", "1"],
    ]


def test_the_part_before_the_choice_is_the_beginning_of_the_whole(book_folder: BookFolder) -> None:
    made = inserts(book_folder, Placed("bio", "back", 1, 9))
    assert typst.render(made).startswith(typst.before_choice(made))
    assert is_ours(typst.render(made))


def test_choices_are_read_back(book_folder: BookFolder) -> None:
    made = inserts(book_folder)
    settings = "settings: {leading: {values: [1.00, 0.99]}, grid: {values: [4, 5]}}\n"
    book_folder.write("book.yaml", "source: a.md\n" + settings)
    made = replace(made, book=load_book(book_folder.folder), chosen=Chosen({"leading": "0.99"}))
    text = typst.render(made)
    assert typst.parse(text) == Chosen({"leading": "0.99", "grid": "4"})
    assert [json.loads(line)[0] for line in typst.for_pandoc(text)] == [
        "setting", "setting", "candidate",
    ]  # fmt: skip


def test_no_line_but_says_texts(book_folder: BookFolder, tmp_path: Path) -> None:
    said = lines(typst.render(inserts(book_folder, Placed("notes", "back", 1, 9))))
    assert all(isinstance(text, str) for line in said for text in line)
