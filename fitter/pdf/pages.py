"""Small readers of pages: how many, how large, and what text they hold."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from fitter.errors import BadInput
from fitter.pdf.apart import apart, page_begun
from fitter.pdf.document import StrPath, faults, opened, said
from fitter.trade.size import MM_PER_POINT, Size

if TYPE_CHECKING:
    import pymupdf


@apart
def page_count(path: StrPath) -> int:
    """The number of pages of a PDF."""
    with opened(path) as document:
        return len(document)


@apart
def is_encrypted(path: StrPath) -> bool:
    """Whether a PDF that anybody may read is encrypted, as one with an owner's password is."""
    with opened(path) as document:
        return bool((document.metadata or {}).get("encryption"))


@apart
def page_sizes(path: StrPath) -> tuple[Size, ...]:
    """The size of every page after trimming, in mm, as it is turned for reading."""
    with opened(path) as document:
        return tuple(size_of(page) for page in document)


@apart
def text_of_pages(path: StrPath, pages: Callable[[int], Iterable[int]]) -> dict[int, str]:
    """The text inside the trim, by sheet position from 1, of the pages wanted of such an extent.

    Pages beyond the end are left out.
    Invisible text is text here too: a verdict on what prints is not this reader's business.
    """
    with opened(path) as document:
        inside = [page for page in pages(len(document)) if 1 <= page <= len(document)]
        return {page: _text(document, page, path) for page in inside}


def trim_of(page: pymupdf.Page) -> pymupdf.Rect:
    """The trimmed page in points from the top left of the page as it is turned for reading.

    TrimBox, else CropBox, else MediaBox: ISO 32000-1, 14.11.2. A TrimBox without size, or beyond
    the page, counts as none.
    """
    import pymupdf
    from pymupdf import mupdf

    trim = _box(page, mupdf.FZ_TRIM_BOX)
    media = _box(page, mupdf.FZ_MEDIA_BOX)
    left, top = max(trim[0], media[0]), max(trim[1], media[1])
    right, bottom = min(trim[2], media[2]), min(trim[3], media[3])
    return pymupdf.Rect(trim) if (left, top, right, bottom) == trim else page.rect


def _box(page: pymupdf.Page, kind: int) -> tuple[float, float, float, float]:
    from pymupdf import mupdf

    box = mupdf.fz_bound_page_box(mupdf.FzPage(page.this), kind)
    return box.x0, box.y0, box.x1, box.y1


def turning(page: pymupdf.Page) -> pymupdf.Matrix:
    """The matrix from the page as it is drawn to the page as it is turned for reading, in points.

    pymupdf's own `rotation_matrix` overlooks UserUnit.
    """
    import pymupdf

    width, height = page.rect.width, page.rect.height
    return {
        0: pymupdf.Matrix(1, 0, 0, 1, 0, 0),
        90: pymupdf.Matrix(0, 1, -1, 0, width, 0),
        180: pymupdf.Matrix(-1, 0, 0, -1, width, height),
        270: pymupdf.Matrix(0, -1, 1, 0, 0, height),
    }[page.rotation]


def size_of(page: pymupdf.Page) -> Size:
    """The size of the trimmed page in mm, to a hundredth."""
    return size_in_mm(trim_of(page))


def size_in_mm(box: pymupdf.Rect) -> Size:
    """The size of a box in points, in mm, to a hundredth."""
    return Size(round(box.width * MM_PER_POINT, 2), round(box.height * MM_PER_POINT, 2))


def _text(document: pymupdf.Document, page: int, path: StrPath) -> str:
    page_begun(page)
    try:
        loaded = document[page - 1]
        return str(loaded.get_text("text", clip=trim_of(loaded) * ~turning(loaded)))
    except faults() as fault:
        raise BadInput(f"{path}: page {page} cannot be read: {said(fault)}") from None
