"""Which paragraphs lose a line: the fewest, the least squeezed, and no fewer than are needed."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from hypothesis import given
from hypothesis import strategies as st

from fitter.trade.tighten.pick import Offer, pick, shrunk, squeeze
from fitter.trade.tighten.stretches import Stretch
from fitter.trade.tighten.text import Paragraph
from tests.trade.texts import paragraph


def offer(chapter: int, lines: int, *fills: float, long_pages: int = 0) -> Offer:
    can = tuple(paragraph(chapter * 100 + i, fill=fill) for i, fill in enumerate(sorted(fills)))
    return Offer(chapter, lines, can, long_pages)


def apart(*pages: int) -> list[Stretch]:
    """Chapters that each open on a recto and take so many pages."""
    return [Stretch((i,), taken, i + 1 < len(pages)) for i, taken in enumerate(pages)]


def together(chapters: int) -> list[Stretch]:
    """Chapters that open on any page."""
    return [Stretch(tuple(range(chapters)), 100, False)]


def test_a_line_spread_over_many_is_seen_least() -> None:
    assert squeeze(paragraph(1, lines=11, fill=0.1)) == 0.01
    assert squeeze(paragraph(1, lines=2, fill=0.1)) == 0.1


def test_one_paragraph_is_better_than_two() -> None:
    offers = [offer(0, 2, 0.01, 0.02), offer(1, 1, 0.3)]
    assert pick(offers, together(2), lambda pages: pages <= 15, 16) == [offers[1]]


def test_chapters_that_win_nothing_or_have_too_few_are_left() -> None:
    offers = [offer(0, 2, 0.1), offer(1, 1, 0.1), offer(2, 1, 0.1)]
    assert pick(offers, apart(3, 4, 5), lambda pages: pages <= 15, 16) == [offers[2]]
    assert pick(offers, apart(3, 4, 5), lambda pages: pages <= 14, 16) is None


def test_two_chapters_before_a_recto_win_a_leaf_where_one_wins_nothing() -> None:
    offers = [offer(0, 1, 0.1), offer(1, 1, 0.1)]
    before_a_part = [Stretch((0, 1), 8, True), Stretch((2,), 3, False)]
    assert pick(offers[:1], before_a_part, lambda pages: pages <= 15, 16) is None
    assert pick(offers, before_a_part, lambda pages: pages <= 14, 16) == offers


def test_paragraphs_come_before_long_pages_and_few_long_pages_before_many() -> None:
    offers = [
        offer(0, 3, 0.1, 0.2, 0.3), offer(0, 0, 0.1, long_pages=6), offer(1, 0, long_pages=4),
    ]  # fmt: skip
    assert pick(offers, together(2), lambda pages: pages <= 15, 16) == [offers[0]]
    assert pick(offers, together(2), lambda pages: pages <= 14, 16) == [offers[0], offers[2]]
    assert pick(offers[1:], together(2), lambda pages: pages <= 15, 16) == [offers[2]]


@given(
    st.lists(
        st.tuples(
            st.integers(0, 3),
            st.lists(st.floats(0.01, 0.9), max_size=4),
            st.integers(0, 3),
            st.integers(1, 4),
        ),
        max_size=6,
    ),
    st.integers(0, 6),
    st.lists(st.integers(1, 3), min_size=6, max_size=6),
)
def test_no_choice_of_chapters_is_better(
    shapes: list[tuple[int, list[float], int, int]], needed: int, sizes: list[int]
) -> None:
    offers = [offer(i, n, *fills, long_pages=long) for i, (n, fills, long, _) in enumerate(shapes)]
    parts, rest = [], list(enumerate(taken for *_, taken in shapes))
    for size in sizes:
        part, rest = rest[:size], rest[size:]
        if part:
            parts.append(Stretch(tuple(i for i, _ in part), sum(p for _, p in part), bool(rest)))

    def reaches(pages: int) -> bool:
        return pages <= 100 - needed

    def won(chosen: Sequence[Offer]) -> int:
        return sum(part.wins(sum(one.chapter in part.chapters for one in chosen)) for part in parts)

    def cost(chosen: Sequence[Offer]) -> tuple[int, int, float]:
        paragraphs = [each for one in chosen for each in one.chosen]
        squeezed = round(sum(map(squeeze, paragraphs)), 9)
        return sum(one.long_pages for one in chosen), len(paragraphs), squeezed

    usable = [one for one in offers if one.possible]
    every = [
        chosen
        for size in range(len(usable) + 1)
        for chosen in itertools.combinations(usable, size)
        if reaches(100 - won(chosen))
    ]
    found = pick(offers, parts, reaches, 100)
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
