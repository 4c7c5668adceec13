import pytest

from fitter.errors import CannotFit
from fitter.trade.fill.choose import Filler
from fitter.trade.fold.bindery import Unpriced, at_printer, not_offered, within
from fitter.trade.fold.gatherings import Binding
from fitter.trade.fold.printer import Printer
from fitter.trade.plan import Draft, make_plan

SIXTEENS = Binding("sewn", (16,), (8,))
THIRTY_TWOS = Printer((32, 16), (8,))


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
        ("short", "the binding has a gathering of 8, and the printer folds 32, 16")
    ]


def test_a_short_gathering_of_the_printer_is_no_regular_one():
    [(key, said)] = not_offered(Binding("sewn", (8,)), Printer((32, 16), (8,)))
    assert key == "gathering"
    assert "folds 8 only as a short one beside 32, 16" in said
    assert list(not_offered(SIXTEENS, Printer((32, 16), (8,)))) == []


@pytest.mark.parametrize("sizes", [(), (16,)])
@pytest.mark.parametrize("style", ["sewn", "perfect", "saddle"])
def test_no_alternative_is_one_that_the_printer_does_not_fold(style, sizes):
    bindery = at_printer(Binding(style, sizes), THIRTY_TWOS)
    for way in [bindery.fold(115), *bindery.others(115)]:
        assert {*way.sheets} <= {32, 16, 8}
        assert way.sheets.count(8) <= 1
        assert way.gathering != 8


def test_a_binding_without_sizes_takes_the_smallest_mix_of_the_printer():
    assert at_printer(Binding(), THIRTY_TWOS).fold(115).gatherings == (32, 32, 32, 16, 8)
    stitched = at_printer(Binding("saddle"), THIRTY_TWOS).fold(50)
    assert (stitched.gatherings, stitched.nested) == ((56,), (32, 16, 8))


def test_single_leaves_are_cut_at_every_printer():
    # common practice, no source
    bindery = at_printer(Binding("cut-sheet"), THIRTY_TWOS)
    assert bindery.fold(51).gatherings == (2,) * 26
    assert [way.extent for way in bindery.others(51)] == [52]
    assert list(not_offered(Binding("cut-sheet", (2,)), THIRTY_TWOS)) == []


def test_no_more_short_ones_than_the_printer_takes():
    binding = Binding("sewn", (16,), (8, 4), short_at_most=2)
    assert at_printer(binding, Printer((16,), (8, 4))).fold(25).gatherings == (16, 16)
    assert at_printer(binding, Printer((16, 8, 4))).fold(25).gatherings == (16, 8, 4)


def test_a_binding_of_short_sizes_alone_takes_the_regular_ones_of_the_printer():
    assert within(Binding("sewn", (), (8,)), THIRTY_TWOS).sizes == (32, 16)


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
