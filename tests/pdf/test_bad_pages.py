"""Pages beyond reason: each is judged, or named and left out, in bounded time and memory."""

from __future__ import annotations

import resource
import zlib
from pathlib import Path

import pymupdf
import pytest

from fitter.data.known_marks import known_marks
from fitter.pdf import apart
from fitter.pdf.verdicts import Reading, read_verdicts
from fitter.trade.size import Size
from tests.drawn import Draw, drawn, nothing, raw, said, text


def packed(content: bytes, filters: str) -> Draw:
    """A page whose content stream is already packed."""

    def draw(page: pymupdf.Page) -> None:
        raw("")(page)
        document = page.parent
        (stream,) = page.get_contents()
        document.update_stream(stream, content, compress=False)
        document.xref_set_key(stream, "Filter", filters)

    return draw


@pytest.fixture(scope="module")
def bomb() -> Draw:
    """A page of 600 MB of operators that draw nothing, packed twice into a few thousand bytes."""
    once = zlib.compressobj(1)
    operators = b"q Q " * (1 << 18)
    thin = b"".join(once.compress(operators) for _ in range(600)) + once.flush()
    return packed(zlib.compress(thin, 9), "[/FlateDecode /FlateDecode]")


def wide(image: str) -> Draw:
    """A page that shows an image said to be very large."""

    def draw(page: pymupdf.Page) -> None:
        document = page.parent
        xref = document.get_new_xref()
        document.update_object(xref, f"<</Type/XObject/Subtype/Image{image}>>")
        document.update_stream(xref, zlib.compress(bytes(1 << 20)), new=True, compress=False)
        document.xref_set_key(xref, "Filter", "/FlateDecode")
        raw("q 300 0 0 300 0 0 cm /X Do Q", f"/XObject<</X {xref} 0 R>>")(page)

    return draw


def verdicts(reading: Reading) -> list[str]:
    return [page.verdict for page in reading.verdicts]


@pytest.mark.parametrize(
    ("box", "expected"),
    [
        ("[0 0 14400 14400]", "printed"),  # 200 inches: the limit of ISO 32000-1, annex C
        ("[0 0 0 0]", "printed"),  # no size: the reader takes another
        ("[0 0 3 3]", "blank"),
        ("[600 800 0 0]", "printed"),
    ],
)
def test_strange_sizes(tmp_path: Path, box: str, expected: str) -> None:
    path = drawn(tmp_path / "book.pdf", text, raw(said("here"), MediaBox=box), text)
    assert verdicts(read_verdicts(path, known_marks())) == ["printed", expected, "printed"]


@pytest.mark.parametrize("box", ["[9 9 9 9]", "[500 500 600 600]"])
def test_a_trim_box_without_size_or_beyond_the_page_counts_as_none(
    tmp_path: Path, box: str
) -> None:
    path = drawn(tmp_path / "book.pdf", raw(said("here"), TrimBox=box))
    reading = read_verdicts(path, known_marks())
    assert verdicts(reading) == ["printed"]
    assert reading.sizes == (Size(129, 198),)


def test_a_million_objects(tmp_path: Path) -> None:
    squares = "".join(f"{n % 360} {n // 2800 + 20} 1 1 re f\n" for n in range(1_000_000))
    path = drawn(tmp_path / "book.pdf", text, raw("0.5 g " + squares), nothing, text)
    reading = read_verdicts(path, known_marks())
    assert verdicts(reading) == ["printed", "printed", "blank", "printed"]
    assert not reading.unread, "no page took longer than it may"


def test_a_decompression_bomb_is_named_and_the_rest_read(
    tmp_path: Path, bomb: Draw, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(apart, "SECONDS_A_PAGE", 1.0)
    path = drawn(tmp_path / "book.pdf", text, bomb, nothing, text)
    assert path.stat().st_size < 300_000
    reading = read_verdicts(path, known_marks())
    assert verdicts(reading) == ["printed", "printed", "blank", "printed"]
    (number,) = reading.unread
    assert number == 2
    assert "book.pdf: page 2 takes more than 1 seconds" in reading.unread[2]
    assert resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss < 1_500_000  # kB


def test_an_image_beyond_all_memory(tmp_path: Path) -> None:
    size = "/Width 200000/Height 200000/BitsPerComponent 8/ColorSpace/DeviceRGB"
    path = drawn(tmp_path / "book.pdf", text, wide(size), nothing, text)
    reading = read_verdicts(path, known_marks())
    assert verdicts(reading)[2:] == ["blank", "printed"]


def test_too_many_bad_pages_are_one_bad_file(
    tmp_path: Path, bomb: Draw, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(apart, "SECONDS_A_PAGE", 0.5)
    path = drawn(tmp_path / "book.pdf", *[bomb] * 4)
    with pytest.raises(apart.GivenUp, match="page 4"):
        read_verdicts(path, known_marks())
