"""The estimate: which gatherings are cheapest for an order, and what else there is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from itertools import islice

from fitter.errors import BadInput, CannotFit
from fitter.trade.fold.cost import Cost, Order, Prices, cost, paper_cost
from fitter.trade.fold.gatherings import Folding
from fitter.trade.fold.mix import Mix, count_mixes, mixes
from fitter.trade.fold.offered import folded, too_long
from fitter.trade.fold.printer import Printer

SHOWN = 12
MOST_COPIES = 1_000_000


@dataclass(frozen=True, slots=True)
class Job:
    """An order at a printer, for a book bound in a style."""

    printer: Printer
    order: Order
    style: str = "sewn"

    @property
    def folder(self) -> Printer:
        """The printer within the limits of the style."""
        return replace(self.printer, greatest=self.printer.greatest_in(self.style))

    @property
    def prices(self) -> Prices:
        """The printer's prices. Raises BadInput where there are none."""
        if self.printer.prices is None:
            raise BadInput("the printer's file has no 'prices': without them nothing is costed.")
        return self.printer.prices

    def of(self, copies: int) -> Job:
        """The same job with another number of copies."""
        return replace(self, order=replace(self.order, copies=copies))

    @property
    def last_blank(self) -> int:
        """Pages at the very end that the press leaves blank."""
        return self.printer.last_blank

    def fold(self, pages: int) -> Folding:
        """See `cheapest`."""
        return cheapest(self, pages)

    def others(self, pages: int) -> list[Folding]:
        """See `options`."""
        return options(self, pages)

    def holds(self, extent: int) -> bool:
        """Whether the printer folds just so many pages."""
        within = self.printer.least <= extent <= self.folder.greatest
        return within and next(_mixes(self, extent, extent), None) is not None

    def cost(self, folding: Folding) -> Cost:
        """What a folding costs."""
        return cost(self.prices, self.order, folding.sheets)

    def paper_cost(self, pages: int) -> Cost:
        """What the paper of so many pages costs, of blank ones for example."""
        return paper_cost(self.prices, self.order, pages)


@dataclass(frozen=True, slots=True)
class Turn:
    """From so many `copies` on, `after` is cheaper than `before`."""

    copies: int
    before: Folding
    after: Folding


@dataclass(frozen=True, slots=True)
class Estimate:
    """What a folding costs, what its blank pages waste, and when another would be cheaper."""

    job: Job
    cost: Cost
    wasted_pages: int
    wasted: Cost
    turns: tuple[Turn, ...]
    mixes: int


def estimate(job: Job, folding: Folding, needed: int, blanks: int) -> Estimate:
    """The estimate for a folding that holds `needed` pages and has `blanks` blank ones."""
    return Estimate(
        job=job,
        cost=job.cost(folding),
        wasted_pages=blanks,
        wasted=job.paper_cost(blanks),
        turns=tuple(break_evens(job, needed)),
        mixes=how_many(job, needed),
    )


def cheapest(job: Job, pages: int) -> Folding:
    """The cheapest folding that holds `pages`; of equal costs the smaller extent, then the fewer
    gatherings. Exact. Raises CannotFit where the printer cannot fold it.
    """
    mix = next(_mixes(job, pages), None)
    if mix is None:
        raise CannotFit(too_long(job.printer, job.style, pages))
    return folded(job.printer, job.style, mix)


def options(job: Job, pages: int) -> list[Folding]:
    """What to compare, cheapest first: the cheapest mixes of all, the cheapest for each extent,
    and the cheapest for each regular size by itself.
    """
    first = max(pages, job.printer.least)
    found = set(islice(_mixes(job, pages), SHOWN))
    for extent in range(first, first + max(job.printer.sizes)):
        found.update(islice(_mixes(job, pages, extent), 1))
    for size in job.printer.gatherings:
        only = replace(job, printer=replace(job.printer, gatherings=(size,)))
        found.update(islice(_mixes(only, pages), 1))
    return sorted(
        (folded(job.printer, job.style, mix) for mix in found), key=lambda way: _rank(job, way)
    )


def how_many(job: Job, pages: int) -> int:
    """How many mixes there are that hold `pages` and of which no gathering can be spared."""
    return count_mixes(job.folder, pages)


def break_evens(job: Job, pages: int, most: int = MOST_COPIES) -> list[Turn]:
    """The numbers of copies, from 1 to `most`, from which on another mix is the cheapest."""

    @cache
    def best(copies: int) -> Folding:
        return cheapest(job.of(copies), pages)

    def between(low: int, high: int) -> Iterator[Turn]:
        before, after = best(low), best(high)
        if before.sheets == after.sheets:
            return
        if high - low == 1:
            yield Turn(high, before, after)
            return
        middle = min(max(even(job, before, after) or (low + high) // 2, low + 1), high - 1)
        yield from between(low, middle)
        yield from between(middle, high)

    return list(between(1, most))


def even(job: Job, first: Folding, second: Folding) -> int | None:
    """The most copies at which the one with the lower fixed cost does not cost more; None if never.

    Cost is a straight line over copies: what is fixed, and what each copy adds.
    """
    none, one = job.of(0), job.of(1)
    fixed = none.cost(second).total - none.cost(first).total
    each = (one.cost(first).total - none.cost(first).total) - (
        one.cost(second).total - none.cost(second).total
    )
    return int(fixed / each) if each and fixed / each > 0 else None


def _mixes(job: Job, pages: int, extent: int | None = None) -> Iterator[Mix]:
    def price(size: int) -> Fraction:
        return cost(job.prices, job.order, [size]).total

    return mixes(job.folder, pages, price, extent)


def _rank(job: Job, folding: Folding) -> tuple[Fraction, int, int, list[int]]:
    larger_first = [-size for size in sorted(folding.sheets, reverse=True)]
    return job.cost(folding).total, folding.extent, len(folding.sheets), larger_first
