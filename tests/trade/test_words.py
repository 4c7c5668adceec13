"""Counts and runs of numbers."""

import pytest

from fitter.trade.words import count, ranges


@pytest.mark.parametrize(
    ("number", "words"), [(0, "0 pages"), (1, "1 page"), (2, "2 pages"), (21, "21 pages")]
)
def test_one_is_counted_by_the_singular(number, words):
    assert count(number, "page") == words


def test_a_plural_of_its_own():
    assert [count(number, "leaf", "leaves") for number in (1, 2)] == ["1 leaf", "2 leaves"]


def test_pages_in_words():
    assert ranges([11, 3, 5, 6, 7]) == "3, 5–7, 11"
    assert ranges([]) == ""
