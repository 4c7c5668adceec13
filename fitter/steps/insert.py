"""Third step: write the generated file that the package or the filter reads."""

from __future__ import annotations

from collections.abc import Callable

from fitter.book.loader import Book
from fitter.engines.engine import Engine
from fitter.errors import BadInput
from fitter.inserts.content import Inserts, Placement
from fitter.inserts.writing import write_whole
from fitter.steps.draft import count_pdf_fillers
from fitter.trade.key import KeySettings
from fitter.trade.key_make import follow
from fitter.trade.plan import Plan
from fitter.trade.printings import Printing


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


def key_of(book: Book) -> str:
    """The printer's key of the printing being made; empty where book.yaml asks for none."""
    entry, imprint = book.settings.imprint.key, book.settings.imprint
    if entry is None:
        return ""
    settings = KeySettings(
        scheme=entry.scheme, length=entry.length, years=entry.years, printer=entry.printer or ""
    )
    record = [Printing(one.printing, one.year, one.printer or "") for one in book.printings]
    if not record and imprint.year is None:
        raise BadInput(
            f"{book.file.name}: the key needs a year. Give 'imprint: year:' or keep a "
            "printings.yaml."
        )
    return follow(settings, record or [Printing(1, imprint.year or 0)])


def _text(render: Callable[[Inserts], str], inserts: Inserts) -> str:
    try:
        return render(inserts)
    except ValueError as error:
        raise BadInput(f"{inserts.book.file.name}: {error}.") from None
