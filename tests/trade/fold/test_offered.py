from itertools import combinations_with_replacement

import pytest

from fitter.errors import CannotFit
from fitter.trade.fold.offered import Offered
from fitter.trade.fold.printer import Printer

PRINTER = Printer((32, 24), (8, 4), short_at_most=2, least=20, greatest=160)


def every_extent(most: int) -> dict[int, int]:
    """The fewest gatherings for each extent, by trying all of them."""
    fewest: dict[int, int] = {}
    for number in range(1, 7):
        for sizes in combinations_with_replacement((32, 24, 8, 4), number):
            shorts = sum(size < 24 for size in sizes)
            if sum(sizes) <= most and shorts <= 2:
                fewest.setdefault(sum(sizes), number)
    return fewest


@pytest.mark.parametrize("pages", range(1, 161, 3))
def test_the_smallest_extent_of_all_mixes_with_the_fewest_gatherings(pages):
    fewest = every_extent(160)
    smallest = min(extent for extent in fewest if extent >= max(pages, 20))
    found = Offered(PRINTER).fold(pages)
    assert found.extent == smallest
    assert len(found.gatherings) == fewest[smallest]


def test_the_alternatives_begin_with_the_one_taken_and_have_each_size_by_itself():
    offered = Offered(Printer((32, 16), (8,)))
    ways = offered.others(115)
    assert ways[0] == offered.fold(115)
    assert [way.extent for way in ways] == [120, 120, 128]
    assert (16,) * 7 + (8,) in [way.gatherings for way in ways]


def test_whole_gatherings_within_the_limits():
    offered = Offered(PRINTER)
    assert offered.holds(56)
    assert not offered.holds(16)
    assert not offered.holds(162)


def test_the_stitch_has_its_limit():
    offered = Offered(Printer((16,), stitch_at_most=64), "saddle")
    assert offered.fold(50).nested == (16,) * 4
    with pytest.raises(CannotFit, match="the stitch takes at most 64"):
        offered.fold(65)


def test_a_book_longer_than_the_printer_binds():
    with pytest.raises(CannotFit, match="from 20 to 160 pages"):
        Offered(PRINTER).fold(161)
