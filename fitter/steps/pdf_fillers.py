"""Ready-made PDF fillers: counted, and compared with the book in size."""

from __future__ import annotations

from pathlib import Path

from fitter.book.catalogue import pdf_fillers
from fitter.book.loader import Book
from fitter.errors import BadInput
from fitter.pdf.pages import is_encrypted, page_count, page_sizes

LARGEST_DIFFERENCE_MM = 1.0


def count_pdf_fillers(book: Book) -> dict[str, int]:
    """Pages of the ready-made PDF fillers, each page the size of the book's. Raises BadInput."""
    takes, faults = {}, []
    for entry in pdf_fillers(book):
        path = book.folder / (entry.source or "")
        takes[entry.id] = page_count(path)
        fault = _encryption_fault(path, entry.source) or _size_fault(book, entry.source or "")
        if fault:
            index = book.catalogue.index(entry)
            faults.append(f"{book.fillers_doc.at(('fillers', index, 'source'))}: {fault}")
    if faults:
        raise BadInput(*faults)
    return takes


def _encryption_fault(path: Path, source: str | None) -> str | None:
    """TeX would put pages of an encrypted file into the book as they are, unreadable."""
    if not is_encrypted(path):
        return None
    return f"'{source}' is encrypted, so its pages cannot be placed. Save it without encryption."


def _size_fault(book: Book, source: str) -> str | None:
    if not book.output.is_file():
        return None
    wanted = page_sizes(book.output)[0]
    for number, size in enumerate(page_sizes(book.folder / source), 1):
        apart = max(abs(size.width_mm - wanted.width_mm), abs(size.height_mm - wanted.height_mm))
        if apart > LARGEST_DIFFERENCE_MM:
            return (
                f"page {number} of '{source}' is {size}, and the book's pages are {wanted}. "
                "Make it again in the book's size; nothing is scaled."
            )
    return None
