from fractions import Fraction

import pytest

from fitter.errors import BadInput
from fitter.trade.fold.cost import Order, Prices, cost, paper_cost
from fitter.trade.paper import Paper

PRICES = Prices(
    "EUR",
    make_ready={32: Fraction(120), 16: Fraction(80), 8: Fraction(55)},
    run={32: Fraction("0.021"), 16: Fraction("0.014"), 8: Fraction("0.010")},
    spoilage=Fraction("0.03"),
    paper_waste=Fraction("0.08"),
)
CREAM = Paper("cream-80", Fraction(80), Fraction("1.8"), price=Fraction("1.10"))
ORDER = Order(2000, CREAM, Fraction(129 * 198, 10**6))


def test_nine_32s_and_a_16_by_hand():
    # own arithmetic on the formula in this project's README
    found = cost(PRICES, ORDER, [32] * 9 + [16])
    assert found.make_ready == 9 * 120 + 80
    assert found.run == 2060 * (9 * Fraction("0.021") + Fraction("0.014"))
    kilograms = (
        2060 * Fraction(304, 2) * Fraction("0.025542") * Fraction("1.08") * Fraction("0.080")
    )
    assert found.paper_kg == kilograms
    assert found.paper == kilograms * Fraction("1.10")
    assert found.total == found.make_ready + found.run + found.paper
    assert round(float(found.total), 2) == 2338.28
    assert found.currency == "EUR"


def test_the_cost_does_not_depend_on_the_order_of_the_gatherings():
    assert cost(PRICES, ORDER, [32, 8, 16]) == cost(PRICES, ORDER, [16, 32, 8])


def test_paper_alone():
    found = paper_cost(PRICES, ORDER, 2)
    assert (found.make_ready, found.run) == (0, 0)
    assert found.paper_kg == 2060 * Fraction("0.025542") * Fraction("1.08") * Fraction("0.080")


@pytest.mark.parametrize(
    ("paper", "said"),
    [
        (Paper("x", price=Fraction(1)), "'x' has no 'grammage'"),
        (Paper("x", Fraction(80)), "'x' has no 'price'"),
    ],
)
def test_a_paper_that_cannot_be_costed(paper, said):
    with pytest.raises(BadInput, match=said):
        cost(PRICES, Order(1, paper, Fraction(1)), [16])
