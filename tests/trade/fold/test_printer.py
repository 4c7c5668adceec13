from fractions import Fraction

from fitter.trade.fold.cost import Prices
from fitter.trade.fold.printer import NO_LIMIT, Printer, printer_faults


def test_sizes_are_told_once_and_largest_first():
    assert Printer((16, 32), (8, 16)).sizes == (32, 16, 8)


def test_a_stitch_takes_fewer_pages():
    printer = Printer((16,), greatest=640, stitch_at_most=64)
    assert printer.greatest_in("saddle") == 64
    assert printer.greatest_in("sewn") == 640
    assert Printer((16,)).greatest_in("saddle") == NO_LIMIT


def test_single_leaves_are_no_fault():
    assert list(printer_faults(Printer((2,)))) == []


def test_sizes_that_do_not_fold():
    [(place, said)] = printer_faults(Printer((18,)))
    assert place == ("gatherings",)
    assert "a gathering of 18 pages" in said


def test_prices_that_are_missing():
    prices = Prices("EUR", {16: Fraction(80)}, {16: Fraction(1), 8: Fraction(1)})
    [(place, said)] = printer_faults(Printer((16,), (8,), prices=prices))
    assert place == ("prices", "make_ready")
    assert said == "no price for a gathering of 8"
