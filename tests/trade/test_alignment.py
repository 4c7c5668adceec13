from __future__ import annotations

import random

from hypothesis import given
from hypothesis import strategies as st

from fitter.trade.alignment import align

TEXT = random.Random(7).choices(range(1 << 16), k=3000)


def test_the_same_text_stands_where_it_stood() -> None:
    assert align(TEXT, TEXT) == list(range(len(TEXT)))


def test_a_word_put_in() -> None:
    assert align(TEXT, [*TEXT[:100], 5, *TEXT[100:]]) == [*range(100), -1, *range(100, 3000)]


def test_a_word_changed() -> None:
    changed = [*TEXT]
    changed[1234] += 1
    assert [n for n, place in enumerate(align(TEXT, changed)) if place < 0] == [1234]


def test_a_paragraph_taken_out() -> None:
    assert align(TEXT, TEXT[:500] + TEXT[600:]) == [*range(500), *range(600, 3000)]


@given(st.lists(st.integers(0, 3), max_size=60), st.lists(st.integers(0, 3), max_size=60))
def test_places_rise_and_hold_the_same_word(old: list[int], new: list[int]) -> None:
    places = align(old, new)
    held = [place for place in places if place >= 0]
    assert held == sorted(set(held))
    assert all(old[place] == new[n] for n, place in enumerate(places) if place >= 0)
