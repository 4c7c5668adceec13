"""What a verdict comes from: the files whose change makes it another."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from fitter.book.loader import load_book
from fitter.book.shelf import is_pdf
from fitter.engines.synctex import BESIDE_THE_PDF
from fitter.printings.kept import file_of


def files_behind(where: Path) -> Iterator[Path]:
    """The files behind the verdict on a PDF or a book, there or not; the PDF is the first.

    Raises BadInput for a book that cannot be read.
    """
    book = None if is_pdf(where) else load_book(where)
    pdf = book.output if book else where
    yield pdf
    yield from map(pdf.with_suffix, BESIDE_THE_PDF)
    if book:
        yield from (book.file, book.record, pdf.with_suffix(".log"), book.printings_file)
        yield from (file_of(book, each.printing) for each in book.printings)
        named = (book.fillers_doc.name, book.settings.printer)
        sources = (each.source for each in book.catalogue)
        yield from (book.folder / name for name in (*named, *sources) if name)
