"""Sizes of pages and rows."""

from __future__ import annotations

import pytest

from fitter.pdf.thumbnails import Drawn, Thumbnail
from fitter.reports.dummy.arcs import GAP
from fitter.reports.dummy.style import row_width, sizes_of, style_sheet


def pictured(page: int, width: int, height: int) -> Drawn:
    return Drawn(page, Thumbnail("image/png", b"", width, height))


def test_the_most_frequent_size_is_the_usual_and_others_get_a_class() -> None:
    pages = [pictured(1, 200, 300), pictured(2, 200, 300), pictured(3, 400, 300), Drawn(4, None)]
    sizes = sizes_of(pages)
    assert sizes.usual == (200, 300)
    assert [sizes.class_of(page.picture) for page in pages] == ["", "", "s1", ""]
    assert ".page.s1 { width: calc(var(--w) * 1); }" in style_sheet(sizes, [16])


def test_a_pixel_more_is_no_other_size() -> None:
    sizes = sizes_of([pictured(1, 200, 300), pictured(2, 201, 301)])
    assert not sizes.others


def test_a_pdf_without_one_readable_page_still_has_a_shape() -> None:
    assert sizes_of([Drawn(1, None)]).usual == (66, 100)


@pytest.mark.parametrize(
    ("largest", "pages", "gaps"), [(16, 16, 8), (12, 12, 6), (8, 16, 12), (32, 17, 8), (64, 17, 8)]
)
def test_a_row_holds_a_gathering_or_two_or_ends_with_a_whole_spread(
    largest: int, pages: int, gaps: int
) -> None:
    assert row_width(largest) == pytest.approx(pages + gaps * GAP)


def test_a_page_that_is_all_but_nothing_still_has_a_size() -> None:
    # Damaged files have pages of one point; the picture is a line of pixels.
    sizes = sizes_of([pictured(1, 200, 300), pictured(2, 200, 300), pictured(3, 200, 1)])
    assert list(sizes.others) == [(1.0, 0.05)]
    assert "aspect-ratio" in style_sheet(sizes, [16])
