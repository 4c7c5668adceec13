"""A close look at one page: the visible words inside the trim, and the other ink that prints."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from fitter.pdf.mask import Mask, PixelBox, mask_of
from fitter.pdf.pages import MM_PER_POINT, trim_of, turning
from fitter.pdf.prints import hard_edges, rendered
from fitter.pdf.scan import scanned_mask
from fitter.trade.page import Box, Line

if TYPE_CHECKING:
    import pymupdf

DPI = 72
SCAN_DPI = 50
CONTRAST = 8  # levels of 255 between ink and ground; a tint below 3 % does not print (from memory)
EDGE_MM = 0.5  # ink along the very edge is a tint or a bleed that ends there
APART_MM = 1.0  # ink with such a gap between is told apart
BODY = 0.2  # of a word's height: what its box holds above and below the letters
SPREAD = 0.25  # of a word's height: how far letters may reach beyond their box
COVERING = 0.5  # an image over such a share of the page is a scan

Words = dict[tuple[int, int], list[tuple[str, "pymupdf.Rect"]]]


def look(page: pymupdf.Page) -> tuple[tuple[Line, ...], tuple[Box, ...]]:
    """The visible lines and the other visible ink of a page, in mm from the trim's corner."""
    trim = trim_of(page)
    mask, scale = _mask(page, trim)
    if 1 not in mask.ink:
        return (), ()
    mask.clear_edge(round(EDGE_MM / MM_PER_POINT * scale))
    words = _visible(_words(page, trim), mask, scale)
    for line in words.values():
        for _, rect in line:
            mask.clear(_pixels(rect, scale, SPREAD * rect.height))
    mm = MM_PER_POINT / scale
    ink = mask.boxes(round(APART_MM / mm))
    return tuple(_line(line) for line in words.values()), tuple(
        Box(*(round(edge * mm, 2) for edge in box)) for box in ink
    )


def _mask(page: pymupdf.Page, trim: pymupdf.Rect) -> tuple[Mask, float]:
    if _is_scan(page, trim):
        soft = rendered(page, trim, SCAN_DPI, colour=False)
        return scanned_mask(soft), soft.scale
    with hard_edges():
        hard = rendered(page, trim, DPI, colour=True)
    if hard.one_colour:
        return Mask(0, 0, bytearray()), hard.scale
    return mask_of(hard, CONTRAST), hard.scale


def _is_scan(page: pymupdf.Page, trim: pymupdf.Rect) -> bool:
    turned = turning(page)
    images = [type(trim)(image["bbox"]) * turned & trim for image in page.get_image_info()]
    return any(
        image.width * image.height >= COVERING * trim.width * trim.height for image in images
    )


def _words(page: pymupdf.Page, trim: pymupdf.Rect) -> Words:
    """The words of each line that touch the trim, visible or not, from the trim's corner."""
    turned = turning(page)
    words: Words = defaultdict(list)
    for *corners, word, block, line, _ in page.get_text("words"):
        rect = (type(trim)(corners) * turned).normalize()
        if rect.intersects(trim):
            words[block, line].append((word, rect - (trim.x0, trim.y0) * 2))
    return words


def _visible(words: Words, mask: Mask, scale: float) -> Words:
    shown = {
        place: [(word, rect) for word, rect in line if _shows(word, rect, mask, scale)]
        for place, line in words.items()
    }
    return {place: line for place, line in shown.items() if line}


def _shows(word: str, rect: pymupdf.Rect, mask: Mask, scale: float) -> bool:
    has_letters = any(char.isalnum() for char in word)
    return mask.any_in(_pixels(rect, scale, -BODY * rect.height if has_letters else 0))


def _pixels(rect: pymupdf.Rect, scale: float, more: float) -> PixelBox:
    """A rectangle in points as pixels, made `more` points taller above and below."""
    aside = max(more, 0)
    return (
        int((rect.x0 - aside) * scale),
        int((rect.y0 - more) * scale),
        int((rect.x1 + aside) * scale) + 1,
        int((rect.y1 + more) * scale) + 1,
    )


def _line(words: list[tuple[str, pymupdf.Rect]]) -> Line:
    edges = (
        min(rect.x0 for _, rect in words),
        min(rect.y0 for _, rect in words),
        max(rect.x1 for _, rect in words),
        max(rect.y1 for _, rect in words),
    )
    box = Box(*(round(edge * MM_PER_POINT, 2) for edge in edges))
    return Line(" ".join(word for word, _ in words), box)
