"""Where the text block begins and ends."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from fitter.trade.gate.block import text_block
from fitter.trade.gate.page import Box, Line, Page
from fitter.trade.size import Size

SIZE = Size(129, 198)
LEADING = 5.0
HEAD, FIRST, LAST, FOLIO = 10.0, 20.0, 175.0, 187.0


def page(number: int, heights: Sequence[float]) -> Page:
    lines = (Line(f"words {number}", Box(18, at - 2, 111, at + 2)) for at in heights)
    return Page(number, None, SIZE, lines=tuple(lines))


def full(number: int, *furniture: float, first: float = FIRST, last: float = LAST) -> Page:
    block = [first + LEADING * n for n in range(int((last - first) / LEADING) + 1)]
    return page(number, [*furniture, *block])


def test_the_block_stands_behind_a_gap_at_head_and_foot() -> None:
    assert text_block([full(n, HEAD, FOLIO) for n in range(1, 5)]) == (FIRST, LAST)


def test_a_second_line_of_the_head_is_no_part_of_it() -> None:
    pages = [full(n, HEAD, HEAD + 8, first=28) for n in range(1, 5)]
    assert text_block(pages)[0] == 28


def test_a_head_of_two_lines_set_close_is_no_part_of_it() -> None:
    pages = [full(n, HEAD - 4, HEAD + 1) for n in range(1, 5)]
    assert text_block(pages)[0] == FIRST


@pytest.mark.parametrize("first", [15, 14.5])
def test_without_a_gap_nothing_is_known(first: float) -> None:
    assert text_block([full(n, HEAD, first=first) for n in range(1, 5)])[0] is None


def test_gaps_between_paragraphs_are_where_they_like() -> None:
    pages = [page(n, [10, 20, *(25 + 5 * i + (4 if i >= n else 0) for i in range(6))])
             for n in range(1, 6)]  # fmt: skip
    assert text_block(pages)[0] == 20


def test_two_pages_are_not_enough_and_short_ones_tell_nothing() -> None:
    two = [full(1, HEAD), full(2, HEAD)]
    short = [page(n, [HEAD, FIRST, FIRST + LEADING]) for n in range(3, 9)]
    assert text_block([*two, *short]) == (None, None)
