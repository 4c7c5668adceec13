"""Thumbnails of real pages: their size, their weight, and what cannot be drawn."""

from __future__ import annotations

from pathlib import Path

import pymupdf
import pytest

from fitter.pdf import apart
from fitter.pdf.thumbnails import BUDGET, LARGE_BUDGET, NARROWEST, WIDEST, draw_pages, width_for
from fitter.trade.size import Size
from tests.drawn import MM, drawn, nothing, raw, text, words


def pixels(content: bytes) -> pymupdf.Pixmap:
    return pymupdf.Pixmap(content)


def test_every_page_has_a_picture_that_can_be_decoded(tmp_path: Path) -> None:
    told = tmp_path / "told.txt"

    def on_page(page: int) -> None:
        with told.open("a") as file:
            file.write(f"{page} ")

    pages = draw_pages(drawn(tmp_path / "book.pdf", text, nothing, text), on_page)
    assert told.read_text() == "1 2 3 "
    for page in pages:
        assert page.picture and page.size == Size(129, 198) and not page.fault
        shown = pixels(page.picture.content)
        assert (shown.width, shown.height) == (page.picture.width, page.picture.height)
        assert page.picture.width == WIDEST
        assert page.picture.height / page.picture.width == pytest.approx(198 / 129, rel=0.01)


def test_text_is_dark_and_paper_white(tmp_path: Path) -> None:
    first, second = draw_pages(drawn(tmp_path / "book.pdf", text, nothing))
    assert first.picture and second.picture
    assert {0, 255} <= set(pixels(first.picture.content).samples)
    assert set(pixels(second.picture.content).samples) == {255}


def test_colour_stays_and_grey_costs_no_colour(tmp_path: Path) -> None:
    def red(page: pymupdf.Page) -> None:
        page.draw_rect(pymupdf.Rect(50, 50, 200, 200), color=(1, 0, 0), fill=(1, 0, 0))

    coloured, grey = draw_pages(drawn(tmp_path / "book.pdf", red, text))
    assert coloured.picture and grey.picture
    shown = pixels(coloured.picture.content)
    assert shown.pixel(shown.width // 3, shown.height // 5) == (255, 0, 0)
    assert pixels(grey.picture.content).n == 1


@pytest.mark.parametrize("pages", [16, 96, 300, 600, 1500, 3000])
def test_the_width_keeps_all_pictures_within_the_budget(pages: int) -> None:
    at_320 = 10_000.0
    width = width_for(pages, at_320, 320)
    assert NARROWEST <= width <= WIDEST
    taken = pages * at_320 * (width / 320) ** 2
    assert taken <= (LARGE_BUDGET if pages >= 1500 else BUDGET) or width == NARROWEST


def test_smaller_pages_are_drawn_to_the_same_scale(tmp_path: Path) -> None:
    path = drawn(tmp_path / "book.pdf", text, text, text)
    with pymupdf.open(path) as document:
        document[1].set_mediabox(pymupdf.Rect(0, 0, 129 / 2 * MM, 198 * MM))
        document.saveIncr()
    usual, half, _ = draw_pages(path)
    assert usual.picture and half.picture
    assert half.picture.width * 2 == pytest.approx(usual.picture.width, abs=2)
    assert half.size == Size(64.5, 198)


def damaged(path: Path) -> Path:
    """Six pages: the second has a broken stream, the fourth no content, the fifth no page."""
    drawn(path, *(words(40, f"Page {number}") for number in range(1, 7)))
    with pymupdf.open(path) as document:
        document.update_stream(document[1].get_contents()[0], b"q BT << [ no PDF \xff ] ET")
        document.xref_set_key(document[3].xref, "Contents", "9999 0 R")
        fifth = document[4].xref
        document.saveIncr()
    raw = path.read_bytes()
    at = raw.index(b"\n%d 0 obj" % fifth)
    end = raw.index(b"endobj", at)
    none = b"\n%d 0 obj null" % fifth
    path.write_bytes(raw[:at] + none.ljust(end - at) + raw[end:])
    return path


def test_damaged_pages_have_a_fault_and_no_picture_and_the_others_are_drawn(
    tmp_path: Path,
) -> None:
    pages = draw_pages(damaged(tmp_path / "damaged.pdf"))
    assert [page.page for page in pages if page.fault] == [2, 4, 5]
    assert [page.page for page in pages if page.picture is None] == [2, 4, 5]


def test_a_huge_page_is_drawn_within_limits(tmp_path: Path) -> None:
    path = drawn(tmp_path / "book.pdf", text, text, text)
    with pymupdf.open(path) as document:
        document[1].set_mediabox(pymupdf.Rect(0, 0, 14_000, 14_000))
        document.saveIncr()
    huge = draw_pages(path)[1].picture
    assert huge and max(huge.width, huge.height) <= 2561


def test_a_page_that_takes_too_long_is_left_without_a_picture(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(apart, "SECONDS_A_PAGE", 1.0)
    endless = raw("q Q " * 12_000_000)
    first, second, third = draw_pages(drawn(tmp_path / "book.pdf", text, endless, text))
    assert first.picture and third.picture
    assert second.picture is None
    assert second.fault == "drawing it takes too long or too much memory"
