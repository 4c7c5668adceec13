import random
from dataclasses import replace
from fractions import Fraction
from itertools import islice

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from fitter.trade.fold.mix import Mix, count_mixes, mixes, stand
from fitter.trade.fold.printer import Printer
from tests.calls import calls_of
from tests.trade.fold.counted import every_mix, number_of_mixes

PRICE = {64: 311, 48: 240, 32: 150, 24: 122, 16: 90, 12: 77, 8: 61, 4: 40}


def price(size):
    return Fraction(PRICE[size])


def test_the_cheapest_of_a_small_printer_first():
    found = list(mixes(Printer((32, 16), (8,)), 299, price))
    assert found[0] == Mix((32,) * 9 + (16,))
    assert [sum(map(price, mix.sheets)) for mix in found] == sorted(
        sum(map(price, mix.sheets)) for mix in found
    )


SMALL = st.builds(
    Printer,
    st.lists(st.sampled_from([8, 12, 16, 32]), min_size=1, max_size=2, unique=True).map(tuple),
    st.sampled_from([(), (4,), (4, 24)]),
    st.integers(0, 2),
    least=st.integers(1, 60),
    greatest=st.integers(60, 110),
)


@given(SMALL, st.integers(1, 100))
def test_every_mix_is_given_once_and_no_other(printer, pages):
    found = [tuple(sorted(mix.sheets)) for mix in mixes(printer, pages, price)]
    assert sorted(found) == sorted(every_mix(printer, pages))
    assert len(found) == count_mixes(printer, pages)


@given(SMALL, st.integers(1, 100), st.integers(60, 110))
def test_only_the_extent_asked_for(printer, pages, extent):
    found = [tuple(sorted(mix.sheets)) for mix in mixes(printer, pages, price, extent)]
    expected = [sheets for sheets in every_mix(printer, pages) if sum(sheets) == extent]
    assert sorted(found) == sorted(expected)


def random_printer(pick):
    sizes = pick.sample([4, 8, 12, 16, 24, 32, 48, 64], pick.randint(1, 6))
    regular = tuple(sizes[: pick.randint(1, 4)])
    short = tuple(size for size in sizes if size not in regular)[:2]
    pages = pick.randint(1, 900)
    least = pick.choice([1, 1, pages + pick.randint(0, 60)])
    greatest = max(pages, least) + pick.choice([0, 4, 20, 1000])
    dear = pick.choice([1, 100])
    costs = {size: Fraction(pick.randint(1, 40 * dear) + dear * size, dear) for size in sizes}
    printer = Printer(regular, short, pick.randint(0, 2), "last", least, greatest)
    return printer, pages, costs


def solved(printer, pages, costs):
    """The cheapest mix by an integer solver: cost, then extent, then number of gatherings."""
    model = cp_model.CpModel()
    kinds = [(size, False) for size in printer.gatherings] + [(s, True) for s in printer.short]
    counts = [model.new_int_var(0, 400, f"{size}") for size, _ in kinds]
    extent = sum(size * count for (size, _), count in zip(kinds, counts, strict=True))
    short = sum(count for (_, short), count in zip(kinds, counts, strict=True) if short)
    model.add(extent >= max(pages, printer.least))
    model.add(extent <= printer.greatest)
    model.add(short <= printer.short_at_most)
    whole = 100
    total = sum(int(costs[size] * whole) * n for (size, _), n in zip(kinds, counts, strict=True))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    if solver.solve(model) != cp_model.OPTIMAL:
        return None
    for aim in (total, extent, sum(counts)):
        model.minimize(aim)
        assert solver.solve(model) == cp_model.OPTIMAL
        model.clear_objective()
        model.add(aim == round(solver.objective_value))
    return Fraction(solver.value(total), whole), solver.value(extent), solver.value(sum(counts))


def test_the_solver_finds_the_same_for_400_random_printers():
    pick, possible = random.Random(6), 0
    for number in range(400):
        printer, pages, costs = random_printer(pick)
        mix = next(mixes(printer, pages, costs.get), None)
        expected = solved(printer, pages, costs)
        found = mix and (sum(map(costs.get, mix.sheets)), mix.extent, len(mix.sheets))
        assert found == expected, f"printer {number}: {printer}, {pages} pages"
        possible += expected is not None
    assert 200 < possible < 400


def test_all_combinations_for_2000_pages_six_sizes_and_two_short_ones():
    printer = Printer((64, 48, 32, 24, 16, 12), (8, 4), 2)
    # own arithmetic: generating functions
    number = number_of_mixes(printer.gatherings, printer.short, printer.short_at_most, 2000)
    assert count_mixes(printer, 2000) == number > 10_000_000


def test_mixes_are_told_without_being_listed():
    printer = Printer((64, 48, 32, 24, 16, 12), (8, 4), 2)

    def first(many):
        return calls_of(lambda: list(islice(mixes(printer, 2000, price), many)))

    assert first(1000) < 10 * first(1) < 1_000_000


@given(SMALL, st.integers(1, 60))
def test_the_two_ways_to_count_by_hand_agree(printer, pages):
    many = number_of_mixes(printer.gatherings, printer.short, printer.short_at_most, pages)
    assert many == len(list(every_mix(replace(printer, least=1, greatest=10_000), pages)))


def test_the_count_of_a_large_printer_is_the_number_of_mixes():
    printer = Printer((64, 48, 32, 24, 16, 12), (8, 4), 2)
    assert count_mixes(printer, 200) == sum(1 for _ in mixes(printer, 200, price))


def test_equal_costs_take_the_smaller_extent_then_fewer_gatherings():
    same = {32: Fraction(2), 16: Fraction(1), 8: Fraction(1)}.get
    assert next(mixes(Printer((16,), (8,)), 20, same)).extent == 24
    assert next(mixes(Printer((32, 16)), 64, same)).sheets == (32, 32)
    assert next(mixes(Printer((32, 16)), 64, lambda _: Fraction(0))).sheets == (32, 32)


@pytest.mark.parametrize(
    ("stands", "order"),
    [
        ("last", (32, 32, 16, 8, 4)),
        ("anywhere", (32, 32, 16, 8, 4)),
        ("before-last", (32, 32, 8, 4, 16)),
    ],
)
def test_where_short_ones_stand(stands, order):
    # no published standard says where: a setting
    assert stand((32, 32, 16), (8, 4), stands) == order


def test_a_book_of_one_short_gathering():
    # Source: W. Savage, A Dictionary of the Art of Printing (1841), s.v. Imposing, p. 329
    # (attribution from memory): six pages imposed as eight
    assert next(mixes(Printer((16,), (8,)), 6, price)).sheets == (8,)
    assert stand((), (8,), "before-last") == (8,)


@pytest.mark.parametrize(("pages", "mix"), [(96, (32,) * 3), (40, (32, 8)), (36, (32, 4))])
def test_the_cost_order_of_extents(pages, mix):
    # Source: "Sweet Sixteen", printer's newsletter page: 16s, 16s and one 8, 16s and one 4
    assert next(mixes(Printer((32, 16), (8, 4)), pages, price)).sheets == mix
