"""Last step: judge the PDF as it will be printed."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from fitter.book.loader import Book
from fitter.data.known_marks import known_marks
from fitter.engines.engine import engine_of
from fitter.engines.record import Record
from fitter.errors import BadInput, CannotFit
from fitter.pdf.apart import apart, read_apart
from fitter.pdf.pages import page_sizes
from fitter.pdf.verdicts import read_verdicts
from fitter.steps.bindery import bindery_of
from fitter.steps.draft import read_draft
from fitter.steps.fit import fit
from fitter.steps.imprint_seen import imprint_seen
from fitter.trade.bindery import Bindery
from fitter.trade.evidence import Evidence, FillerSeen, Limits, Sewing, Source
from fitter.trade.gate import judge
from fitter.trade.gatherings import LARGEST, Binding
from fitter.trade.judged import Judged


@apart
def judge_pdf(path: Path, binding: Binding | None) -> Judged:
    """Judge any PDF; without a binding the gatherings are not looked at."""
    verdicts = read_verdicts(path, known_marks())
    evidence = Evidence(
        verdicts=verdicts, sewing=_sewing(binding, len(verdicts)), imprint=imprint_seen(path)
    )
    return Judged(str(path), verdicts, tuple(judge(evidence)))


def judge_book(book: Book, binding: Binding | None = None) -> Judged:
    """Judge the book's PDF against book.yaml, and against the record where there is one."""
    return read_apart(book.output, lambda: _judged(book, binding))


def _judged(book: Book, binding: Binding | None) -> Judged:
    settings, pdf = book.settings, book.output
    record = engine_of(book).record(book)
    verdicts = read_verdicts(pdf, known_marks([settings.blanks.mark]))
    if record is not None and record.extent != len(verdicts):
        record = None
    evidence = Evidence(
        verdicts=verdicts,
        limits=Limits(
            settings.blanks.openers, settings.blanks.front_at_most, settings.blanks.end_at_most
        ),
        openers=record.openers if record else frozenset(),
        sources=_sources(book, record) if record else {},
        sewing=_sewing(binding or bindery_of(book), len(verdicts)),
        fillers=_fillers_seen(book, record),
        imprint=imprint_seen(pdf, book),
        trim=settings.trim,
        page_sizes=page_sizes(pdf),
    )
    return Judged(book.from_source(pdf), verdicts, tuple(judge(evidence, settings.rules)))


def _sewing(bindery: Bindery | None, extent: int) -> Sewing | None:
    if bindery is None:
        return None
    if bindery.holds(extent):
        return Sewing(True, None, extent)
    below = (size for size in range(extent - 1, 0, -1) if bindery.holds(size))
    above = (size for size in range(extent + 1, extent + LARGEST) if bindery.holds(size))
    return Sewing(False, next(below, None), next(above, None))


def _sources(book: Book, record: Record) -> Mapping[int, Source]:
    return {
        page: Source(origin.file or book.settings.source[0], origin.line)
        for page, origin in enumerate(record.pages, 1)
        if origin.line > 0
    }


def _fillers_seen(book: Book, record: Record | None) -> tuple[FillerSeen, ...] | None:
    """What the plan for this text wants, beside what the PDF has."""
    if record is None:
        return None
    try:
        plan = fit(book, read_draft(book, engine_of(book)))
    except (BadInput, CannotFit):
        return None
    stands = {(span.id, span.first): span.pages for span in record.fillers}
    placed = plan.choice.placed if plan.choice else ()
    return tuple(
        FillerSeen(one.id, one.first_page, one.pages, stands.get((one.id, one.first_page), 0))
        for one in placed
    )
