"""Which paragraphs lose a line: the fewest, the least squeezed, and no fewer than are needed."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from hypothesis import given
from hypothesis import strategies as st

from fitter.trade.tighten.pick import Offer, pick, shrunk, squeeze
from fitter.trade.tighten.text import Paragraph
from tests.trade.texts import paragraph


def offer(chapter: int, lines: int, wins: int, *fills: float) -> Offer:
    can = tuple(paragraph(chapter * 100 + i, fill=fill) for i, fill in enumerate(sorted(fills)))
    return Offer(chapter, lines, wins, can)


def test_a_line_spread_over_many_is_seen_least() -> None:
    assert squeeze(paragraph(1, lines=11, fill=0.1)) == 0.01
    assert squeeze(paragraph(1, lines=2, fill=0.1)) == 0.1


def test_one_paragraph_is_better_than_two() -> None:
    offers = [offer(1, 2, 2, 0.01, 0.02), offer(2, 1, 1, 0.3)]
    chosen = pick(offers, lambda pages: pages <= 15, 16)
    assert chosen == [offers[1]]


def test_chapters_that_win_nothing_or_have_too_few_are_left() -> None:
    offers = [offer(1, 2, 2, 0.1), offer(2, 1, 0, 0.1), offer(3, 1, 1, 0.1)]
    assert pick(offers, lambda pages: pages <= 15, 16) == [offers[2]]
    assert pick(offers, lambda pages: pages <= 14, 16) is None


@given(
    st.lists(
        st.tuples(st.integers(1, 3), st.integers(0, 2), st.lists(st.floats(0.01, 0.9), max_size=4)),
        max_size=6,
    ),
    st.integers(0, 6),
)
def test_no_choice_of_chapters_is_better(
    shapes: list[tuple[int, int, list[float]]], needed: int
) -> None:
    offers = [offer(i, lines, wins, *fills) for i, (lines, wins, fills) in enumerate(shapes)]

    def reaches(pages: int) -> bool:
        return pages <= 100 - needed

    def cost(chosen: Sequence[Offer]) -> tuple[int, float]:
        paragraphs = [each for one in chosen for each in one.chosen]
        return len(paragraphs), round(sum(map(squeeze, paragraphs)), 9)

    usable = [one for one in offers if one.chosen]
    every = [
        chosen
        for size in range(len(usable) + 1)
        for chosen in itertools.combinations(usable, size)
        if reaches(100 - sum(one.wins for one in chosen))
    ]
    found = pick(offers, reaches, 100)
    if not every:
        assert found is None
    else:
        assert found is not None
        assert cost(found) == min(map(cost, every))


def test_only_a_paragraph_exactly_one_line_shorter_counts() -> None:
    before = [paragraph(n, lines=5, fill=0.4 - n / 10) for n in (1, 2, 3)]
    after: dict[int, Paragraph] = {
        1: paragraph(1, lines=4), 2: paragraph(2, lines=4), 3: paragraph(3, lines=5),
    }  # fmt: skip
    assert [each.number for each in shrunk(before, after)] == [2, 1]
