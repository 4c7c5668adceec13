"""Reads what the eye meets on the pages of a book, and comes to a verdict on each of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from fitter.pdf.apart import apart, around_bad_pages, page_begun, read_in_parts
from fitter.pdf.document import StrPath, faults, opened, said
from fitter.pdf.glance import is_full
from fitter.pdf.labels import read_labels
from fitter.pdf.look import look, outer_lines
from fitter.pdf.pages import size_in_mm, trim_of
from fitter.pdf.plain import is_plainly_full
from fitter.trade.gate.blanks import look_closer_at, verdicts
from fitter.trade.gate.marks import Marks
from fitter.trade.gate.page import OUTER, Page
from fitter.trade.gate.verdicts import PageVerdict
from fitter.trade.size import Size

if TYPE_CHECKING:
    import pymupdf

Look = Callable[["pymupdf.Page", "pymupdf.Rect", Page], Page]

UNREAD_AT_MOST = 3  # pages; a file with more of them is beyond reading


@dataclass(frozen=True, slots=True)
class Reading:
    """The verdict on every page of a PDF and its trimmed size.

    `unread` pages could not be read, each with a sentence why; they count as printed.
    """

    verdicts: tuple[PageVerdict, ...]
    sizes: tuple[Size, ...]
    unread: Mapping[int, str]


def read_verdicts(path: StrPath, marks: Marks) -> Reading:
    """Look at every page of a PDF; raises `BadInput` where it cannot be read.

    A page that takes too long, or more memory than there is, is left out and the rest read anew.
    """
    return around_bad_pages(
        lambda unread: _read_pages(path, marks, unread),
        UNREAD_AT_MOST,
        lambda fault: fault.sentences[0],
    )


def _read_pages(path: StrPath, marks: Marks, given_up: Mapping[int, str]) -> Reading:
    unread = dict(given_up)
    pages: list[Page] = []
    for some, given in read_in_parts(path, partial(_look, path, given_up)):
        pages += some
        unread |= given
    return _judge(path, marks, sorted(pages, key=lambda page: page.page), unread)


def _look(
    path: StrPath, given_up: Mapping[int, str], part: int, parts: int
) -> tuple[list[Page], dict[int, str]]:
    """Every page of a part, and those that could not be read, each with a sentence why."""
    unread = dict(given_up)
    with opened(path) as document:
        labels = read_labels(document)
        return [
            _read(path, document, Page(number, labels.of(number), Size(0, 0)), _page, unread)
            for number in range(1 + part, len(document) + 1, parts)
        ], unread


@apart
def _judge(path: StrPath, marks: Marks, pages: list[Page], unread: dict[int, str]) -> Reading:
    """Look closer where that is needed, and come to the verdicts."""
    wanted = look_closer_at(pages)
    closer: dict[int, Page] = {}
    if wanted:
        with opened(path) as document:
            for number, ink in wanted.items():
                how = _with_ink if ink else _with_words
                closer[number] = _read(path, document, pages[number - 1], how, unread)
    found = verdicts(pages, closer, marks)
    return Reading(found, tuple(page.size for page in pages), unread)


def _read(
    path: StrPath, document: pymupdf.Document, known: Page, how: Look, unread: dict[int, str]
) -> Page:
    """One page; if it cannot be read, `unread` gets a sentence and the page counts as printed."""
    if known.page not in unread:
        page_begun(known.page)
        try:
            page = document[known.page - 1]
            trim = trim_of(page)
            return how(page, trim, Page(known.page, known.folio, size_in_mm(trim)))
        except faults() as fault:
            unread[known.page] = f"{path}: page {known.page} cannot be read: {said(fault)}."
    return Page(known.page, known.folio, Size(0, 0), full=True)


def _page(page: pymupdf.Page, trim: pymupdf.Rect, plain: Page) -> Page:
    if is_plainly_full(page, trim) or is_full(page, trim):
        return replace(plain, full=True)
    lines, ink = look(page, trim)
    return replace(plain, lines=lines, ink=ink)


def _with_ink(page: pymupdf.Page, trim: pymupdf.Rect, plain: Page) -> Page:
    lines, ink = look(page, trim, outer=OUTER)
    return replace(plain, lines=lines, ink=ink)


def _with_words(page: pymupdf.Page, trim: pymupdf.Rect, plain: Page) -> Page:
    return replace(plain, lines=outer_lines(page, trim, OUTER))
