"""Third step: write the generated file that the package or the filter reads."""

from __future__ import annotations

from collections.abc import Callable

from fitter.book.loader import Book
from fitter.engines.engine import Engine
from fitter.errors import BadInput
from fitter.inserts.content import Inserts, Placement
from fitter.inserts.writing import write_whole
from fitter.steps.draft import count_pdf_fillers
from fitter.steps.imprint import key_of
from fitter.trade.plan import Plan


def write_plan(book: Book, engine: Engine, plan: Plan) -> bool:
    """Write what was chosen; returns whether the file changed."""
    placement = Placement(plan.chosen.placed, plan.chosen.end_blanks)
    return write_whole(book.inserts, _text(engine.render, inserts_of(book, placement)))


def write_for_draft(book: Book, engine: Engine) -> bool:
    """Have the next build measure this catalogue; an earlier choice stays while it may hold."""
    wanted = _text(engine.settings, inserts_of(book))
    if book.inserts.is_file() and book.inserts.read_text("utf-8", "replace").startswith(wanted):
        return False
    return write_whole(book.inserts, wanted)


def inserts_of(book: Book, placement: Placement | None = None) -> Inserts:
    """Everything the generated file says."""
    return Inserts(
        book=book,
        key=key_of(book),
        history=(),
        isbn=book.settings.imprint.isbn or "",
        pdf_pages=count_pdf_fillers(book),
        placement=placement or Placement(),
    )


def _text(render: Callable[[Inserts], str], inserts: Inserts) -> str:
    try:
        return render(inserts)
    except ValueError as error:
        raise BadInput(f"{inserts.book.file.name}: {error}.") from None
