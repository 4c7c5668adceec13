"""Proves by the drawing operators alone that a page is full of dark text, without drawing it.

Most pages of most books are a few dozen lines of black text, and their operators say so a good
deal faster than a rendering would. Whatever is not as plain as that is left to `glance`.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from fitter.pdf.operators import Matrix, NotPlain, Start, starts_of_text

if TYPE_CHECKING:
    import pymupdf

STREAM_AT_MOST = 100_000  # bytes, packed; a page of text takes a few thousand
STRINGS_AT_LEAST = 2500  # bytes with their kerns; a mark takes fewer
LINES_AT_LEAST = 16  # heights at which text starts; a mark has fewer
LINE_APART = 6.0  # points
SMALLEST = 4.0  # points

_LENGTH = re.compile(r"/Length (\d{1,9})(?! \d)")
_FLATE = re.compile(r"/Filter ?/FlateDecode|/DecodeParms ?null")
_STRING = rb"\((?:[^()\\]++|\\.)*+\)"
_SHOWN = re.compile(
    _STRING + rb"|\[(?:[^\]()]++|" + _STRING + rb")*+\]|<[0-9A-Fa-f\s]*+>", re.DOTALL
)
_COMMENT = re.compile(rb"%[^\r\n]*")


def is_plainly_full(page: pymupdf.Page, trim: pymupdf.Rect) -> bool:
    """Whether the page is full of dark text at many heights inside the trim, beyond doubt."""
    content = _content(page)
    if content is None:
        return False
    bare = _SHOWN.sub(b" ", content)
    if len(content) - len(bare) < STRINGS_AT_LEAST:
        return False
    try:
        starts = starts_of_text(_COMMENT.sub(b"", bare), _transform(page))
    except NotPlain:
        return False
    return _heights_inside(starts, trim) >= LINES_AT_LEAST


def _content(page: pymupdf.Page) -> bytes | None:
    """The operators of the page, unless they are so long that unpacking them is a risk."""
    document, streams = page.parent, page.get_contents()
    if len(streams) != 1:
        return None
    entries = document.xref_object(streams[0], compressed=True)
    length = _LENGTH.search(entries)
    if not length or int(length[1]) > STREAM_AT_MOST or "/Filter" in _FLATE.sub("", entries):
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
    left, top, right, bottom = trim
    return len(
        {
            round(place / LINE_APART)
            for x, y, size, place in starts
            if size >= SMALLEST and left < x < right and top < y < bottom
        }
    )
