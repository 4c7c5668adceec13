"""The record of a Typst book, in the words in which fitter.sty writes a LaTeX book's."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from fitter.book.loader import Book
from fitter.engines.headings import Place, heading_places
from fitter.engines.markdown import source_texts
from fitter.engines.record import record_line
from fitter.engines.typst_marks import text_words

Told = Mapping[str, Any]


def record_text(book: Book, told: Told, measured: Told) -> str:
    """`told` is what the book's `fitter-record` says, `measured` that of the candidates alone."""
    text = text_words(book, told)
    lines = [*_pages(book, told), *_notes(told), *_openers(told), *_takes(measured), *text]
    ends = [record_line("shipped", len(told["pages"])), record_line("done", "")]
    return "".join(f"{line}\n" for line in [record_line("record", 1), *lines, *ends])


def _pages(book: Book, told: Told) -> Iterator[str]:
    """Each page with its folio and the last heading that opens on it or before it."""
    headings = [note for note in told["notes"] if note["words"][0] == "heading"]
    places = heading_places([note["words"][2] for note in headings], source_texts(book))
    opened: dict[int, Place] = {
        note["page"]: place for note, place in zip(headings, places, strict=True) if place
    }
    blank = set(told["blank-versos"])
    file, line = "", 0
    for page, folio in enumerate(told["pages"], 1):
        file, line = opened.get(page + (page in blank), (file, line))
        yield record_line("page", page, folio, file, line)


def _notes(told: Told) -> Iterator[str]:
    for note in told["notes"]:
        word, *more = note["words"]
        if word == "slot":
            yield record_line("slot", more[0], note["before"])
        elif word in ("begin", "end"):
            yield record_line(word, more[0], note["page"])
        elif word == "blanks":
            yield record_line("blanks", note["page"], more[0])
        elif word == "reached":
            yield record_line("wants", "recto", note["page"])
        elif word in ("key", "isbn"):
            yield record_line(word, note["page"])


def _openers(told: Told) -> Iterator[str]:
    for page in told["blank-versos"]:
        yield record_line("opener", page)


def _takes(measured: Told) -> Iterator[str]:
    first: dict[str, int] = {}
    for note in measured["notes"]:
        word, *more = note["words"]
        if word == "begin":
            first[more[0]] = note["page"]
        elif word == "end":
            yield record_line("takes", more[0], note["page"] - first[more[0]] + 1)
