"""Last step: judge the PDF as it will be printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from fitter.book.loader import Book
from fitter.data.known_marks import known_marks
from fitter.engines.engine import engine_of
from fitter.engines.record import Record
from fitter.errors import BadInput, CannotFit
from fitter.pdf.apart import GivenUp
from fitter.pdf.verdicts import Reading, read_verdicts
from fitter.steps.bindery import bindery_of
from fitter.steps.draft import other_run, read_draft, record_of
from fitter.steps.fit import fit
from fitter.steps.imprint_seen import imprint_seen
from fitter.steps.sources import from_here, sources_of_book, sources_of_pdf
from fitter.trade.fold.bindery import Bindery
from fitter.trade.fold.gatherings import LARGEST, Binding
from fitter.trade.gate.evidence import Evidence, FillerSeen, ImprintSeen, Limits, Sewing
from fitter.trade.gate.gate import judge
from fitter.trade.gate.judged import Judged
from fitter.trade.gate.marks import Marks
from fitter.trade.gate.rule import Severity
from fitter.trade.gate.verdicts import PageVerdict


def judge_pdf(path: Path, binding: Binding | None) -> Judged:
    """Judge any PDF; without a binding the gatherings are not looked at."""
    seen = read_verdicts(path, known_marks())
    evidence = Evidence(
        verdicts=seen.verdicts,
        sources=sources_of_pdf(path),
        sewing=_sewing(binding, len(seen.verdicts)),
        imprint=_imprint(path),
    )
    return _judged(str(path), seen, evidence)


def judge_book(book: Book, binding: Binding | None = None) -> Judged:
    """Judge the book's PDF against book.yaml, and against the record where there is one.

    Raises BadInput where there is no PDF.
    """
    settings, pdf = book.settings, book.output
    if not pdf.is_file():
        raise BadInput(f"{pdf}: there is no PDF yet. Run 'fitter build' first.")
    seen = read_verdicts(pdf, marks_of(book))
    record = record_of(book, len(seen.verdicts))
    fillers, no_plan = _fillers_seen(book, record) if record else (None, "")
    verdicts = _with_folios(seen.verdicts, record) if record else seen.verdicts
    evidence = Evidence(
        verdicts=verdicts,
        limits=Limits(
            settings.blanks.openers, settings.blanks.front_at_most, settings.blanks.end_at_most
        ),
        openers=record.openers if record else frozenset(),
        sources=sources_of_book(book, record),
        sewing=_sewing(binding or bindery_of(book), len(verdicts)),
        fillers=fillers,
        no_plan=no_plan,
        imprint=_imprint(pdf, book),
        trim=settings.trim,
        page_sizes=None if seen.unread else seen.sizes,
    )
    judged = _judged(from_here(pdf), seen, evidence, settings.rules)
    notes = (*(() if record else other_run(book)), *_other_extent(book, len(verdicts)))
    return replace(judged, notes=notes)


def _other_extent(book: Book, pages: int) -> Iterator[str]:
    """A sentence where the record of printings says another extent of the one being made."""
    last = book.printings[-1] if book.printings else None
    if last and last.extent and last.extent != pages:
        at = book.printings_doc.at(("printings", len(book.printings) - 1, "extent"))
        yield (
            f"{at}: printing {last.printing} is said to have {last.extent} pages, and the PDF has "
            f"{pages}. Build the book again, or mend the record."
        )


def marks_of(book: Book) -> Marks:
    """The marks known everywhere, and the book's own."""
    own = book.settings.blanks.mark
    return known_marks([own.openers, own.fillers])


def _judged(
    name: str, seen: Reading, evidence: Evidence, rules: Mapping[str, Severity] | None = None
) -> Judged:
    findings = tuple(judge(evidence, rules))
    return Judged(name, evidence.verdicts, findings, seen.unread)


def _with_folios(verdicts: Sequence[PageVerdict], record: Record) -> tuple[PageVerdict, ...]:
    """Where the PDF has no page labels, the record knows the folios."""
    folios = {number: origin.folio for number, origin in enumerate(record.pages, 1)}
    return tuple(
        replace(page, folio=page.folio or folios.get(page.page) or None) for page in verdicts
    )


def _imprint(pdf: Path, book: Book | None = None) -> ImprintSeen | None:
    """What the imprint page says; None where the pages it may stand on cannot be read."""
    try:
        return imprint_seen(pdf, book)
    except GivenUp:
        return None


def _sewing(bindery: Bindery | None, extent: int) -> Sewing | None:
    if bindery is None:
        return None
    if bindery.holds(extent):
        return Sewing(True, None, extent)
    below = (size for size in range(extent - 1, 0, -1) if bindery.holds(size))
    above = (size for size in range(extent + 1, extent + LARGEST) if bindery.holds(size))
    return Sewing(False, next(below, None), next(above, None))


def _fillers_seen(book: Book, record: Record) -> tuple[tuple[FillerSeen, ...], str]:
    """What the plan for this text wants, beside what the PDF has; or why there is no plan.

    Raises BadInput where the draft or the catalogue has to be mended first.
    """
    try:
        placed = fit(book, read_draft(book, engine_of(book), record.extent)).chosen.placed
    except CannotFit as fault:
        return (), " ".join(fault.sentences)
    stands = {(span.id, span.first): span.pages for span in record.fillers}
    seen = tuple(
        FillerSeen(one.id, one.first_page, one.pages, stands.get((one.id, one.first_page), 0))
        for one in placed
    )
    return seen, ""
