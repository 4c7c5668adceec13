"""Take the fingerprint of a PDF: the text of every page, and a coarse picture where it counts."""

from __future__ import annotations

from collections.abc import Container
from typing import TYPE_CHECKING

from fitter.errors import BadInput
from fitter.pdf.apart import apart, page_begun
from fitter.pdf.document import StrPath, opened
from fitter.pdf.pages import size_of, trim_of, turning
from fitter.trade.imprint.find import candidates, imprint_page
from fitter.trade.printing.fingerprint import Block, BookPrint, Role, bodies, print_of
from fitter.trade.size import Size

if TYPE_CHECKING:
    import pymupdf

SCANNED_SHARE = 0.5  # of pages with a picture and no text, from which a PDF counts as a scan
SIGNS = 16


@apart
def fingerprint(path: StrPath, fillers: Container[int] = ()) -> BookPrint:
    """The fingerprint of a book, whose `fillers` stand on these pages from 1.

    Raises BadInput where it is a scan without text.
    """
    with opened(path) as document:
        blocks = [_blocks(page) for page in document]
        pictures = [
            _picture(page) if not held or page.get_images() else ""
            for page, held in zip(document, blocks, strict=True)
        ]
        trim = _common([size_of(page) for page in document])
    _refuse_scan(path, blocks, pictures)
    imprint = imprint_page({n: _text(blocks[n - 1]) for n in candidates(len(blocks))})
    prints = (
        print_of(lines, picture, _role(n, imprint, fillers))
        for n, (lines, picture) in enumerate(zip(bodies(blocks), pictures, strict=True), 1)
    )
    return BookPrint(trim, tuple(prints))


def _role(page: int, imprint: int | None, fillers: Container[int]) -> Role:
    if page == imprint:
        return "imprint"
    return "filler" if page in fillers else "text"


def _blocks(page: pymupdf.Page) -> list[Block]:
    """The text inside the trim, block by block."""
    page_begun()
    clip = trim_of(page) * ~turning(page)
    return [
        Block(top, bottom, tuple(text.splitlines()))
        for _, top, _, bottom, text, _, kind in page.get_text("blocks", clip=clip)
        if kind == 0 and text.strip()
    ]


def _text(blocks: list[Block]) -> str:
    return "\n".join(line for block in blocks for line in block.lines)


def _picture(page: pymupdf.Page) -> str:
    """256 signs that say where it grows darker from left to right; empty for a blank page."""
    import pymupdf

    page_begun()
    box = trim_of(page)
    if box.is_empty:
        return ""
    zoom = pymupdf.Matrix((4 * SIGNS + 4) / box.width, 4 * SIGNS / box.height)
    shades = page.get_pixmap(matrix=zoom, colorspace=pymupdf.csGRAY, clip=box)
    if shades.is_unicolor:
        return ""
    shades.shrink(2)
    grey, stride = shades.samples, shades.stride
    rows = [grey[y * stride : y * stride + SIGNS + 1] for y in range(SIGNS)]
    signs = [str(int(row[x + 1] > row[x] + 8)) for row in rows for x in range(SIGNS)]
    return f"{int(''.join(signs), 2):064x}"


def _common(sizes: list[Size]) -> Size:
    return max(set(sizes), key=lambda size: (sizes.count(size), size.width_mm, size.height_mm))


def _refuse_scan(path: StrPath, blocks: list[list[Block]], pictures: list[str]) -> None:
    scanned = sum(not held and bool(seen) for held, seen in zip(blocks, pictures, strict=True))
    if scanned > SCANNED_SHARE * len(blocks):
        raise BadInput(
            f"{path}: {scanned} of {len(blocks)} pages are pictures without text, as in a scan, "
            "and cannot be compared by their words. Make its text readable first (OCR), "
            "or compare the two by eye."
        )
