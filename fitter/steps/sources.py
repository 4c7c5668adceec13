"""Which file and line made each page, named as seen from the current folder."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from fitter.book.loader import Book
from fitter.engines.record import Record
from fitter.engines.synctex import read_synctex
from fitter.trade.gate.evidence import Source


def from_here(path: Path) -> str:
    """A path below the current folder without it; any other as it is."""
    here = Path.cwd().resolve()
    whole = path.resolve()
    return whole.relative_to(here).as_posix() if whole.is_relative_to(here) else path.as_posix()


def sources_of_book(book: Book, record: Record | None) -> Mapping[int, Source]:
    """From the record, else from SyncTeX."""
    if record is None:
        return sources_of_pdf(book.output)
    return {
        page: Source(from_here(book.home / (origin.file or book.settings.source[0])), origin.line)
        for page, origin in enumerate(record.pages, 1)
        if origin.line > 0
    }


def sources_of_pdf(pdf: Path) -> Mapping[int, Source]:
    """From SyncTeX, where the engine left it beside the PDF."""
    return {
        page: replace(source, file=from_here(pdf.parent / source.file))
        for page, source in read_synctex(pdf).items()
    }
