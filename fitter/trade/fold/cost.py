"""What a plan costs at a printer: make-ready, running and paper, exact in fractions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from fitter.errors import BadInput
from fitter.trade.paper import Paper


@dataclass(frozen=True, slots=True)
class Prices:
    """For each size `make_ready` once and `run` for each copy; spoilage and waste as parts of 1."""

    currency: str
    make_ready: Mapping[int, Fraction]
    run: Mapping[int, Fraction]
    spoilage: Fraction = Fraction(0)
    paper_waste: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Order:
    """What is ordered: how many copies, on which paper, the trimmed page in m2."""

    copies: int
    paper: Paper
    area_m2: Fraction


@dataclass(frozen=True, slots=True)
class Cost:
    """Money in `currency`, paper in kg as bought: spoilage and waste are in."""

    make_ready: Fraction
    run: Fraction
    paper: Fraction
    paper_kg: Fraction
    currency: str

    @property
    def total(self) -> Fraction:
        """Everything together."""
        return self.make_ready + self.run + self.paper


def cost(prices: Prices, order: Order, sheets: Iterable[int]) -> Cost:
    """The cost of printing, folding and paper for the gatherings `sheets`, in pages each.

    make_ready + n(1 + spoilage) run for each, and paper by weight:
    n(1 + spoilage) pages/2 x area x (1 + waste) x grammage x price.
    """
    sheets = list(sheets)
    printed = order.copies * (1 + prices.spoilage)
    return replace(
        paper_cost(prices, order, sum(sheets)),
        make_ready=sum((prices.make_ready[size] for size in sheets), Fraction(0)),
        run=printed * sum((prices.run[size] for size in sheets), Fraction(0)),
    )


def paper_cost(prices: Prices, order: Order, pages: int) -> Cost:
    """The paper bought for so many pages of the extent, all copies, and nothing else.

    Raises BadInput for a paper without grammage or price.
    """
    if order.paper.grammage is None:
        raise BadInput(f"paper '{order.paper.id}' has no 'grammage': what it costs cannot be said.")
    bought = order.copies * (1 + prices.spoilage) * (1 + prices.paper_waste)
    kilograms = bought * pages * order.area_m2 * order.paper.grammage / 2000
    money = kilograms * _price(order.paper)
    return Cost(Fraction(0), Fraction(0), money, kilograms, prices.currency)


def _price(paper: Paper) -> Fraction:
    if paper.price is None:
        raise BadInput(f"paper '{paper.id}' has no 'price' for a kilogram.")
    return paper.price
