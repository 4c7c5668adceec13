"""What one printer can fold, print and bind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from fitter.trade.fold.cost import Prices
from fitter.trade.fold.gatherings import Binding, size_faults
from fitter.trade.paper import Paper

LAST, BEFORE_LAST, ANYWHERE = "last", "before-last", "anywhere"
NO_LIMIT = 1_000_000


@dataclass(frozen=True, slots=True)
class Printer:
    """Sizes in pages. Of each regular size any number is taken, of short ones `short_at_most`.

    `short_stands` says where short ones stand: last, before-last, or anywhere (then they are put
    last; there is no published standard). `last_blank` is how many pages at the very end the
    press must leave blank, `stitch_at_most` the most pages a stitch takes, `spine_allowance_mm`
    what cover and glue add to the spine.
    """

    gatherings: tuple[int, ...]
    short: tuple[int, ...] = ()
    short_at_most: int = 1
    short_stands: str = LAST
    least: int = 1
    greatest: int = NO_LIMIT
    last_blank: int = 0
    stitch_at_most: int | None = None
    spine_allowance_mm: Fraction = Fraction(0)
    papers: tuple[Paper, ...] = ()
    prices: Prices | None = None

    def greatest_in(self, style: str) -> int:
        """The greatest extent in a style of binding: a stitch takes only so many pages."""
        if style != "saddle" or self.stitch_at_most is None:
            return self.greatest
        return min(self.stitch_at_most, self.greatest)

    @property
    def sizes(self) -> tuple[int, ...]:
        """Every size that can be folded, largest first."""
        return tuple(sorted({*self.gatherings, *self.short}, reverse=True))


def printer_faults(printer: Printer) -> Iterator[tuple[tuple[str, ...], str]]:
    """Each size that cannot be folded and each price that is missing: its key, and a sentence."""
    leaves = all(size == 2 for size in printer.sizes)
    binding = Binding(
        "cut-sheet" if leaves else "sewn", printer.gatherings, printer.short, printer.short_at_most
    )
    for field, said in size_faults(binding):
        yield ("gatherings" if field == "sizes" else field,), said
    if printer.prices:
        yield from _price_faults(printer, printer.prices)


def _price_faults(printer: Printer, prices: Prices) -> Iterator[tuple[tuple[str, ...], str]]:
    for name, priced in (("make_ready", prices.make_ready), ("run", prices.run)):
        missing = [str(size) for size in printer.sizes if size not in priced]
        if missing:
            yield ("prices", name), f"no price for a gathering of {' and of '.join(missing)}"
