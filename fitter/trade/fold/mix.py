"""Every mix of gatherings that holds a book, the cheapest first."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from heapq import heappop, heappush
from math import gcd, lcm

from fitter.trade.fold.printer import BEFORE_LAST, NO_LIMIT, Printer

Counts = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Mix:
    """How many gatherings of which size: regular ones and short ones, each larger first."""

    regular: tuple[int, ...]
    short: tuple[int, ...] = ()

    @property
    def sheets(self) -> tuple[int, ...]:
        """All of them, whatever the order in the book."""
        return self.regular + self.short

    @property
    def extent(self) -> int:
        """Their pages."""
        return sum(self.sheets)


def stand(regular: Sequence[int], short: Sequence[int], short_stands: str) -> tuple[int, ...]:
    """The gatherings in the order of the book: short ones last, or before the last regular one.

    Where they may stand anywhere, last; no published standard says where.
    """
    if short_stands == BEFORE_LAST and regular:
        return (*regular[:-1], *short, regular[-1])
    return (*regular, *short)


def mixes(
    printer: Printer, pages: int, price: Callable[[int], Fraction], extent: int | None = None
) -> Iterator[Mix]:
    """Every mix that holds `pages` and of which no gathering can be spared, cheapest first.

    `price` tells what one gathering of a size costs; of equal costs the smaller extent, then fewer
    gatherings, then larger ones come first. With `extent` only mixes of just that many pages.
    """
    search = _Search(printer, pages, price, extent)
    return search.best_first()


def count_mixes(printer: Printer, pages: int) -> int:
    """How many mixes `mixes` would give."""
    return _Search(printer, pages, lambda _: Fraction(0), None).count()


class _Search:
    """Gatherings are taken one after another, larger ones first, until the pages are held.

    The table tells for each kind on which the search may go on, short ones still allowed and
    units of pages still to be held, the least weight that finishes. A weight is one integer made
    of cost, extent and number, in this order.
    """

    def __init__(
        self,
        printer: Printer,
        pages: int,
        price: Callable[[int], Fraction],
        extent: int | None,
    ) -> None:
        regular = sorted(set(printer.gatherings), reverse=True)
        short = sorted(set(printer.short) - set(regular), reverse=True)
        self.kinds = sorted([(-s, False) for s in regular] + [(-s, True) for s in short])
        self.sizes = [-size for size, _ in self.kinds]
        self.unit = gcd(*self.sizes)
        self.shorts = printer.short_at_most
        self.need = -(-max(pages, printer.least) // self.unit)
        self.spare = self._spare(printer.greatest, extent)
        self.weights = self._weights(price)

    def _spare(self, greatest: int, extent: int | None) -> range:
        """How many units more than needed a mix may have."""
        if extent is not None:
            more = extent // self.unit - self.need
            whole = extent % self.unit == 0 and extent <= greatest
            return range(more, more + 1) if whole else range(0)
        return range(min(greatest, NO_LIMIT) // self.unit - self.need + 1)

    def _weights(self, price: Callable[[int], Fraction]) -> list[int]:
        prices = [price(size) for size in self.sizes]
        scale = lcm(*(cost.denominator for cost in prices))
        most = 4 * (self.need + max(self.sizes))
        return [
            (int(cost * scale) * most + size // self.unit) * most + 1
            for cost, size in zip(prices, self.sizes, strict=True)
        ]

    def best_first(self) -> Iterator[Mix]:
        table = self._table(self.weights, min, None)
        start = table[0][self.shorts][self.need]
        none = (0,) * len(self.kinds)
        waiting = [] if start is None else [(start, none, 0, self.shorts, self.need)]
        while waiting:
            least, taken, kind, shorts, rest = heappop(waiting)
            if rest <= 0:
                yield self._mix(taken)
                continue
            spent = least - (table[kind][shorts][rest] or 0)
            if kind + 1 < len(self.kinds):
                then = table[kind + 1][shorts][rest]
                if then is not None:
                    heappush(waiting, (spent + then, taken, kind + 1, shorts, rest))
            step = self._take(kind, shorts, rest)
            if step:
                then = self._then(table, kind, *step)
                if then is not None:
                    more = (*taken[:kind], taken[kind] - 1, *taken[kind + 1 :])
                    heappush(waiting, (spent + self.weights[kind] + then, more, kind, *step))

    def count(self) -> int:
        ways = self._table([0] * len(self.kinds), lambda a, b: a + b, 1)
        return ways[0][self.shorts][self.need] or 0

    def _take(self, kind: int, shorts: int, rest: int) -> tuple[int, int] | None:
        """Short ones and units left after one more of this kind; None if it may not be taken."""
        size, short = self.sizes[kind] // self.unit, self.kinds[kind][1]
        if (short and not shorts) or (rest <= size and size - rest not in self.spare):
            return None
        return shorts - short, rest - size

    @staticmethod
    def _then(table: list[list[list[int | None]]], kind: int, shorts: int, rest: int) -> int | None:
        return 0 if rest <= 0 else table[kind][shorts][rest]

    def _table(
        self, weights: list[int], better: Callable[[int, int], int], done: int | None
    ) -> list[list[list[int | None]]]:
        blank: list[int | None] = [None] * (self.need + 1)
        table = [[blank[:] for _ in range(self.shorts + 1)] for _ in self.kinds]
        for kind in range(len(self.kinds) - 1, -1, -1):
            for shorts in range(self.shorts + 1):
                row = table[kind][shorts]
                without = table[kind + 1][shorts] if kind + 1 < len(self.kinds) else blank
                for rest in range(1, self.need + 1):
                    row[rest] = without[rest]
                    step = self._take(kind, shorts, rest)
                    then = self._then(table, kind, *step) if step else None
                    if step and step[1] <= 0 and done is not None:
                        then = done
                    if then is not None:
                        within = weights[kind] + then
                        left = row[rest]
                        row[rest] = within if left is None else better(left, within)
        return table

    def _mix(self, taken: Counts) -> Mix:
        sizes: dict[bool, tuple[int, ...]] = {False: (), True: ()}
        for (size, short), count in zip(self.kinds, taken, strict=True):
            sizes[short] += (-size,) * -count
        return Mix(sizes[False], sizes[True])
