"""From what a Typst document tells to the words of a record."""

from __future__ import annotations

from typing import Any

from fitter.book.loader import load_book
from fitter.engines.record import Origin, Span, parse_record
from fitter.engines.typst_record import record_text
from tests.conftest import BookFolder


def note(page: int, before: int, *words: str) -> dict[str, Any]:
    return {"words": list(words), "page": page, "before": before}


TOLD = {
    "pages": ["i", "ii", "1", "2", "3", "4", "5", "6"],
    "blank-versos": [4],
    "notes": [
        note(2, 1, "key"),
        note(2, 2, "slot", "front"),
        note(3, 2, "heading", "1", "One"),
        note(3, 3, "left"),
        note(5, 4, "heading", "2", "Two"),
        note(5, 5, "slot", "back"),
        note(6, 5, "begin", "bio"),
        note(7, 7, "end", "bio"),
        note(8, 7, "blanks", "1"),
    ],
}
MEASURED = {"notes": [note(1, 0, "begin", "bio"), note(2, 2, "end", "bio")]}


def test_the_record_is_read_as_one_from_latex(book_folder: BookFolder) -> None:
    book_folder.write("a.md", "# One\n\nText\n\n# Two\n").write("book.yaml", "source: a.md\n")
    record = parse_record(record_text(load_book(book_folder.folder), TOLD, MEASURED))
    assert record.finished
    assert record.extent == 8
    assert record.text_pages == 5
    assert record.slots == {"front": 2, "back": 5}
    assert record.slot_at("front") == 3
    assert record.slot_at("back") == 6
    assert record.fillers == (Span("bio", 6, 7),)
    assert record.takes == {"bio": 2}
    assert record.openers == {4}
    assert record.end_blanks == 1
    assert record.pages[:5] == (
        Origin("i", "", 0),
        Origin("ii", "", 0),
        Origin("1", "a.md", 1),
        Origin("2", "a.md", 5),
        Origin("3", "a.md", 5),
    )


def test_no_folio_can_be_taken_for_another_fact(book_folder: BookFolder) -> None:
    book_folder.write("a.md", "# One\n").write("book.yaml", "source: a.md\n")
    folios = ["{1", "2}", "3\ndone{}", "{4}"]
    told = {"pages": folios, "blank-versos": [], "notes": []}
    text = record_text(load_book(book_folder.folder), told, {"notes": []})
    record = parse_record(text)
    assert [page.folio for page in record.pages] == ["(1", "2)", "3 done()", "(4)"]
    assert text.count("done{}") == 1
