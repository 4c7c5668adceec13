"""What `check` is pointed at: books, PDFs, or folders full of either."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from fitter.book.kinds import names_pdf

BOOK_FILE = "book.yaml"


def on_shelf(named: Iterable[Path]) -> list[Path]:
    """Every book and PDF named, in order and once; a folder without a book.yaml of its own stands
    for the books and the PDFs below it.

    What is neither stays as it was named: whoever reads it will say what is wrong with it.
    """
    return list(dict.fromkeys(found for path in named for found in _found(path)))


def is_pdf(path: Path) -> bool:
    """Whether a path is to be read as a PDF and not as a book."""
    return names_pdf(path) and not path.is_dir()


def _found(path: Path) -> Iterator[Path]:
    if not path.is_dir() or (path / BOOK_FILE).exists():
        yield path
        return
    books = [file.parent for file in sorted(path.rglob(BOOK_FILE))]
    pdfs = [file for file in sorted(path.rglob("*")) if is_pdf(file) and file.is_file()]
    loose = [pdf for pdf in pdfs if not any(book in pdf.parents for book in books)]
    yield from [*books, *loose] or [path]
