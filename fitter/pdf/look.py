"""A close look at one page: the visible words inside the trim, and the other ink that prints."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from fitter.pdf.mask import Mask, mask_of
from fitter.pdf.pages import turning
from fitter.pdf.prints import hard_edges, rendered
from fitter.pdf.scan import scanned_mask
from fitter.trade.gate.page import Box, Line
from fitter.trade.size import MM_PER_POINT

if TYPE_CHECKING:
    import pymupdf

DPI = 50
CONTRAST = 8  # levels of 255 between ink and ground; a tint below 3 % does not print (from memory)
EDGE_MM = 0.5  # ink along the very edge is a tint or a bleed that ends there
APART_MM = 1.0  # ink with such a gap between is told apart
BODY = 0.2  # of a word's height: what its box holds above and below the letters
SPREAD = 0.25  # of a word's height: how far letters may reach beyond their box
ONE_LINE = 0.4  # of a word's height: how far the middles of words on one line lie apart
COVERING = 0.5  # an image over such a share of the page is a scan


def look(
    page: pymupdf.Page, trim: pymupdf.Rect, *, outer: float = 1
) -> tuple[tuple[Line, ...], tuple[Box, ...]]:
    """The visible lines and the other visible ink of a page, in mm from the trim's corner.

    `outer` keeps the look to that share of the height at head and foot, where furniture stands.
    """
    trim = _inside(trim)
    mask = _mask(page, trim)
    if mask.is_clear:
        return (), ()
    words = [word for word in _words(page, trim, outer) if mask.any_in(_letters(word))]
    lines = tuple(_lines(words))
    for line in lines:
        mask.clear(line.box.wider(SPREAD * line.box.height))
    height = trim.height * MM_PER_POINT
    ink = (box for box in mask.boxes(APART_MM) if _is_outer(box.top, box.bottom, outer, height))
    return lines, tuple(ink)


def outer_lines(page: pymupdf.Page, trim: pymupdf.Rect, outer: float) -> tuple[Line, ...]:
    """The lines at the head and foot of a page, visible or not: enough to learn furniture from."""
    return tuple(_lines(_words(page, _inside(trim), outer)))


def _inside(trim: pymupdf.Rect) -> pymupdf.Rect:
    """The trimmed page without its very edge."""
    edge = min(EDGE_MM / MM_PER_POINT, trim.width / 4, trim.height / 4)
    return type(trim)(trim.x0 + edge, trim.y0 + edge, trim.x1 - edge, trim.y1 - edge)


def _mask(page: pymupdf.Page, trim: pymupdf.Rect) -> Mask:
    if _is_scan(page, trim):
        return scanned_mask(rendered(page, trim, DPI, colour=False))
    with hard_edges():
        return mask_of(rendered(page, trim, DPI, colour=True), CONTRAST)


def _is_scan(page: pymupdf.Page, trim: pymupdf.Rect) -> bool:
    if not page.get_images():
        return False
    turned = turning(page)
    images = [type(trim)(image["bbox"]) * turned & trim for image in page.get_image_info()]
    return any(
        image.width * image.height >= COVERING * trim.width * trim.height for image in images
    )


def _words(page: pymupdf.Page, trim: pymupdf.Rect, outer: float) -> Iterator[Line]:
    """The words in the outer share of the trim, visible or not."""
    a, b, c, d, e, f = turning(page)
    shift_x, shift_y = e - trim.x0, f - trim.y0
    width, height = trim.width, trim.height
    for x0, y0, x1, y1, word, *_ in page.get_text("words"):
        one, other = b * x0 + d * y0 + shift_y, b * x1 + d * y1 + shift_y
        top, bottom = (one, other) if one < other else (other, one)
        if bottom > 0 and top < height and _is_outer(top, bottom, outer, height):
            left, right = sorted((a * x0 + c * y0 + shift_x, a * x1 + c * y1 + shift_x))
            if right > 0 and left < width:
                edges = (left, top, right, bottom)
                yield Line(word, Box(*(round(edge * MM_PER_POINT, 2) for edge in edges)))


def _letters(word: Line) -> Box:
    """Where the ink of a word must lie: letters fill the middle of their box, signs need not."""
    box = word.box
    aside = BODY * box.height if any(char.isalnum() for char in word.text) else 0
    return Box(box.left, box.top + aside, box.right, box.bottom - aside)


def _is_outer(top: float, bottom: float, share: float, height: float) -> bool:
    return bottom <= height * share or top >= height * (1 - share)


def _lines(words: Iterable[Line]) -> Iterator[Line]:
    """Words of about the same height on the page make one line, from left to right."""
    line: list[Line] = []
    for word in sorted(words, key=lambda word: word.box.middle):
        if line and word.box.middle - line[-1].box.middle > ONE_LINE * word.box.height:
            yield _line(line)
            line = []
        line.append(word)
    if line:
        yield _line(line)


def _line(words: list[Line]) -> Line:
    boxes = [word.box for word in words]
    return Line(
        " ".join(word.text for word in sorted(words, key=lambda word: word.box.left)),
        Box(
            min(box.left for box in boxes),
            min(box.top for box in boxes),
            max(box.right for box in boxes),
            max(box.bottom for box in boxes),
        ),
    )
