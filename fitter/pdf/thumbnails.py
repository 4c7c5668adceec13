"""Small pictures of pages, and which pages are too damaged to draw."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fitter.pdf.apart import apart, around_bad_pages, page_begun
from fitter.pdf.document import StrPath, faults, opened, said
from fitter.pdf.pages import size_of, trim_of
from fitter.trade.size import Size

if TYPE_CHECKING:
    import pymupdf

BUDGET = 4_900_000  # bytes of all pictures: 6.6 MB as text, so two books stay under 15 MB
LARGE_BUDGET = 9_000_000  # from LARGE pages on
LARGE = 1500
WIDEST, NARROWEST, LONGEST = 640, 96, 2560  # pixels
SAMPLED = 12  # pages
GIVEN_UP_AT_MOST = 3  # pages; a file with more of them is beyond drawing
GREYS = 8
JPEG_QUALITY = 55
_DAMAGE = re.compile(r"error|not a stream|cannot (?:load|find|draw|read)", re.IGNORECASE)
_OF_ANOTHER_PAGE = "page tree"


@dataclass(frozen=True, slots=True)
class Thumbnail:
    """A picture of the trimmed page: `width` and `height` in pixels, `media` as in a data URI."""

    media: str
    content: bytes
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Drawn:
    """A page by its sheet position; without a picture where nothing of it could be drawn.

    `fault` says in the words of the PDF reader what is damaged.
    """

    page: int
    picture: Thumbnail | None
    size: Size | None = None
    fault: str = ""


def draw_pages(
    path: StrPath, on_page: Callable[[int], None] = lambda page: None
) -> tuple[Drawn, ...]:
    """Draw every page to one scale, as large as the number of pages allows.

    `on_page` is told each sheet position, in the process that draws. A page that takes too long is
    left without a picture.
    Raises BadInput where the PDF cannot be opened, or too many of its pages drawn.
    """
    return around_bad_pages(
        lambda given_up: _draw_pages(path, on_page, given_up),
        GIVEN_UP_AT_MOST,
        lambda _: "drawing it takes too long or too much memory",
    )


@apart
def _draw_pages(
    path: StrPath, on_page: Callable[[int], None], given_up: Mapping[int, str]
) -> tuple[Drawn, ...]:
    with opened(path) as document:
        scale = _scale(document, given_up)
        return tuple(_told(drawn, on_page) for drawn in _draw(document, scale, given_up))


def width_for(pages: int, bytes_a_page: float, width: int) -> int:
    """How wide a page may be, when at `width` pixels its picture takes so many bytes."""
    budget = LARGE_BUDGET if pages >= LARGE else BUDGET
    fitting = int(width * math.sqrt(budget / (pages * max(bytes_a_page, 1))))
    return max(NARROWEST, min(WIDEST, fitting))


def _told(drawn: Drawn, on_page: Callable[[int], None]) -> Drawn:
    on_page(drawn.page)
    return drawn


def _scale(document: pymupdf.Document, given_up: Mapping[int, str]) -> float:
    """Pixels a point, from what the pictures of some pages spread over the book take."""
    step = max(1, len(document) // SAMPLED)
    sampled = [at for at in range(0, len(document), step) if at + 1 not in given_up]
    if not sampled:
        return 1.0
    widths: list[float] = sorted(trim_of(document[number]).width for number in sampled)
    usual = widths[len(widths) // 2]
    tried = WIDEST // 2
    for _ in range(2):  # letters grow blacker as they shrink, so the first guess is a little off
        pages = [_drawn(document, number, tried / usual).picture for number in sampled]
        taken = sum(len(page.content) for page in pages if page)
        tried = width_for(len(document), taken / len(pages), tried)
    return tried / usual


def _draw(document: pymupdf.Document, scale: float, given_up: Mapping[int, str]) -> Iterator[Drawn]:
    for number in range(len(document)):
        fault = given_up.get(number + 1)
        yield Drawn(number + 1, None, None, fault) if fault else _drawn(document, number, scale)


def _drawn(document: pymupdf.Document, number: int, scale: float) -> Drawn:
    import pymupdf

    page_begun(number + 1)
    pymupdf.TOOLS.reset_mupdf_warnings()
    try:
        page = document[number]
        trim = trim_of(page)
        scale = min(scale, LONGEST / max(trim.width, trim.height))
        pixels = page.get_pixmap(
            matrix=pymupdf.Matrix(scale, scale),
            clip=trim,
            colorspace=pymupdf.csRGB,
            alpha=False,
        )
        fault, size = _fault(document, page, said(pymupdf.TOOLS.mupdf_warnings())), size_of(page)
    except faults() as error:
        return Drawn(number + 1, None, None, said(error))
    empty = pixels.samples.count(pixels.samples[:1]) == len(pixels.samples)
    return Drawn(number + 1, None if fault and empty else _picture(pixels), size, fault)


def _fault(document: pymupdf.Document, page: pymupdf.Page, warnings: str) -> str:
    """What is wrong with a page; MuPDF draws what it can and only warns about the rest."""
    if document.xref_get_key(page.xref, "Type")[1] != "/Page":
        return "there is no page object at its place in the file"
    told = (line for line in warnings.splitlines() if _OF_ANOTHER_PAGE not in line)
    return next((line for line in told if _DAMAGE.search(line)), "")


def _picture(pixels: pymupdf.Pixmap) -> Thumbnail:
    """Few greys as PNG for text, JPEG for pictures: whichever is smaller."""
    import pymupdf

    samples = pixels.samples
    if samples[0::3] == samples[1::3] == samples[2::3]:
        pixels = pymupdf.Pixmap(pymupdf.csGRAY, pixels)
    png = _with_few_shades(pixels).tobytes("png")
    jpeg = pixels.tobytes("jpg", jpg_quality=JPEG_QUALITY)
    media, content = min(("image/png", png), ("image/jpeg", jpeg), key=_size)
    return Thumbnail(media, content, pixels.width, pixels.height)


def _with_few_shades(pixels: pymupdf.Pixmap) -> pymupdf.Pixmap:
    top = GREYS - 1
    table = bytes(round(round(value * top / 255) * 255 / top) for value in range(256))
    samples = pixels.samples.translate(table)
    return type(pixels)(pixels.colorspace, pixels.width, pixels.height, samples, False)


def _size(encoded: Sequence[object]) -> int:
    return len(encoded[1])  # type: ignore[arg-type]
