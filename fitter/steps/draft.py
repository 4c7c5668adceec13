"""First step: read what the draft build left behind."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from fitter.book.catalogue import needs_measuring
from fitter.book.found import loads_package
from fitter.book.loader import Book
from fitter.engines.engine import Engine, engine_of
from fitter.engines.record import Record
from fitter.errors import BadInput
from fitter.pdf.pages import page_count
from fitter.steps.pdf_fillers import count_pdf_fillers
from fitter.trade.plan import Draft

_TEMPORARY_PAGE = "Temporary extra page added at the end"


@dataclass(frozen=True, slots=True)
class DraftBuild:
    """A draft PDF and its record, agreeing with each other; `takes` has pages by filler id."""

    record: Record
    counts: Draft
    takes: dict[str, int]
    unmeasured: tuple[str, ...]


def record_of(book: Book, pages: int) -> Record | None:
    """What the run left that made the book's PDF, a PDF of so many pages.

    None where there is no record, or it is of another run, or of one that did not finish.
    """
    record = engine_of(book).record(book)
    of_this_run = record is not None and record.finished and record.extent == pages
    return record if of_this_run else None


def other_run(book: Book) -> Iterator[str]:
    """For a PDF without a record of its run: a sentence where another record lies beside it."""
    if engine_of(book).record(book):
        yield (
            f"{shown(book)}: the record beside it is of another run, or of one that did not "
            "finish, so the fillers and the places in the source are not known. Build it again."
        )


def read_draft(book: Book, engine: Engine, pages: int | None = None) -> DraftBuild:
    """Read the draft PDF's page count, unless `pages` has it, and the record beside it.

    Raises BadInput where they are missing or do not belong together.
    """
    if not book.output.is_file():
        raise BadInput(
            f"{shown(book)}: there is no draft PDF. Build the book first, or let "
            "'fitter build' do it."
        )
    record = engine.record(book)
    if record is None:
        raise BadInput(without_record(book))
    if not record.finished:
        raise BadInput(
            f"{shown(book)}: the last build of this draft did not finish. Build it again."
        )
    _require_same_run(book, record, pages or page_count(book.output))
    return draft_of(book, record)


def draft_of(book: Book, record: Record) -> DraftBuild:
    """What a record says of the draft, and the pages of the ready-made fillers. Raises BadInput."""
    takes = {**record.takes, **count_pdf_fillers(book)}
    wanted = [entry.id for entry in book.catalogue if needs_measuring(entry)]
    return DraftBuild(
        record, counts_of(record), takes, tuple(id_ for id_ in wanted if id_ not in takes)
    )


def counts_of(record: Record) -> Draft:
    """Text pages and slots, as they are without any filler."""
    text_pages = record.text_pages
    back_at = record.slot_at("back") or text_pages + 1
    return Draft(text_pages, record.slot_at("front"), back_at, record.back_whole)


def shown(book: Book) -> str:
    """The PDF as the author names it."""
    return book.from_source(book.output)


def without_record(book: Book) -> str:
    """Why a draft may have left no record, and what to do."""
    if book.markdown:
        return (
            f"{shown(book)}: the draft left no record ({book.from_source(book.record)}), so pandoc "
            "ran without the filter, or TeX wrote elsewhere. Give pandoc the filter that 'fitter "
            "path pandoc' names, and the output a place in that folder."
        )
    if loads_package(book.source.read_text(encoding="utf-8", errors="replace")):
        return (
            f"{shown(book)}: there is no record of this draft ({book.from_source(book.record)}); "
            "it was built elsewhere, or the record was taken away. Build the draft again."
        )
    return (
        f"{book.settings.source[0]}: the draft left no record, so its source does not load the "
        "package. Add \\usepackage{fitter} to the preamble."
    )


def _require_same_run(book: Book, record: Record, pages: int) -> None:
    if pages != record.extent:
        raise BadInput(
            f"{shown(book)}: the PDF has {pages} pages and its record {record.extent}, so they are "
            "not of one run. Build the draft again."
        )
    log = book.output.with_suffix(".log")
    if log.is_file() and re.search(_TEMPORARY_PAGE, log.read_text("utf-8", "replace")):
        raise BadInput(
            f"{shown(book)}: LaTeX added a temporary page at the end, so the count is one too "
            "high. Run the build once more."
        )
