"""The staircase of extents."""

from __future__ import annotations

from fitter.trade.fold.bindery import Unpriced
from fitter.trade.fold.gatherings import Binding
from fitter.trade.fold.printer import Printer
from fitter.trade.fold.staircase import Step, staircase


def test_extents_climb_in_sixteens() -> None:
    # Source: "Count the Pages", Cook the Book weblog: 32pp, 48pp, 64pp, 80pp, 96pp, 112pp, 128pp
    stairs = staircase(Binding(sizes=(16,)).fold, 80, 48)
    assert [step.extent for step in stairs.steps] == [32, 48, 64, 80, 96, 112, 128]
    assert stairs.here == Step(65, 80, 80)


def test_318_pages_stand_two_below_the_edge_of_a_step() -> None:
    # Source: Wikipedia, "Intentionally blank page", sect. Uses: 318 pages in 32s make 320
    stairs = staircase(Binding(sizes=(32,)).fold, 318, 10)
    assert (stairs.extent, stairs.here.last) == (320, 320)


def test_the_steps_leave_no_text_page_out() -> None:
    stairs = staircase(Binding(sizes=(16,), short=(8, 4)).fold, 83, 50)
    pages = [page for step in stairs.steps for page in range(step.first, step.last + 1)]
    assert pages == list(range(33, 134))
    assert all(step.first <= step.last <= step.extent for step in stairs.steps)


def test_the_shortest_book_has_one_page() -> None:
    assert staircase(Binding().fold, 1, 40).steps[0] == Step(1, 16, 16)


def test_the_stairs_end_where_the_printer_binds_no_more() -> None:
    printer = Printer((16,), greatest=96)
    stairs = staircase(Unpriced(Binding(sizes=(16,)), printer).fold, 83, 40)
    assert stairs.steps[-1] == Step(81, 96, 96)
