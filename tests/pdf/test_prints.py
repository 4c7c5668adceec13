from pathlib import Path

import pymupdf
import pytest

from fitter.pdf.prints import PIXELS_AT_MOST, hard_edges, rendered
from tests.drawn import HEIGHT, WIDTH, drawn, raw

PAGE = pymupdf.Rect(0, 0, WIDTH, HEIGHT)


def page(folder: Path, content: str) -> pymupdf.Page:
    return pymupdf.open(drawn(folder / "book.pdf", raw(content)))[0]


def test_a_rendering_has_the_size_asked_for(tmp_path: Path) -> None:
    pixels = rendered(page(tmp_path, ""), PAGE, 72, colour=True)
    assert (pixels.width, pixels.height, pixels.channels) == (366, 561, 3)
    assert pixels.per_mm == pytest.approx(72 / 25.4)
    assert pixels.one_colour


def test_a_page_without_end_is_rendered_smaller(tmp_path: Path) -> None:
    pixels = rendered(page(tmp_path, ""), PAGE * 100, 72, colour=False)
    assert pixels.width * pixels.height <= PIXELS_AT_MOST * 1.01


def test_hard_edges_lose_no_hairline_and_leave_no_fringe(tmp_path: Path) -> None:
    covered = "0 g 50.3 90.7 99.1 40.2 re f 1 g 50.3 90.7 99.1 40.2 re f"
    before = pymupdf.TOOLS.show_aa_level()
    with hard_edges():
        assert rendered(page(tmp_path, covered), PAGE, 50, colour=False).one_colour
        hairline = rendered(page(tmp_path, "0.01 w 60 300 m 200 300 l S"), PAGE, 50, colour=False)
    assert min(hairline.samples) == 0
    assert pymupdf.TOOLS.show_aa_level() == before
