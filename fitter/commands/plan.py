"""`fitter plan`: what fit would do, and the alternatives; nothing is written."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from fitter.book.catalogue import needs_measuring
from fitter.book.loader import Book, load_book
from fitter.commands.output import put
from fitter.commands.wishes import wishes_of
from fitter.errors import DONE, NOT_PASSED
from fitter.pdf.pages import page_count
from fitter.reports import voice as voices
from fitter.reports.voice import Voice
from fitter.steps.bindery import matter_of, offer_of, offer_without_book
from fitter.steps.fit import fit_counts, never_in_front
from fitter.steps.pdf_fillers import count_pdf_fillers
from fitter.trade.fold.bindery import Bindery
from fitter.trade.fold.estimate import Estimate, Job, estimate
from fitter.trade.fold.gatherings import Binding
from fitter.trade.fold.movable import Saving, savings
from fitter.trade.plan import Draft, Plan, make_plan

ANY_NUMBER = 1_000_000


def plan(where: Path, voice: Voice, *, pages: int | None, form: str, **options: Any) -> int:
    """Print the plan; 0 when the book can be fitted, 1 when it cannot."""
    if pages and where == Path() and not Path("book.yaml").exists():
        bindery = offer_without_book(wishes_of(Binding(), **options)).bindery
        made = make_plan(bindery, [], Draft.of(pages), ANY_NUMBER)
        voice.step("No book.yaml here, so no catalogue: all that is left over is told as blank.")
        saved: list[Saving] = []
        marked: set[str] = set()
    else:
        book = load_book(where)
        offer = offer_of(book, wishes_of(book.settings.binding.binding, **options))
        bindery = offer.bindery
        made = _with_book(book, pages, bindery, voice)
        for sentence in offer.not_held(made.folding):
            voice.warn(sentence)
        saved = savings(matter_of(book, made), made.needed, bindery.fold)
        marked = {entry.id for entry in book.catalogue if entry.page == "marked-blank"}
    from fitter.reports.plan_json import plan_json
    from fitter.reports.plan_text import plan_text

    money = _estimate(bindery, made, marked)
    put(form, lambda: plan_json(made, money, saved), lambda: plan_text(made, money, saved))
    if made.refusal:
        voices.fault((made.refusal,))
    return NOT_PASSED if made.refusal else DONE


def _estimate(bindery: Bindery, made: Plan, marked: set[str]) -> Estimate | None:
    """The estimate where the printer has prices; marked blanks waste paper as well."""
    if not isinstance(bindery, Job):
        return None
    blanks = 0
    if made.choice:
        blanks = made.choice.end_blanks
        blanks += sum(placed.pages for placed in made.choice.placed if placed.id in marked)
    return estimate(bindery, made.folding, made.needed, blanks)


def _with_book(book: Book, pages: int | None, bindery: Bindery, voice: Voice) -> Plan:
    counts, takes = _without_pdf(book, pages) if pages else _from_pdf(book, voice)
    left_out = [
        entry.id
        for entry in book.catalogue
        if needs_measuring(entry) and entry.id not in takes and not entry.pages
    ]
    if left_out:
        voice.warn(
            f"not measured yet, so left out of this plan: {', '.join(left_out)}. "
            "'fitter build' measures them, or give their 'pages'."
        )
    for sentence in never_in_front(book, counts, takes):
        voice.warn(sentence)
    return fit_counts(book, counts, takes, bindery)


def _without_pdf(book: Book, pages: int) -> tuple[Draft, dict[str, int]]:
    """Without a draft the front slot is taken to be the very first page."""
    return Draft.of(pages, front_at=1), count_pdf_fillers(book)


def _from_pdf(book: Book, voice: Voice) -> tuple[Draft, dict[str, int]]:
    from fitter.engines.engine import engine_of
    from fitter.steps.draft import read_draft

    engine = engine_of(book)
    if book.output.is_file() and engine.record(book) is None:
        voice.warn("the PDF has no record beside it, so all its pages count as text pages.")
        pages = page_count(book.output)
        return Draft.of(pages), count_pdf_fillers(book)
    draft = read_draft(book, engine)
    return draft.counts, draft.takes
