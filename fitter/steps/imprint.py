"""What the imprint page says: the printer's key of the printing being made."""

from __future__ import annotations

from fitter.book.loader import Book
from fitter.errors import BadInput
from fitter.trade.key_make import follow, words_over
from fitter.trade.printings import Printing


def key_of(book: Book) -> str:
    """The key of the printing being made, under its words if it has any; empty without a key."""
    entry = book.settings.imprint.key
    if entry is None:
        return ""
    record = record_of(book)
    line = follow(entry.settings, record)
    words = words_over(entry.settings, record[-1].printing)
    return f"{words}\n{line}" if words else line


def record_of(book: Book) -> tuple[Printing, ...]:
    """The record; where there is none, the first printing in the year of the imprint.

    Raises BadInput where neither says a year.
    """
    if book.printings:
        return tuple(entry.entered for entry in book.printings)
    year = book.settings.imprint.year
    if year is None:
        raise BadInput(
            f"{book.file.name}: the key needs a year. Give 'imprint: year:' or keep a "
            "printings.yaml."
        )
    return (Printing(1, year),)
