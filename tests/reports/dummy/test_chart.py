"""The drawn staircase."""

from __future__ import annotations

import itertools

import pytest

from fitter.reports.dummy.chart import BOTTOM, LEFT, RIGHT, TOP, chart_in_words, draw_chart
from fitter.trade.fold.gatherings import Binding
from fitter.trade.fold.staircase import staircase

FOLD = Binding(sizes=(16,)).fold


@pytest.mark.parametrize("pages", [1, 5, 16, 83, 299, 3000])
def test_the_book_stands_inside_the_drawing(pages: int) -> None:
    chart = draw_chart(staircase(FOLD, pages, 26))
    assert LEFT <= chart.here_x <= RIGHT
    assert TOP <= chart.here_y <= BOTTOM
    assert 2 <= len(chart.up) <= 5
    assert 1 <= len(chart.across) <= 5
    apart = [b.at - a.at for a, b in itertools.pairwise(chart.across)]
    assert not apart or min(apart) > 30


def test_a_book_that_fills_its_gatherings_stands_on_the_dotted_line() -> None:
    assert draw_chart(staircase(FOLD, 288, 26)).left_over == 0
    assert draw_chart(staircase(FOLD, 283, 26)).left_over > 0


def test_the_words_say_what_the_drawing_shows() -> None:
    assert chart_in_words(staircase(FOLD, 299, 26)).startswith(
        "299 text pages make an extent of 304, 5 left over. From 289 to 304 text pages"
    )
    assert "none left over" in chart_in_words(staircase(FOLD, 288, 26))
