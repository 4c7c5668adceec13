import pytest

from fitter.errors import CannotFit
from fitter.trade.fill.choose import Filler
from fitter.trade.fold.bindery import Unpriced, not_offered
from fitter.trade.fold.gatherings import Binding
from fitter.trade.fold.printer import Printer
from fitter.trade.plan import Draft, make_plan

SIXTEENS = Binding("sewn", (16,), (8,))


def test_a_binding_folds_by_itself():
    assert SIXTEENS.fold(299).extent == 304
    assert SIXTEENS.holds(296)
    assert not SIXTEENS.holds(300)


def test_the_printer_says_where_short_ones_stand():
    printer = Printer((16,), (8,), short_stands="before-last")
    assert Unpriced(SIXTEENS, printer).fold(40).gatherings == (16, 8, 16)


def test_the_printer_has_limits():
    bindery = Unpriced(SIXTEENS, Printer((16,), (8,), least=48, greatest=64))
    assert bindery.fold(20).extent == 48
    assert bindery.holds(56)
    assert not bindery.holds(40)
    assert not bindery.holds(80)
    assert all(48 <= way.extent <= 64 for way in bindery.others(20))
    with pytest.raises(CannotFit, match="binds at most 64"):
        bindery.fold(65)


def test_sizes_the_printer_does_not_fold():
    assert list(not_offered(SIXTEENS, Printer((32, 16)))) == [
        "the binding has a gathering of 8, and the printer folds 32, 16"
    ]


@pytest.mark.parametrize(("last_blank", "pages", "blanks"), [(0, 3, 0), (1, 2, 1), (2, 1, 2)])
def test_pages_the_press_leaves_blank_at_the_end(last_blank, pages, blanks):
    # common practice on cut-sheet presses, no source
    bindery = Unpriced(Binding("sewn", (16,)), Printer((16,), last_blank=last_blank))
    fillers = [Filler("notes", counts=(1, 2, 3))]
    plan = make_plan(bindery, fillers, Draft(13, None, 14), 0)
    assert plan.extent == 16
    assert [placed.pages for placed in plan.chosen.placed] == [pages]
    assert plan.chosen.end_blanks == blanks


def test_a_full_book_goes_up_where_the_last_page_must_stay_blank():
    bindery = Unpriced(Binding("sewn", (16,)), Printer((16,), last_blank=1))
    plan = make_plan(bindery, [Filler("notes", counts=(15,))], Draft(16, None, 17), 0)
    assert plan.extent == 32
    assert plan.needed == 17


def test_the_remedy_counts_the_blank_page_of_the_press():
    bindery = Unpriced(Binding("sewn", (16,)), Printer((16,), last_blank=1))
    plan = make_plan(bindery, [], Draft(12, None, 13), 2)
    assert "end_at_most 4" in plan.refusal
