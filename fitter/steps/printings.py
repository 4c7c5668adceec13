"""The printing that is made now: its fingerprint taken, compared with the last, and entered."""

from __future__ import annotations

import datetime as dt
from collections.abc import Container
from dataclasses import dataclass, replace
from pathlib import Path

from fitter.book.loader import Book, load_book
from fitter.book.models import PrintingEntry
from fitter.book.this_year import this_year
from fitter.engines.record import Record
from fitter.errors import BadInput, CannotFit
from fitter.pdf.fingerprint import fingerprint
from fitter.pdf.pages import page_count
from fitter.printings.kept import Kept, as_text, file_of, read_kept
from fitter.printings.record_file import append
from fitter.steps.draft import draft_of, record_of
from fitter.steps.fit import fit
from fitter.steps.imprint import key_line_of
from fitter.steps.imprint_seen import imprint_seen
from fitter.trade.key.make import follow, newly_set
from fitter.trade.printing.comparison import Comparison, compare
from fitter.trade.printing.edition import Advice, advise
from fitter.trade.printing.limits import EditionLimits
from fitter.trade.printing.printings import Printing, record_faults
from fitter.writing import write_whole


@dataclass(frozen=True, slots=True)
class Compared:
    """Two printings side by side, and the advice on them."""

    comparison: Comparison
    advice: Advice


@dataclass(frozen=True, slots=True)
class Entered:
    """The book with its new entry; `compared` is None where the last printing left nothing.

    `kept_only` tells that the entry stood there already, and only its pages were kept now.
    """

    book: Book
    entry: Printing
    key: str
    key_newly_set: bool
    compared: Compared | None
    kept_only: bool = False


def compare_pdfs(old: Path, new: Path, limits: EditionLimits) -> Compared:
    """Compare two PDFs of a book. Raises BadInput for one that cannot be read, or is a scan."""
    return _compared(_taken(old), _taken(new), limits)


def enter(where: Path, entry: Printing, pdf: Path | None, was: Path | None) -> Entered:
    """Enter a printing: fingerprint first, then the record, so that neither is ever half.

    A number of 0 means the next one, a year of 0 this one; the number of the last entry keeps its
    pages, if none are kept. `pdf` is None for a printing whose PDF is gone, `was` the PDF of the
    last printing where no fingerprint of it is kept. Raises BadInput for an entry that cannot be
    true, and then nothing is written.
    """
    book = load_book(where)
    if pdf and (last := _stands_unkept(book, entry)):
        _keep(book, _kept(book, last, pdf))
        return Entered(book, last, key_line_of(book), False, None, kept_only=True)
    entry = _numbered(book, entry)
    then = replace(book, printings=(*book.printings, _as_written(entry)))
    kept = _kept(then, entry, pdf) if pdf else None
    before = _before(book, entry.printing, was)
    new_key = _newly_set(then)
    limits = book.settings.compare.limits
    compared = _compared(before, kept, limits, new_key=new_key) if before and kept else None
    if kept:
        _keep(book, kept)
    append(book.printings_file, _values(entry, kept))
    book = load_book(where)
    return Entered(book, entry, key_line_of(book), new_key, compared)


def _keep(book: Book, kept: Kept) -> None:
    """Write a fingerprint. Raises BadInput where a file that is none has its name."""
    file = file_of(book, kept.printing)
    read_kept(file)
    write_whole(file, as_text(kept))


def _stands_unkept(book: Book, entry: Printing) -> Printing | None:
    """The last printing of the record, if it is the one meant and nothing is kept of it yet."""
    last = book.printings[-1].entered if book.printings else None
    if last is None or last.printing != entry.printing or file_of(book, last.printing).is_file():
        return None
    same = replace(entry, year=entry.year or last.year) == Printing(last.printing, last.year)
    return last if same else None


def _as_written(entry: Printing) -> PrintingEntry:
    return PrintingEntry(
        printing=entry.printing,
        year=entry.year,
        printer=entry.printer or None,
        copies=entry.copies or None,
    )


def _kept(book: Book, entry: Printing, pdf: Path) -> Kept:
    """What is kept of a printing of the book, whose record ends with it."""
    edition = book.settings.imprint.edition or ""
    record = _record_of_pdf(book, pdf)
    kept = _taken(pdf, entry.printing, edition, record.filled if record else ())
    return replace(kept, book=replace(kept.book, extent=_extent(book, record)))


def _record_of_pdf(book: Book, pdf: Path) -> Record | None:
    """What the build recorded, where the PDF is the book's own and its record is of one run."""
    own = book.output.is_file() and pdf.samefile(book.output)
    return record_of(book, page_count(pdf)) if own else None


def _extent(book: Book, record: Record | None) -> int:
    """The extent the printing will be built to, for other copies may fold another way.

    0 where it is not known, so the pages of the PDF are what there is.
    """
    if record is None:
        return 0
    try:
        return fit(book, draft_of(book, record)).extent
    except (BadInput, CannotFit):  # the next build tells what is amiss
        return 0


def record_with_keys(book: Book) -> list[tuple[Printing, str, bool]]:
    """Every printing of the record, its key, and whether its fingerprint is kept."""
    record = [one.entered for one in book.printings]
    entry = book.settings.imprint.key
    return [
        (
            one,
            follow(entry.settings, record[:n]) if entry else "",
            file_of(book, one.printing).is_file(),
        )
        for n, one in enumerate(record, 1)
    ]


def _newly_set(book: Book) -> bool:
    entry = book.settings.imprint.key
    record = [one.entered for one in book.printings]
    return newly_set(entry.settings, record) if entry else False


def _numbered(book: Book, entry: Printing) -> Printing:
    record = [one.entered for one in book.printings]
    entry = replace(
        entry, printing=entry.printing or len(record) + 1, year=entry.year or this_year()
    )
    faults = record_faults(dict(enumerate([*record, entry])), book.settings.imprint.year)
    if faults:
        raise BadInput(*(f"{book.printings_file.name}: {fault.said}" for fault in faults))
    if book.settings.imprint.key:
        follow(book.settings.imprint.key.settings, [*record, entry])  # refuses what gives no key
    return entry


def _taken(pdf: Path, printing: int = 0, edition: str = "", fillers: Container[int] = ()) -> Kept:
    isbns = imprint_seen(pdf).isbns_found
    return Kept(printing, edition, isbns[0] if isbns else "", fingerprint(pdf, fillers))


def _before(book: Book, printing: int, was: Path | None) -> Kept | None:
    if was:
        kept = _taken(was, printing - 1, book.settings.imprint.edition or "")
        if printing > 1:
            _keep(book, kept)
        return kept
    return read_kept(file_of(book, printing - 1)) if printing > 1 else None


def _compared(old: Kept, new: Kept, limits: EditionLimits, *, new_key: bool = False) -> Compared:
    comparison = compare(old.book, new.book)
    same = new.isbn if new.isbn == old.isbn else ""
    return Compared(comparison, advise(comparison, limits, same, new_key=new_key))


def _values(entry: Printing, kept: Kept | None) -> dict[str, object]:
    """The entry as it goes into the file, without what it does not say."""
    extent = entry.extent or (kept.book.bound if kept else 0)
    values = {
        "printing": entry.printing,
        "year": entry.year,
        "date": dt.date.fromisoformat(entry.date) if entry.date else None,
        "printer": entry.printer,
        "copies": entry.copies,
        "extent": extent,
        "note": entry.note,
    }
    return {key: value for key, value in values.items() if value}
