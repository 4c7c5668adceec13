"""Renders a page as it would print: layers and annotations in their state for print, no more."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fitter.trade.size import MM_PER_POINT

if TYPE_CHECKING:
    import pymupdf

PIXELS_AT_MOST = 4_000_000


@dataclass(frozen=True, slots=True)
class Pixels:
    """A rendering: `samples` row by row, `channels` bytes a pixel."""

    width: int
    height: int
    channels: int
    per_mm: float
    samples: bytes

    @property
    def one_colour(self) -> bool:
        """Whether there is nothing to tell apart."""
        return self.samples == self.samples[: self.channels] * (self.width * self.height)


@contextmanager
def hard_edges() -> Iterator[None]:
    """Paint every pixel that a shape touches, and all of it, as the scan conversion of a printer.

    Then a shape that covers another of the same size leaves no fringe, and no hairline is lost
    (ISO 32000-1, 10.6.5).
    """
    import pymupdf

    before = pymupdf.TOOLS.show_aa_level()
    pymupdf.TOOLS.set_aa_level(0)
    try:
        yield
    finally:
        pymupdf.TOOLS.set_aa_level(before["graphics"])


def rendered(page: pymupdf.Page, box: pymupdf.Rect, dpi: float, *, colour: bool) -> Pixels:
    """Render a part of the page, `box` in points as the page is turned for reading."""
    from pymupdf import mupdf

    scale = _scale(box, dpi)
    left, top = round(box.x0 * scale), round(box.y0 * scale)
    right = max(round(box.x1 * scale), left + 1)
    bottom = max(round(box.y1 * scale), top + 1)
    space = mupdf.fz_device_rgb() if colour else mupdf.fz_device_gray()
    area = mupdf.fz_make_irect(left, top, right, bottom)
    pixmap = mupdf.fz_new_pixmap_with_bbox(space, area, mupdf.FzSeparations(), 0)
    mupdf.fz_clear_pixmap_with_value(pixmap, 255)
    _run(page, mupdf.fz_new_draw_device(mupdf.fz_scale(scale, scale), pixmap))
    return _pixels(pixmap, scale)


def _scale(box: pymupdf.Rect, dpi: float) -> float:
    """Pixels a point: that of `dpi`, or less for a page so large that it would fill the memory."""
    wanted = dpi / 72
    area = max(box.width * box.height, 1)
    return float(min(wanted, (PIXELS_AT_MOST / area) ** 0.5))


def _run(page: pymupdf.Page, device: object) -> None:
    from pymupdf import mupdf

    pdf_page = mupdf.pdf_page_from_fz_page(mupdf.FzPage(page.this))
    mupdf.pdf_run_page_with_usage(pdf_page, device, mupdf.FzMatrix(), "Print", mupdf.FzCookie())
    mupdf.fz_close_device(device)


def _pixels(pixmap: object, scale: float) -> Pixels:
    import pymupdf

    shown = pymupdf.Pixmap("raw", pixmap)
    return Pixels(shown.width, shown.height, shown.n, scale / MM_PER_POINT, shown.samples)
