"""A quick look: is there so much on the page that nobody could take it for an empty one?"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from fitter.pdf.mask import differing
from fitter.pdf.pages import trim_of
from fitter.pdf.prints import Pixels, rendered

if TYPE_CHECKING:
    import pymupdf

DPI = 36
HEAD = 0.18  # share of the height left out at head and foot, where the furniture stands
SIDE = 0.05
CONTRAST = 48  # grey levels of 255 between ink and ground
CHANGES = 6  # from ground to ink along one row of pixels, as in a row through letters
ROWS = 0.4  # share of such rows; a mark, even a large one, has fewer


def is_full(page: pymupdf.Page) -> bool:
    """Whether the middle of the page is full of letters or lines that print."""
    trim = trim_of(page)
    inset = (trim.width * SIDE, trim.height * HEAD, -trim.width * SIDE, -trim.height * HEAD)
    middle = trim + inset
    return not middle.is_empty and _busy(rendered(page, middle, DPI, colour=False))


def _busy(pixels: Pixels) -> bool:
    if pixels.one_colour:
        return False
    marks = pixels.samples.translate(differing(_ground(pixels.samples), CONTRAST))
    width = pixels.width
    rows = (marks[start : start + width] for start in range(0, len(marks), width))
    busy = sum(row.count(b"\0\1") >= CHANGES for row in rows)
    return busy >= ROWS * pixels.height


def _ground(samples: bytes) -> int:
    return Counter(samples[::97]).most_common(1)[0][0]
