"""`fitter printing`: add, list, compare."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fitter.book.loader import find_book_file, load_book
from fitter.commands.output import put
from fitter.errors import DONE, BadInput
from fitter.lock import held
from fitter.printings.kept import file_of
from fitter.reports.voice import Voice
from fitter.trade.printing.limits import EditionLimits
from fitter.trade.printing.printings import Printing

if TYPE_CHECKING:
    from fitter.steps.printings import Entered


def add(
    where: Path,
    voice: Voice,
    *,
    form: str,
    pdf: Path | None,
    without_pdf: bool,
    was: Path | None,
    **wishes: Any,
) -> int:
    """Enter a printing in the record, and say how it differs from the last."""
    from fitter.reports.advice_report import advice_json, advice_text
    from fitter.steps.printings import enter

    with held(find_book_file(where).parent, voice.warn):
        entered = enter(where, _entry(**wishes), _pdf(where, pdf, without_pdf), was)
    found = entered.compared
    for warning in _warnings(entered):
        voice.warn(warning)
    put(
        form,
        lambda: {
            "printing": entered.entry.printing,
            "year": entered.entry.year,
            "key": entered.key or None,
            "key_newly_set": entered.key_newly_set,
            "comparison": advice_json(found.comparison, found.advice) if found else None,
        },
        lambda: "\n".join([_told(entered), *([advice_text(found.advice)] if found else [])]),
    )
    return DONE


def list_(where: Path, form: str) -> int:
    """Show the record as it stands."""
    from fitter.reports.printing_report import record_json, record_text
    from fitter.steps.printings import record_with_keys

    record = record_with_keys(load_book(where))
    put(form, lambda: record_json(record), lambda: record_text(record))
    return DONE


def compare(old: Path, new: Path, where: Path | None, form: str) -> int:
    """Compare two PDFs; the verdict is advice, and whatever it is, the status is 0."""
    from fitter.reports.advice_report import advice_json, advice_text
    from fitter.steps.printings import compare_pdfs

    limits = load_book(where).settings.compare.limits if where else EditionLimits()
    compared = compare_pdfs(old, new, limits)
    put(
        form,
        lambda: {
            "old": str(old),
            "new": str(new),
            **advice_json(compared.comparison, compared.advice),
        },
        lambda: advice_text(compared.advice),
    )
    return DONE


def _warnings(entered: Entered) -> Iterator[str]:
    if entered.compared is None:
        return
    yield from entered.compared.advice.warnings
    if entered.compared.advice.verdict == "new edition":
        book, number = entered.book, entered.entry.printing
        yield (
            f"this looks like a new edition, and it is entered as printing {number} all the same. "
            f"If the publisher calls it an edition, take the last entry out of "
            f"{book.printings_file.name}, delete {file_of(book, number).name}, and begin a new "
            "record."
        )


def _told(entered: Entered) -> str:
    entry, book = entered.entry, entered.book
    if entered.kept_only:
        file = file_of(book, entry.printing).name
        return f"The pages of printing {entry.printing} of {entry.year} are kept in {file}."
    anew = " (newly set: the kept line cannot be struck for it)" if entered.key_newly_set else ""
    key = f" Its key: {entered.key}{anew}" if entered.key else ""
    said = f"Printing {entry.printing} of {entry.year} is in {book.printings_file.name}.{key}"
    if entered.compared is None and entry.printing > 1:
        said += (
            f"\nNothing is kept of printing {entry.printing - 1}, so the two were not compared. "
            "Where its PDF is at hand, 'fitter printing compare OLD.pdf NEW.pdf' does it, and so "
            "does --was OLD.pdf the next time."
        )
    return f"{said}\nNow build the book: its key and its history are of this printing."


def _entry(
    *,
    printing: int | None,
    year: int | None,
    date: str | None,
    printer: str | None,
    copies: int | None,
    note: str | None,
) -> Printing:
    day = _day(date) if date else None
    return Printing(
        printing=printing or 0,
        year=year or (day.year if day else 0),
        printer=printer or "",
        date=day.isoformat() if day else "",
        copies=copies or 0,
        note=_one_line(note or ""),
    )


def _day(date: str) -> dt.date:
    try:
        return dt.date.fromisoformat(date)
    except ValueError:
        raise BadInput(f"'{date}' is no date: write it like 2028-03-01.") from None


def _one_line(note: str) -> str:
    return " ".join("".join(sign if sign.isprintable() else " " for sign in note).split())


def _pdf(where: Path, pdf: Path | None, without_pdf: bool) -> Path | None:
    if without_pdf or pdf:
        return pdf
    book = load_book(where)
    if not book.output.is_file():
        raise BadInput(
            f"{book.output}: there is no PDF to take the fingerprint of. Run 'fitter build', name "
            "the file with --pdf, or say --without-pdf."
        )
    return book.output
