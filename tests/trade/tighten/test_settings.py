"""What a combination costs, and which comes first."""

from __future__ import annotations

import itertools

from hypothesis import given
from hypothesis import strategies as st

from fitter.trade.tighten.settings import (
    Setting,
    changed,
    combinations,
    cost,
    defaults,
    named,
    order,
    valued,
)

LEADING = Setting("leading", ("0.98", "0.99", "1"), default=2, dislike=2)
HEIGHT = Setting("text-height", ("0", "1"), dislike=1, unit="lines")


def test_each_step_away_from_the_default_is_disliked() -> None:
    both = (LEADING, HEIGHT)
    assert defaults(both) == (2, 0)
    assert [cost(both, each) for each in ((2, 0), (2, 1), (1, 0), (0, 0), (0, 1))] == [
        0,
        1,
        2,
        4,
        5,
    ]


def test_the_default_comes_first_and_the_farthest_last() -> None:
    every = combinations((LEADING, HEIGHT))
    assert every == [(2, 0), (2, 1), (1, 0), (1, 1), (0, 0), (0, 1)]


def test_of_equal_dislike_the_combination_that_touches_fewer_settings_comes_first() -> None:
    settings = (Setting("a", ("0", "1", "2")), Setting("b", ("0", "1", "2")))
    assert combinations(settings)[3:6] == [(0, 2), (2, 0), (1, 1)]


def test_values_by_name() -> None:
    assert named((LEADING, HEIGHT), (1, 0)) == {"leading": "0.99", "text-height": "0"}
    assert list(changed((LEADING, HEIGHT), (1, 0))) == [(LEADING, "0.99")]


@given(
    st.lists(
        st.tuples(st.integers(2, 4), st.integers(0, 1), st.integers(0, 3)), min_size=1, max_size=3
    )
)
def test_no_two_combinations_tie(shapes: list[tuple[int, int, int]]) -> None:
    settings = [
        Setting(f"s{i}", tuple(map(str, range(size))), default, dislike)
        for i, (size, default, dislike) in enumerate(shapes)
    ]
    every = combinations(settings)
    assert len(every) == len(set(itertools.product(*(range(size) for size, _, _ in shapes))))
    assert len({order(settings, each) for each in every}) == len(every)


def test_what_is_changed_is_told_with_its_unit() -> None:
    both = (LEADING, HEIGHT)
    assert valued(changed(both, (1, 1))) == "leading 0.99, text-height 1 lines"
    assert valued(changed(both, defaults(both))) == "all at their defaults"
