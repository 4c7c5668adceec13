"""Proves by the drawing operators alone that a page is full of dark text, without drawing it.

Most pages of most books are a few dozen lines of black text, and their operators say so a good
deal faster than a rendering would. Whatever is not as plain as that is left to `glance`.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from fitter.pdf.operators import Matrix, NotPlain, Start, starts_of_text
from fitter.pdf.pages import trim_of

if TYPE_CHECKING:
    import pymupdf

STREAM_AT_MOST = 100_000  # bytes, packed; a page of text takes a few thousand
STRINGS_AT_LEAST = 2500  # bytes with their kerns; a mark takes fewer
LINES_AT_LEAST = 16  # heights at which text starts; a mark has fewer
LINE_APART = 6.0  # points
SMALLEST = 4.0  # points

_ONE_FILTER = ("/FlateDecode", "null")
_STRING = rb"\((?:[^()\\]++|\\.)*+\)"
_SHOWN = re.compile(
    _STRING + rb"|\[(?:[^\]()]++|" + _STRING + rb")*+\]|<[0-9A-Fa-f\s]*+>", re.DOTALL
)
_COMMENT = re.compile(rb"%[^\r\n]*")


def is_plainly_full(page: pymupdf.Page) -> bool:
    """Whether the page is full of dark text at many heights inside the trim, beyond doubt."""
    content = _content(page)
    if content is None:
        return False
    bare = _SHOWN.sub(b" () ", content)
    if len(content) - len(bare) < STRINGS_AT_LEAST:
        return False
    try:
        starts = starts_of_text(_COMMENT.sub(b"", bare), _transform(page))
    except NotPlain:
        return False
    return _heights_inside(starts, trim_of(page)) >= LINES_AT_LEAST


def _content(page: pymupdf.Page) -> bytes | None:
    """The operators of the page, unless they are so long that unpacking them is a risk."""
    document = page.parent
    streams = page.get_contents()
    if len(streams) != 1 or document.xref_get_key(streams[0], "Filter")[1] not in _ONE_FILTER:
        return None
    length = document.xref_get_key(streams[0], "Length")[1]
    if not length.isdecimal() or int(length) > STREAM_AT_MOST:
        return None
    content: bytes | None = document.xref_stream(streams[0])
    return content


def _transform(page: pymupdf.Page) -> Matrix:
    """From the coordinates of the operators to those of the page as it is turned for reading."""
    from pymupdf import mupdf

    box, matrix = mupdf.FzRect(), mupdf.FzMatrix()
    mupdf.pdf_page_transform(mupdf.pdf_page_from_fz_page(mupdf.FzPage(page.this)), box, matrix)
    return matrix.a, matrix.b, matrix.c, matrix.d, matrix.e, matrix.f


def _heights_inside(starts: list[Start], trim: pymupdf.Rect) -> int:
    left, top, right, bottom = trim.x0, trim.y0, trim.x1, trim.y1
    return len(
        {
            round(start.height / LINE_APART)
            for start in starts
            if start.size >= SMALLEST and left < start.x < right and top < start.y < bottom
        }
    )
