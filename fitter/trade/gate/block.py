"""Where the text block begins and ends: behind the gap that parts it from head and foot."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from itertools import pairwise
from statistics import median

from fitter.trade.gate.page import OUTER, SAME_PLACE_MM, Page, at_foot, at_head

LINES_AT_LEAST = 4  # at head or foot, or a page tells nothing
FURNITURE_AT_MOST = 4  # lines before the gap
GAP = 1.25  # leadings
PAGES_AT_LEAST = 3
SHARE = 0.5  # of the pages that tell something must agree


def text_block(pages: Sequence[Page]) -> tuple[float | None, float | None]:
    """The heights in mm of the block's first and last line; None where the pages do not agree.

    Common practice, no source: a running head stands further from the text than its lines from
    one another.
    """
    tops = _agreed([list(_heights(page, foot=False)) for page in pages])
    feet = _agreed([list(_heights(page, foot=True)) for page in pages])
    return max(tops, default=None), min(feet, default=None)


def _heights(page: Page, *, foot: bool) -> Iterator[float]:
    """The heights of the lines at one end, from the edge inwards, each once."""
    at_end, last = at_foot if foot else at_head, None
    ends = (line.box.middle for line in page.lines if at_end(line.box, page, OUTER))
    for middle in sorted(ends, reverse=foot):
        if last is None or abs(middle - last) > SAME_PLACE_MM:
            last = middle
            yield middle


def _agreed(ends: Sequence[Sequence[float]]) -> list[float]:
    """The lines behind a gap on which enough pages agree."""
    telling = [heights for heights in ends if len(heights) >= LINES_AT_LEAST]
    begun = sorted(at for heights in telling for at in _behind_gaps(heights))
    enough = max(PAGES_AT_LEAST, SHARE * len(telling))
    return [at for at in begun if _support(at, begun) >= enough]


def _support(at: float, begun: Sequence[float]) -> int:
    """How many stand at the same place, of a sorted list."""
    return bisect_right(begun, at + SAME_PLACE_MM) - bisect_left(begun, at - SAME_PLACE_MM)


def _behind_gaps(heights: Sequence[float]) -> Iterator[float]:
    """The lines that stand behind a gap wider than a leading."""
    gaps = [abs(second - first) for first, second in pairwise(heights)]
    leading = median(gaps)
    for line, gap in zip(heights[1 : FURNITURE_AT_MOST + 1], gaps, strict=False):
        if gap > GAP * leading:
            yield line
