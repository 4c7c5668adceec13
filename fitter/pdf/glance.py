"""A quick look: is there so much on the page that nobody could take it for an empty one?"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from fitter.pdf.mask import differing
from fitter.pdf.pages import turning
from fitter.pdf.prints import Pixels, rendered
from fitter.trade.gate.marks import MARKED_AT_MOST

if TYPE_CHECKING:
    import pymupdf

DPI = 36
HEAD = 0.18  # share of the height left out at head and foot, where the furniture stands
SIDE = 0.05
CONTRAST = 48  # grey levels of 255 between ink and ground
CHANGES = 6  # from ground to ink along one row of pixels, as in a row through letters
FULL = 0.33  # share of such rows; a mark, even a large one, has fewer
SOME = 0.1  # share of such rows that bears out a page which says more than a mark


def is_full(page: pymupdf.Page, trim: pymupdf.Rect) -> bool:
    """Whether the middle of the page is full of letters or lines that print.

    A page with some such rows and more words than a mark can have will do as well.
    """
    inset = (trim.width * SIDE, trim.height * HEAD, -trim.width * SIDE, -trim.height * HEAD)
    middle = trim + inset
    if middle.is_empty:
        return False
    busy = _busy(rendered(page, middle, DPI, colour=False))
    return busy >= FULL or (busy >= SOME and _letters(page, middle) > MARKED_AT_MOST)


def _busy(pixels: Pixels) -> float:
    """The share of rows with many changes from ground to ink."""
    if pixels.one_colour:
        return 0
    marks = pixels.samples.translate(differing(_ground(pixels.samples), CONTRAST))
    width = pixels.width
    rows = (marks[start : start + width] for start in range(0, len(marks), width))
    return sum(row.count(b"\0\1") >= CHANGES for row in rows) / pixels.height


def _letters(page: pymupdf.Page, middle: pymupdf.Rect) -> int:
    text = page.get_text("text", clip=middle * ~turning(page))
    return sum(char.isalnum() for char in text)


def _ground(samples: bytes) -> int:
    return Counter(samples[::97]).most_common(1)[0][0]
