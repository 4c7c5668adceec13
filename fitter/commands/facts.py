"""`fitter facts`: what the cover designer, the printer and the metadata need to know."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import takewhile
from pathlib import Path
from typing import Any

from fitter.book.isbn import as_printed
from fitter.book.loader import Book, load_book
from fitter.commands.output import put
from fitter.commands.wishes import wishes_of
from fitter.engines.engine import engine_of
from fitter.engines.record import Record
from fitter.errors import DONE, BadInput
from fitter.reports.specification import Commission
from fitter.reports.voice import Voice
from fitter.steps.bindery import Offer, offer_of, offer_without_book
from fitter.steps.draft import read_draft
from fitter.steps.fit import fit, fit_counts
from fitter.steps.pdf_fillers import count_pdf_fillers
from fitter.trade.facts.extents import Parts
from fitter.trade.facts.facts import CAUTION, Block, Facts, facts
from fitter.trade.fold.formes import Sheet, formes
from fitter.trade.fold.gatherings import Binding, Folding
from fitter.trade.plan import Draft

ROMAN = re.compile(r"[ivxlcdm]+", re.IGNORECASE)


def facts_of(
    where: Path,
    voice: Voice,
    *,
    pages: int | None,
    form: str,
    sheets: bool,
    front: int | None,
    back: int,
    inserts: int,
    fixed_pages: int | None,
    **options: Any,
) -> int:
    """Print the facts; the status is 0, for nothing is judged here."""
    if pages and where == Path() and not Path("book.yaml").exists():
        book, offer = None, offer_without_book(wishes_of(Binding(), **options))
        text_pages, roman, folding = pages, None, offer.bindery.fold(pages)
    else:
        book = load_book(where)
        offer = offer_of(book, wishes_of(book.settings.binding.binding, **options))
        text_pages, roman, folding = _counted(book, offer, pages, voice)
    parts = _parts(text_pages, roman if front is None else front, back, inserts)
    for sentence in offer.not_held(folding):
        voice.warn(sentence)
    found = facts(folding, text_pages, parts, _block(offer), fixed_pages)
    lying = formes(folding.gatherings, folding.nested) if sheets else None
    _put(form, found, lying, _commission(book, offer))
    if form == "onix":
        voice.step(CAUTION)
    for sentence in found.missing:
        voice.warn(sentence)
    return DONE


def _counted(
    book: Book, offer: Offer, pages: int | None, voice: Voice
) -> tuple[int, int | None, Folding]:
    """Text pages, those with roman folios before the rest if known, and the folding of the plan."""
    if pages:
        plan = fit_counts(book, Draft.of(pages, front_at=1), count_pdf_fillers(book), offer.bindery)
        return pages, None, plan.folding
    draft = read_draft(book, engine_of(book))
    folding = fit(book, draft, offer.bindery).folding
    if folding.extent != draft.record.extent:
        voice.warn(
            f"the PDF has {draft.record.extent} pages, and these facts are of a plan with "
            f"{folding.extent}. Run 'fitter build' with the same settings before a cover is made."
        )
    return draft.counts.text_pages, _roman(draft.record), folding


def _roman(record: Record) -> int:
    """Pages of the text in front that carry roman folios, fillers among them not counted."""
    front = takewhile(lambda page: ROMAN.fullmatch(page[1].folio), enumerate(record.pages, 1))
    return sum(1 for page, _ in front if page not in record.filled)


def _parts(text_pages: int, front: int | None, back: int, inserts: int) -> Parts:
    main = text_pages - (front or 0) - back
    if main < 0:
        raise BadInput(
            f"front matter of {front or 0} and back matter of {back} pages are more than the "
            f"{text_pages} text pages. Mend --front or --back."
        )
    return Parts(main, front, back, inserts)


def _block(offer: Offer) -> Block:
    if offer.printer is None:
        return Block(offer.binding.style)
    only = len(offer.printer.papers) == 1 or offer.paper is not None
    return Block(
        offer.binding.style,
        offer.chosen_paper if only else None,
        offer.area_m2 if offer.trim else None,
        offer.printer.spine_allowance_mm,
    )


def _commission(book: Book | None, offer: Offer) -> Commission:
    paper = _block(offer).paper
    if book is None:
        return Commission(copies=offer.copies, trim=offer.trim, paper=paper)
    settings = book.settings
    isbn = as_printed(settings.imprint.isbn or "")
    return Commission(settings.title, settings.author, isbn, offer.copies, offer.trim, paper)


def _put(form: str, found: Facts, sheets: list[list[Sheet]] | None, commission: Commission) -> None:
    from fitter.reports.facts_json import facts_json
    from fitter.reports.facts_text import facts_text
    from fitter.reports.onix import onix_fragment
    from fitter.reports.specification import specification

    texts: dict[str, Callable[[], str]] = {
        "text": lambda: facts_text(found, sheets),
        "onix": lambda: onix_fragment(found.onix),
        "markdown": lambda: specification(found, commission),
    }
    put(form, lambda: facts_json(found, sheets), texts.get(form, texts["text"]))
