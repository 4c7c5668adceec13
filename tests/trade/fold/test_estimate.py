import random
from dataclasses import replace
from fractions import Fraction

import pytest

from fitter.errors import BadInput, CannotFit
from fitter.trade.fold.cost import Order, Prices
from fitter.trade.fold.estimate import (
    Job,
    break_evens,
    cheapest,
    estimate,
    even,
    how_many,
    options,
)
from fitter.trade.fold.gatherings import Folding
from fitter.trade.fold.printer import Printer
from fitter.trade.paper import Paper
from tests.trade.fold.counted import every_mix

PRICES = Prices(
    "EUR",
    {32: Fraction(120), 16: Fraction(80), 8: Fraction(55)},
    {32: Fraction("0.021"), 16: Fraction("0.014"), 8: Fraction("0.010")},
    Fraction("0.03"),
    Fraction("0.08"),
)
CREAM = Paper("cream-80", Fraction(80), Fraction("1.8"), price=Fraction("1.10"))
ORDER = Order(2000, CREAM, Fraction(129 * 198, 10**6))
PRINTER = Printer((32, 16), (8,), 1, "before-last", 48, 640, papers=(CREAM,), prices=PRICES)
JOB = Job(PRINTER, ORDER)


def test_the_cheapest_for_299_pages():
    assert cheapest(JOB, 299).gatherings == (32,) * 9 + (16,)


def test_a_short_one_stands_before_the_last():
    sixteens = replace(PRINTER, gatherings=(16,), least=1)
    assert cheapest(replace(JOB, printer=sixteens), 40).gatherings == (16, 8, 16)
    last = replace(sixteens, short_stands="last")
    assert cheapest(replace(JOB, printer=last), 40).gatherings == (16, 16, 8)


def test_options_are_cheapest_first_and_begin_with_the_cheapest():
    found = options(JOB, 299)
    totals = [JOB.cost(folding).total for folding in found]
    assert totals == sorted(totals)
    assert found[0] == cheapest(JOB, 299)
    number = len(list(every_mix(PRINTER, 299)))  # own arithmetic: plain counting
    assert len(set(found)) == len(found) == how_many(JOB, 299) == number > 1


def test_options_have_every_extent_and_every_size_by_itself():
    found = options(replace(JOB, printer=replace(PRINTER, greatest=10_000)), 1999)
    assert {folding.extent for folding in found} == {2000, 2016}
    assert {(32,) * 63, (16,) * 125} <= {folding.sheets for folding in found}


def test_break_even_by_hand():
    dear = replace(
        PRICES,
        make_ready={32: Fraction(100), 16: Fraction(100), 8: Fraction(400)},
        spoilage=Fraction(0),
    )
    free = replace(CREAM, price=Fraction(0))
    runs = {32: Fraction(1, 10), 16: Fraction(3, 10), 8: Fraction(1, 20)}
    job = Job(
        replace(PRINTER, prices=replace(dear, run=runs), least=1),
        replace(ORDER, paper=free, copies=1),
    )
    short, long = Folding((32, 8), 32), Folding((32, 32), 32)
    # 32 + 8: 500 + 0.15 n; 32 + 32: 200 + 0.2 n: even at 6,000 copies
    assert even(job, long, short) == 6000
    [turn] = break_evens(job, 40)
    assert (turn.copies, turn.before.sheets, turn.after.sheets) == (6000, (32, 32), (8, 32))


def test_on_either_side_of_a_break_even_the_other_is_cheaper():
    pick = random.Random(3)
    turned = 0
    for _ in range(40):
        sizes = pick.sample([8, 16, 24, 32, 64], 3)
        prices = Prices(
            "EUR",
            {size: Fraction(pick.randint(20, 300)) for size in sizes},
            {size: Fraction(pick.randint(1, 40), 1000) for size in sizes},
        )
        printer = Printer(tuple(sizes[:2]), tuple(sizes[2:]), 1, papers=(CREAM,), prices=prices)
        job, pages = Job(printer, ORDER), pick.randint(20, 400)
        turns = break_evens(job, pages, 20_000)
        for copies in (1, 20_000, *(pick.randint(1, 20_000) for _ in range(10))):
            told = [turn.after for turn in turns if turn.copies <= copies]
            expected = told[-1] if told else turns[0].before if turns else cheapest(job, pages)
            best = cheapest(job.of(copies), pages)
            assert job.of(copies).cost(expected).total == job.of(copies).cost(best).total
        turned += bool(turns)
    assert turned > 10


def test_parallel_costs_never_meet():
    assert even(JOB, Folding((32, 16)), Folding((16, 32))) is None


def test_a_stitched_book_is_one_gathering_of_nested_sheets():
    stitched = replace(JOB, printer=replace(PRINTER, least=1), style="saddle")
    folding = cheapest(stitched, 46)
    assert folding == Folding((48,), 32, (32, 16))
    assert stitched.cost(folding) == JOB.cost(Folding((32, 16)))


def test_the_stitch_takes_only_so_many_pages():
    stitched = replace(JOB, printer=replace(PRINTER, stitch_at_most=64), style="saddle")
    assert cheapest(stitched, 64).extent == 64
    with pytest.raises(CannotFit, match="stitch takes at most 64"):
        cheapest(stitched, 65)
    assert options(stitched, 65) == []


def test_a_book_longer_than_the_printer_binds():
    with pytest.raises(CannotFit, match="from 48 to 640 pages"):
        cheapest(JOB, 641)


def test_a_book_shorter_than_the_printer_binds():
    assert cheapest(JOB, 20).extent == 48


def test_what_the_printer_holds():
    assert JOB.holds(304)
    assert JOB.holds(312)
    assert not JOB.holds(300)
    assert not JOB.holds(40)


def test_what_blank_pages_waste():
    found = estimate(JOB, cheapest(JOB, 302), 302, 2)
    assert found.wasted.paper_kg == 2060 * Fraction("0.025542") * Fraction("1.08") * Fraction(
        "0.080"
    )
    assert found.wasted.paper == found.wasted.paper_kg * Fraction("1.10")
    assert found.cost == JOB.cost(cheapest(JOB, 302))


def test_without_prices_nothing_is_costed():
    with pytest.raises(BadInput, match="no 'prices'"):
        cheapest(replace(JOB, printer=replace(PRINTER, prices=None)), 299)
