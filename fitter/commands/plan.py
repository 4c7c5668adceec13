"""`fitter plan`: what fit would do, and the alternatives; nothing is written."""

from __future__ import annotations

from pathlib import Path

from fitter.book.catalogue import needs_measuring
from fitter.book.loader import Book, load_book
from fitter.commands.output import put
from fitter.commands.sizes import overridden
from fitter.engines.engine import engine_of
from fitter.errors import DONE, NOT_PASSED
from fitter.pdf.pages import page_count
from fitter.reports import voice as voices
from fitter.reports.voice import Voice
from fitter.steps.draft import count_pdf_fillers, read_draft
from fitter.steps.fit import fit_counts
from fitter.trade.gatherings import Binding
from fitter.trade.plan import Draft, Plan, make_plan

END_AT_MOST = 2


def plan(
    where: Path,
    voice: Voice,
    *,
    pages: int | None,
    gathering: str | None,
    short: str | None,
    form: str,
) -> int:
    """Print the plan; 0 when the book can be fitted, 1 when it cannot."""
    if pages and where == Path() and not Path("book.yaml").exists():
        made = _without_book(pages, gathering, short)
    else:
        made = _with_book(load_book(where), pages, gathering, short, voice)
    from fitter.reports.plan_json import plan_json
    from fitter.reports.plan_text import plan_text

    put(form, lambda: plan_json(made), lambda: plan_text(made))
    if made.refusal:
        voices.fault((made.refusal,))
    return NOT_PASSED if made.refusal else DONE


def _without_book(pages: int, gathering: str | None, short: str | None) -> Plan:
    binding = overridden(Binding(), gathering, short)
    return make_plan(binding, [], Draft(pages, None, pages + 1), END_AT_MOST)


def _with_book(
    book: Book, pages: int | None, gathering: str | None, short: str | None, voice: Voice
) -> Plan:
    binding = overridden(book.settings.binding.binding, gathering, short)
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
    return fit_counts(book, counts, takes, binding)


def _without_pdf(book: Book, pages: int) -> tuple[Draft, dict[str, int]]:
    """Without a draft the front slot is taken to be the very first page."""
    return Draft(pages, 1, pages + 1), count_pdf_fillers(book)


def _from_pdf(book: Book, voice: Voice) -> tuple[Draft, dict[str, int]]:
    engine = engine_of(book)
    if book.output.is_file() and engine.record(book) is None:
        voice.warn("the PDF has no record beside it, so all its pages count as text pages.")
        pages = page_count(book.output)
        return Draft(pages, None, pages + 1), count_pdf_fillers(book)
    draft = read_draft(book, engine)
    return draft.counts, draft.takes
