"""What drafts prove about combinations that were not built."""

from __future__ import annotations

from fitter.trade.tighten.bounds import MOST_PAGES, Bounds
from fitter.trade.tighten.forecast import Extent
from fitter.trade.tighten.settings import Combination, Setting

SETTINGS = (Setting("a", ("0", "1", "2")), Setting("b", ("0", "1", "2")))


def bounds(pages: dict[Combination, int]) -> Bounds:
    return Bounds(SETTINGS, {each: Extent(n, (n + each[0] / 9,)) for each, n in pages.items()})


def test_a_combination_lies_between_the_drafts_on_both_sides_of_it() -> None:
    told = bounds({(0, 0): 20, (2, 0): 17, (0, 2): 18, (2, 2): 15})
    assert told.one_way
    assert told.between((1, 0)) == (17, 20)
    assert told.between((1, 1)) == (15, 20)
    assert told.between((2, 1)) == (15, 17)


def test_settings_may_work_in_either_direction() -> None:
    told = bounds({(0, 0): 17, (2, 0): 20, (0, 2): 15})
    assert told.between((1, 1)) == (15, 20)
    assert told.between((0, 1)) == (15, 17)
    assert told.between((2, 1)) == (15, 20)


def test_nothing_is_proved_where_drafts_contradict_each_other() -> None:
    told = bounds({(0, 0): 20, (2, 0): 17, (0, 2): 18, (2, 2): 19})
    assert not told.one_way
    assert told.between((1, 1)) == (1, MOST_PAGES)
