"""The search for the least disliked settings, against trying every combination.

The books here are made of numbers: chapters of so many lines, stretched by each setting and set on
pages of so many lines. Real books are tried in tests/benchmarks/settings.py.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from math import ceil

import pytest

from fitter.trade.tighten.forecast import Extent
from fitter.trade.tighten.search import MOST_DRAFTS, Search
from fitter.trade.tighten.settings import Combination, Setting, combinations, cost, defaults
from fitter.trade.tighten.stretches import Stretch

Measure = Callable[[Combination], Extent | None]
Reaches = Callable[[int], bool]


def made_up_book(seed: int, *, recto: bool) -> Callable[[Combination], Extent]:
    """Twelve chapters whose lines and pages depend on four settings, not quite evenly."""
    chance = random.Random(seed)
    lines = [chance.randint(60, 500) for _ in range(12)]
    steps = [[0.0], [0.0], [0.0]]
    for strengths in steps:
        for _ in range(3):
            strengths.append(strengths[-1] + chance.uniform(0.002, 0.012))

    def measure(combination: Combination) -> Extent:
        shrink = sum(steps[i][position] for i, position in enumerate(combination[:3]))
        full = 33 + combination[3]
        taken = [max(1, round(each * (1 - shrink))) for each in lines]
        pages = [ceil(each / full) for each in taken]
        followed = [Stretch((i,), each, True) for i, each in enumerate(pages[:-1]) if recto]
        blank = sum(each.pages % 2 for each in followed)
        return Extent(
            10 + sum(pages) + blank, tuple(each / full for each in taken), tuple(followed)
        )

    return measure


def settings(*dislikes: float) -> tuple[Setting, ...]:
    return tuple(
        Setting(f"s{i}", ("0", "1", "2", "3"), 0, dislike) for i, dislike in enumerate(dislikes)
    )


def search(
    allowed: tuple[Setting, ...], measure: Measure, reaches: Reaches, at_once: int = 2
) -> Search:
    """Draft until the search is over."""
    known: dict[Combination, Extent | None] = {}
    while wanted := Search(allowed, known, reaches).next_drafts(at_once):
        assert not set(wanted) & set(known), "nothing is built twice"
        for each in wanted:
            extent = measure(each)
            known[each] = extent and replace(extent, reached=reaches(extent.pages))
    return Search(allowed, known, reaches)


@pytest.mark.parametrize("recto", [False, True])
@pytest.mark.parametrize("saved", [1, 3, 6, 9])
@pytest.mark.parametrize("dislikes", [(1, 1, 1, 1), (2, 3, 1, 5), (1, 2, 4, 8)])
@pytest.mark.parametrize("seed", [1, 2])
def test_the_search_finds_what_trying_all_finds(
    recto: bool, saved: int, dislikes: tuple[float, ...], seed: int
) -> None:
    allowed, measure = settings(*dislikes), made_up_book(seed, recto=recto)
    most = measure(defaults(allowed)).pages - saved
    found = search(allowed, measure, lambda pages: pages <= most)
    every = combinations(allowed)
    assert len(every) == 256
    assert found.best == next((each for each in every if measure(each).pages <= most), None)
    assert len(found.known) <= MOST_DRAFTS


def test_a_book_can_be_made_longer() -> None:
    allowed = tuple(Setting(f"s{i}", ("0", "1", "2", "3"), 3, i + 1) for i in range(4))
    measure = made_up_book(3, recto=False)
    least = measure(defaults(allowed)).pages + 3
    found = search(allowed, measure, lambda pages: pages >= least)
    assert found.best == next(
        each for each in combinations(allowed) if measure(each).pages >= least
    )


def test_an_extent_out_of_reach_is_told_by_the_nearest() -> None:
    allowed, measure = settings(1, 1, 1, 1), made_up_book(1, recto=False)
    shortest = min(measure(each).pages for each in combinations(allowed))
    found = search(allowed, measure, lambda pages: pages < shortest)
    assert found.best is None
    assert found.nearest is not None
    assert measure(found.nearest).pages == shortest
    assert len(found.known) <= MOST_DRAFTS


def test_a_value_with_which_nothing_builds_is_left_out() -> None:
    allowed, measure = settings(1, 9, 9, 9), made_up_book(1, recto=False)

    def failing(each: Combination) -> Extent | None:
        return None if each[0] == 3 else measure(each)

    most = measure((2, 0, 0, 0)).pages
    assert most < measure((0, 0, 0, 0)).pages
    found = search(allowed, failing, lambda pages: pages <= most)
    assert found.best is not None
    assert found.best[0] < 3
    tried = [each for each in found.known if each[0] == 3]
    assert tried == [(3, 0, 0, 0)], "alone it fails, so it is not tried with others"


def test_words_have_no_order_so_each_is_tried() -> None:
    allowed = (Setting("measure", ("wide", "narrow", "middling"), 0, words=True),)
    pages = {(0,): 100, (1,): 104, (2,): 98}
    found = search(allowed, lambda each: Extent(pages[each], (pages[each],)), lambda n: n <= 99)
    assert found.best == (2,)
    assert len(found.known) == 3


def test_what_was_not_built_is_accounted_for() -> None:
    allowed, measure = settings(1, 2, 4, 8), made_up_book(1, recto=False)
    most = measure(defaults(allowed)).pages - 6
    found = search(allowed, measure, lambda pages: pages <= most)
    best = found.best
    assert best is not None
    less = [each for each in combinations(allowed) if cost(allowed, each) < cost(allowed, best)]
    assert sum(found.cheaper) >= len(less)
    assert found.one_way


def test_drafts_that_contradict_each_other_prove_nothing() -> None:
    allowed = settings(1, 1)
    pages = {(0, 0): 100, (3, 0): 98, (0, 3): 98, (3, 3): 99}
    known: dict[Combination, Extent | None] = {
        each: Extent(n, (n / 10.0,)) for each, n in pages.items()
    }
    found = Search(allowed, known, lambda n: n <= 97)
    assert not found.one_way
    assert found.cheaper[1] == 0


def test_a_setting_that_changes_nothing_is_combined_with_no_other() -> None:
    allowed = settings(1, 2)
    known = {
        each: Extent(100 - each[0], (100.0 - each[0],), reached=each[0] == 3)
        for each in combinations(allowed)
    }
    assert len(Search(allowed, known, lambda pages: pages <= 97).winners) == 4
    assert Search(allowed, known, lambda pages: pages <= 97, frozenset({1})).winners == [(3, 0)]
