"""Reads what the eye meets on the pages of a book, and comes to a verdict on each of them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from fitter.errors import BadInput
from fitter.pdf.document import StrPath, opened
from fitter.pdf.glance import is_full
from fitter.pdf.look import look
from fitter.pdf.pages import size_of
from fitter.trade.blanks import look_closer_at, verdicts
from fitter.trade.marks import Marks
from fitter.trade.page import Page
from fitter.trade.verdicts import PageVerdict

if TYPE_CHECKING:
    import pymupdf


def page_verdicts(path: StrPath, marks: Marks) -> tuple[PageVerdict, ...]:
    """The verdict on every page of a PDF; raises `BadInput` where it cannot be read."""
    with opened(path) as document:
        pages = [read_page(document, number) for number in range(1, len(document) + 1)]
        closer = _closely(document, look_closer_at(pages))
    return verdicts(pages, closer, marks)


def read_page(document: pymupdf.Document, number: int, *, closely: bool = False) -> Page:
    """Read one page by its sheet position from 1; `closely` also where it is plainly full."""
    try:
        page = document[number - 1]
        folio, size = page.get_label() or None, size_of(page)
        if not closely and is_full(page):
            return Page(number, folio, size, full=True)
        return Page(number, folio, size, False, *look(page))
    except (RuntimeError, ValueError) as fault:
        raise BadInput(f"{document.name}: page {number} cannot be read: {fault}") from None


def _closely(document: pymupdf.Document, numbers: Iterable[int]) -> dict[int, Page]:
    return {number: read_page(document, number, closely=True) for number in numbers}
