"""Beside the way: lay a PDF out as a folding dummy, with all that is known about its pages."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from fitter.book.loader import Book
from fitter.engines.record import Record
from fitter.errors import CannotFit
from fitter.pdf.thumbnails import Drawn, draw_pages
from fitter.reports.dummy.html import Sheets, Title
from fitter.reports.words import folding_in_words, gate_in_words, plan_in_words
from fitter.steps.bindery import bindery_of
from fitter.steps.draft import draft_of, record_of
from fitter.steps.fit import fit_counts
from fitter.steps.judge import judge_book, judge_pdf
from fitter.steps.pdf_fillers import count_pdf_fillers
from fitter.trade.fold.bindery import Bindery
from fitter.trade.fold.dummy import Contents, make_dummy
from fitter.trade.fold.gatherings import Binding
from fitter.trade.fold.staircase import staircase
from fitter.trade.gate.gate import Finding, passed
from fitter.trade.gate.judged import Judged
from fitter.trade.plan import Draft, Plan, make_plan
from fitter.trade.words import count

OnPage = Callable[[int], None]
GATHERINGS_EACH_WAY = 1.6


@dataclass(frozen=True, slots=True)
class Seen:
    """A PDF judged and drawn, and what its record knows."""

    judged: Judged
    drawn: tuple[Drawn, ...]
    contents: Contents


def dummy_of_pdf(path: Path, binding: Binding | None, on_page: OnPage) -> Sheets:
    """Any PDF; without a binding it is shown in gatherings of 16 and not judged by them."""
    seen = Seen(judge_pdf(path, binding), draw_pages(path, on_page), Contents())
    pages = len(seen.judged.pages)
    plan = make_plan(binding or Binding(), [], Draft.of(pages), 0)
    done = _folded_as_it_is(plan, pages)
    if binding is None:
        done += " No book.yaml says how it is bound; --gathering shows it in other sizes."
    about = Title(path.name, "", "en", path.name, done, "", True)
    return _sheets(about, seen, plan, binding or Binding())


def dummy_of_book(book: Book, binding: Binding | None, on_page: OnPage) -> Sheets:
    """The book's PDF as it stands, beside the plan for its text.

    Raises BadInput where there is no PDF.
    """
    judged, drawn = judge_book(book, binding), draw_pages(book.output, on_page)
    pages = len(judged.pages)
    record = record_of(book, pages)
    bindery = binding or _bindery(book, pages)
    plan = _plan(book, record, pages, bindery)
    about = Title(
        book.settings.title or book.output.name,
        book.settings.author,
        book.settings.language,
        book.output.name,
        _done(plan, pages),
        "",
        True,
    )
    return _sheets(about, Seen(judged, drawn, _contents(record)), plan, bindery)


def _bindery(book: Book, pages: int) -> Bindery:
    """Who folds the book; its own binding where the printer does not bind so many pages."""
    try:
        bindery = bindery_of(book)
        bindery.fold(pages)
    except CannotFit:
        return book.settings.binding.binding
    return bindery


def _plan(book: Book, record: Record | None, pages: int, bindery: Bindery) -> Plan:
    """The plan for the text; without a record every page of the PDF counts as text."""
    if record is None:
        return fit_counts(book, Draft.of(pages), count_pdf_fillers(book), bindery)
    draft = draft_of(book, record)
    return fit_counts(book, draft.counts, draft.takes, bindery)


def _contents(record: Record | None) -> Contents:
    if record is None:
        return Contents()
    return Contents(
        folios={page: origin.folio for page, origin in enumerate(record.pages, 1)},
        fillers=record.filled,
        end_blanks=record.end_blanks,
    )


def _sheets(about: Title, seen: Seen, plan: Plan, bindery: Bindery) -> Sheets:
    judged, pages = seen.judged, len(seen.judged.pages)
    shown = plan if plan.extent == pages else replace(plan, folding=bindery.fold(pages))
    damaged = dict.fromkeys(judged.unread, "it could not be read to its end")
    damaged |= {one.page: one.fault for one in seen.drawn if one.fault}
    gatherings = make_dummy(judged.pages, judged.findings, shown.folding, seen.contents, damaged)
    of_pages = (finding for gathering in gatherings for finding in gathering.findings)
    findings = (*(one for one in judged.findings if not one.page), *of_pages)
    added = plan.needed - plan.text_pages
    stairs = staircase(
        lambda text_pages: bindery.fold(text_pages + added),
        plan.text_pages,
        round(GATHERINGS_EACH_WAY * min(plan.folding.gathering, 32)),
    )
    about = replace(about, gate=_gate(findings), passed=passed(findings))
    return Sheets(about, gatherings, findings, shown, stairs, seen.drawn)


def _done(plan: Plan, pages: int) -> str:
    if plan.choice and plan.extent == pages:
        return plan_in_words(plan.text_pages, plan.folding, plan.choice)
    return _folded_as_it_is(plan, pages)


def _folded_as_it_is(plan: Plan, pages: int) -> str:
    left = plan.extent - pages
    over = f", {left} left over" if left > 0 else ""
    return f"{count(pages, 'page')} in the PDF: {folding_in_words(plan.folding)}{over}."


def _gate(findings: Iterable[Finding]) -> str:
    findings = list(findings)
    told = [
        count(number, severity)
        for severity in ("error", "warning")
        if (number := sum(finding.severity == severity for finding in findings))
    ]
    return f"{gate_in_words(passed(findings))}{': ' if told else ''}{', '.join(told)}."
