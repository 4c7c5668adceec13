"""Foretelling pages from drafts."""

from __future__ import annotations

import pytest

from fitter.trade.tighten.forecast import Extent, Forecast, extent_of
from fitter.trade.tighten.settings import Setting
from fitter.trade.tighten.stretches import Stretch
from tests.trade.texts import chapter, text

LEADING = Setting("leading", ("0.97", "0.98", "0.99", "1"), 3)
HEIGHT = Setting("height", ("0", "1"), 0)


def test_the_length_of_a_chapter_is_its_pages_and_the_part_of_the_last() -> None:
    book = text(
        chapter(1, 3, lines=11), chapter(5, 5, lines=33), chapter(7, 8, lines=40), blank=(4, 6)
    )
    assert extent_of(book, True).lengths == (2 + 11 / 33, 1.0, 2.0)
    assert extent_of(book, True).stretches == (Stretch((0,), 3, True), Stretch((1,), 1, True))


@pytest.mark.parametrize(("position", "pages"), [(3, 21), (2, 20), (1, 20), (0, 18)])
def test_between_measured_values_a_setting_works_evenly(position: int, pages: int) -> None:
    known = {(3,): Extent(21, (10.02, 9.98)), (0,): Extent(18, (9.0, 8.9))}
    assert Forecast([LEADING], known).pages((position,)) == pages


def test_settings_work_together_and_blank_versos_come_and_go() -> None:
    fives = (Stretch((0,), 5, True), Stretch((1,), 5, True))
    known = {
        (3, 0): Extent(16, (4.2, 4.1, 3.2), fives),
        (0, 0): Extent(16, (4.1, 4.05, 3.1), fives),
        (3, 1): Extent(15, (4.05, 4.02, 3.0), fives),
    }
    assert Forecast([LEADING, HEIGHT], known).pages((0, 1)) == 11
    assert Forecast([LEADING, HEIGHT], known).pages((0, 1), slack=0.1) == 16


def test_chapters_that_share_a_stretch_win_its_blank_verso_together() -> None:
    # Two chapters open anywhere, a part follows on a recto: 4 + 5 pages, a blank verso, 3 pages.
    shared = (Stretch((0, 1), 9, True),)
    known = {(3, 0): Extent(13, (3.5, 4.2, 3.0), shared), (0, 0): Extent(11, (3.5, 4.0, 3.0))}
    forecast = Forecast([LEADING, HEIGHT], known)
    assert forecast.pages((2, 0)) == 13
    assert forecast.pages((2, 0), slack=-0.2) == 11, "eight pages, and no blank verso"
    assert forecast.pages((3, 0), slack=-0.5) == 11, "seven pages and a blank verso"


def test_the_nearest_draft_is_where_a_forecast_starts() -> None:
    known = {(3, 0): Extent(14, (4.2,)), (0, 0): Extent(13, (4.0,)), (3, 1): Extent(13, (4.1,))}
    forecast = Forecast([LEADING, HEIGHT], known)
    assert forecast.nearest((1, 0)) == (0, 0)
    assert forecast.nearest((3, 1)) == (3, 1)
