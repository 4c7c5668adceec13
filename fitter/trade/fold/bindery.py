"""Whoever folds and binds: by the book's binding alone, or within what a printer offers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Protocol

from fitter.errors import CannotFit
from fitter.trade.fold.gatherings import Binding, Folding
from fitter.trade.fold.mix import stand
from fitter.trade.fold.printer import Printer
from fitter.trade.words import count


class Bindery(Protocol):
    """What a plan asks of those who fold."""

    @property
    def last_blank(self) -> int:
        """Pages at the very end that must stay blank."""
        ...

    def fold(self, pages: int) -> Folding:
        """The folding to take for so many pages. Raises CannotFit."""
        ...

    def others(self, pages: int) -> list[Folding]:
        """What to compare it with."""
        ...

    def holds(self, extent: int) -> bool:
        """Whether so many pages make whole gatherings here."""
        ...


@dataclass(frozen=True, slots=True)
class Unpriced:
    """A printer whose prices play no part: the smallest extent, within the printer's limits."""

    binding: Binding
    printer: Printer

    @property
    def last_blank(self) -> int:
        """Pages at the very end that the press leaves blank."""
        return self.printer.last_blank

    def fold(self, pages: int) -> Folding:
        """The smallest folding; CannotFit beyond the printer's greatest extent."""
        folding = self.binding.fold(max(pages, self.printer.least))
        most = self.printer.greatest_in(self.binding.style)
        if folding.extent > most:
            raise CannotFit(
                f"{count(pages, 'page makes', 'pages make')} {folding.extent}, and this printer "
                f"binds at most {most}. Shorten the book or ask another."
            )
        return self._ordered(folding)

    def others(self, pages: int) -> list[Folding]:
        """The alternatives within the printer's limits."""
        most = self.printer.greatest_in(self.binding.style)
        ways = self.binding.others(max(pages, self.printer.least))
        return [self._ordered(way) for way in ways if way.extent <= most]

    def holds(self, extent: int) -> bool:
        """Whether so many pages make whole gatherings within the limits."""
        within = self.printer.least <= extent <= self.printer.greatest_in(self.binding.style)
        return within and self.binding.holds(extent)

    def _ordered(self, folding: Folding) -> Folding:
        regular = tuple(size for size in folding.gatherings if size == folding.gathering)
        short = tuple(size for size in folding.gatherings if size != folding.gathering)
        return replace(folding, gatherings=stand(regular, short, self.printer.short_stands))


def not_offered(binding: Binding, printer: Printer) -> Iterator[str]:
    """One sentence for each size of a binding that the printer does not fold."""
    for size in (*binding.sizes, *binding.short):
        if size not in printer.sizes:
            offered = ", ".join(map(str, printer.sizes))
            yield f"the binding has a gathering of {size}, and the printer folds {offered}"
