"""Reads what the eye meets on the pages of a book, and comes to a verdict on each of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from fitter.errors import BadInput
from fitter.pdf.apart import apart, page_begun
from fitter.pdf.document import StrPath, opened
from fitter.pdf.glance import is_full
from fitter.pdf.look import look, outer_lines
from fitter.pdf.pages import size_of
from fitter.pdf.plain import is_plainly_full
from fitter.trade.blanks import look_closer_at, verdicts
from fitter.trade.furniture import OUTER
from fitter.trade.marks import Marks
from fitter.trade.page import Page
from fitter.trade.verdicts import PageVerdict

if TYPE_CHECKING:
    import pymupdf


@apart
def read_verdicts(path: StrPath, marks: Marks) -> tuple[PageVerdict, ...]:
    """The verdict on every page of a PDF; raises `BadInput` where it cannot be read."""
    with opened(path) as document:
        pages = [_read(document, number, _page) for number in range(1, len(document) + 1)]
        closer = {
            number: _read(document, number, _with_ink if ink else _with_words)
            for number, ink in look_closer_at(pages).items()
        }
    return verdicts(pages, closer, marks)


def _read(document: pymupdf.Document, number: int, how: Callable[..., Page]) -> Page:
    page_begun()
    try:
        page = document[number - 1]
        return how(page, Page(number, page.get_label() or None, size_of(page)))
    except (RuntimeError, ValueError) as fault:
        raise BadInput(f"{document.name}: page {number} cannot be read: {fault}") from None


def _page(page: pymupdf.Page, plain: Page) -> Page:
    if is_plainly_full(page) or is_full(page):
        return replace(plain, full=True)
    lines, ink = look(page)
    return replace(plain, lines=lines, ink=ink)


def _with_ink(page: pymupdf.Page, plain: Page) -> Page:
    lines, ink = look(page, outer=OUTER)
    return replace(plain, lines=lines, ink=ink)


def _with_words(page: pymupdf.Page, plain: Page) -> Page:
    return replace(plain, lines=outer_lines(page, OUTER))
