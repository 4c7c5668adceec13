"""What the imprint page is to say."""

from __future__ import annotations

from dataclasses import replace

from fitter.book.isbn import as_printed
from fitter.book.loader import Book
from fitter.errors import BadInput
from fitter.trade.imprint.order import ORDERS, WORDING, Imprint, history, language_of
from fitter.trade.key.make import follow, words_over
from fitter.trade.printing.printings import Printing


def key_of(book: Book) -> str:
    """The key of the printing being made, under its words if it has any; empty without a key."""
    words, line = words_of(book), key_line_of(book)
    return f"{words}\n{line}" if words else line


def imprint_of(book: Book) -> Imprint:
    """All that book.yaml and the record give for the imprint page."""
    entry = book.settings.imprint
    return Imprint(
        year=entry.year,
        holder=entry.copyright or book.settings.author,
        edition=entry.edition or "",
        isbn=as_printed(entry.isbn or ""),
        key=key_of(book),
        key_words=entry.key.words or "" if entry.key else "",
        language=book.settings.language,
        said=entry.said,
        wording={k: words for k, words in entry.wording.model_dump().items() if words},
        record=tuple(one.entered for one in book.printings),
        dated=entry.order == ORDERS["european"],
    )


def language_told(book: Book) -> list[str]:
    """A sentence where the history is in English because nobody knows its words in the language."""
    imprint = imprint_of(book)
    if language_of(imprint) in WORDING or history(imprint) == history(
        replace(imprint, language="de")
    ):
        return []
    return [
        f"{book.book_doc.at(('language',))}: the history of the printings is in English, for its "
        f"words are not known in '{imprint.language}', only in {', '.join(WORDING)}. Give them in "
        "'imprint: wording:'."
    ]


def key_line_of(book: Book) -> str:
    """The line of the key alone; empty where book.yaml asks for none."""
    entry = book.settings.imprint.key
    return follow(entry.settings, record_of(book)) if entry else ""


def words_of(book: Book) -> str:
    """The words that the house rule wants over this printing's key, mostly none."""
    entry = book.settings.imprint.key
    return words_over(entry.settings, record_of(book)[-1].printing) if entry else ""


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
