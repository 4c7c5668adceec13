"""All that a printer folds, prices aside: the smallest extent its gatherings can make."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice

from fitter.errors import CannotFit
from fitter.trade.fold.gatherings import Folding
from fitter.trade.fold.mix import Mix, mixes, stand
from fitter.trade.fold.printer import Printer
from fitter.trade.words import count


@dataclass(frozen=True, slots=True)
class Offered:
    """A printer and a style of binding: any number of each regular size, and the short ones."""

    printer: Printer
    style: str = "sewn"

    @property
    def last_blank(self) -> int:
        """Pages at the very end that the press leaves blank."""
        return self.printer.last_blank

    def fold(self, pages: int) -> Folding:
        """The smallest extent that holds `pages`, of the fewest gatherings. Raises CannotFit."""
        mix = next(self._mixes(pages), None)
        if mix is None:
            raise CannotFit(too_long(self.printer, self.style, pages))
        return folded(self.printer, self.style, mix)

    def others(self, pages: int) -> list[Folding]:
        """The best way to each extent, and with each regular size by itself; smallest first."""
        first = max(pages, self.printer.least)
        found = set(islice(self._mixes(pages), 1))
        for extent in range(first, first + max(self.printer.sizes)):
            found.update(islice(self._mixes(pages, extent), 1))
        for size in self.printer.gatherings:
            only = replace(self, printer=replace(self.printer, gatherings=(size,)))
            found.update(islice(only._mixes(pages), 1))
        ways = [folded(self.printer, self.style, mix) for mix in found]
        return sorted(ways, key=lambda way: (way.extent, len(way.sheets), way.sheets))

    def holds(self, extent: int) -> bool:
        """Whether the printer folds just so many pages."""
        within = self.printer.least <= extent <= self.printer.greatest_in(self.style)
        return within and next(self._mixes(extent, extent), None) is not None

    def _mixes(self, pages: int, extent: int | None = None) -> Iterator[Mix]:
        folder = replace(self.printer, greatest=self.printer.greatest_in(self.style))
        return mixes(folder, pages, lambda _: Fraction(0), extent)


def folded(printer: Printer, style: str, mix: Mix) -> Folding:
    """A mix in the order of the book; the sheets of a stitched book are nested in one another."""
    if style == "saddle":
        return Folding((mix.extent,), max(mix.sheets), mix.sheets)
    return Folding(stand(mix.regular, mix.short, printer.short_stands), max(mix.sheets))


def too_long(printer: Printer, style: str, pages: int) -> str:
    """Why a printer binds no book of so many pages, as a sentence with its remedy."""
    if style == "saddle" and printer.stitch_at_most is not None:
        return (
            f"{count(pages, 'page')}: the stitch takes at most {printer.stitch_at_most}. "
            "Bind the book another way, or shorten it."
        )
    return (
        f"{count(pages, 'page')}: this printer folds no extent that holds them "
        f"(from {printer.least} to {printer.greatest} pages). Shorten the book or ask another."
    )
