"""Arcs over the leaves of a gathering."""

from __future__ import annotations

import re

import pytest

from fitter.reports.dummy.arcs import GAP, arcs_over


@pytest.mark.parametrize(("pages", "arcs"), [(4, 1), (8, 2), (12, 3), (16, 4)])
def test_one_arc_for_each_piece_of_paper(pages: int, arcs: int) -> None:
    drawn = arcs_over(pages)
    assert drawn and len(drawn.paths) == arcs
    assert drawn.width == pytest.approx(pages + pages / 2 * GAP)


def test_leaf_k_is_joined_with_leaf_n_plus_1_minus_k() -> None:
    # Source: Roberts & Etherington, s.v. conjugate leaves: the first and last, and so on inwards
    drawn = arcs_over(16)
    assert drawn
    ends = [[float(x) for x in re.findall(r"[M ]([\d.]+) 24", path)] for path in drawn.paths]
    middle = (drawn.width - GAP) / 2 + GAP / 2
    for left, right in ends:
        assert left + right == pytest.approx(2 * middle, abs=0.01)
    assert [right - left for left, right in ends] == sorted(
        (right - left for left, right in ends), reverse=True
    )


def test_a_gathering_that_takes_several_rows_has_none() -> None:
    assert arcs_over(32) is None
    assert arcs_over(2) is None
