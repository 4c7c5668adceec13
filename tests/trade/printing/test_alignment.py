from __future__ import annotations

import random

from hypothesis import given
from hypothesis import strategies as st

from fitter.trade.printing.alignment import align, align_moved

TEXT = random.Random(7).sample(range(1 << 16), k=3000)


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


def test_text_that_changed_places_is_found_in_a_second_pass() -> None:
    moved = [*TEXT[:200], *TEXT[260:400], *TEXT[200:260], *TEXT[400:]]
    places = align(TEXT, moved)
    assert -1 in places
    assert align_moved(TEXT, moved, places) == [TEXT.index(word) for word in moved]


def test_a_run_that_is_frequent_in_the_book_is_found_between_its_neighbours() -> None:
    refrain = [1, 2, 3, 4, 5, 6]
    old = [*TEXT[:50], *refrain, *TEXT[50:90], *refrain, *TEXT[90:120]]
    new = [*TEXT[:50], 9, *refrain, 9, *TEXT[50:90], 9, *refrain, 9, *TEXT[90:120]]
    assert [place for place in align(old, new) if place >= 0] == list(range(len(old)))
