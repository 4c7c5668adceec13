"""Whoever folds and binds: by the book's binding alone, or within what a printer offers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Protocol

from fitter.errors import CannotFit
from fitter.trade.fold.gatherings import Binding, Folding, alternatives
from fitter.trade.fold.mix import stand
from fitter.trade.fold.offered import Offered
from fitter.trade.fold.printer import Printer
from fitter.trade.words import count

LEAF = 2


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
    """A binding with sizes of its own: the smallest extent, within the printer's limits."""

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
        """The alternatives that the printer folds, within the printer's limits."""
        most = self.printer.greatest_in(self.binding.style)
        sizes = () if self.binding.style == "cut-sheet" else self.printer.gatherings
        ways = alternatives(self.binding, max(pages, self.printer.least), sizes)
        return [self._ordered(way) for way in ways if way.extent <= most]

    def holds(self, extent: int) -> bool:
        """Whether so many pages make whole gatherings within the limits."""
        within = self.printer.least <= extent <= self.printer.greatest_in(self.binding.style)
        return within and self.binding.holds(extent)

    def _ordered(self, folding: Folding) -> Folding:
        regular = tuple(size for size in folding.gatherings if size == folding.gathering)
        short = tuple(size for size in folding.gatherings if size != folding.gathering)
        return replace(folding, gatherings=stand(regular, short, self.printer.short_stands))


def at_printer(binding: Binding, printer: Printer) -> Bindery:
    """Who folds, prices aside: the printer's own sizes where the binding says none."""
    if binding.style != "cut-sheet" and not binding.sizes and not binding.short:
        return Offered(printer, binding.style)
    return Unpriced(within(binding, printer), printer)


def within(binding: Binding, printer: Printer) -> Binding:
    """The binding with what it does not say taken from the printer; no more short ones than there.

    Single leaves are cut and not folded, so every printer makes them.
    """
    if binding.style == "cut-sheet":
        return binding
    limited = set(binding.short) - set(printer.gatherings)
    most = min(binding.short_at_most, printer.short_at_most) if limited else binding.short_at_most
    return replace(binding, sizes=binding.sizes or printer.gatherings, short_at_most=most)


def is_of(binding: Binding, folding: Folding) -> bool:
    """Whether a binding with sizes of its own folds so many pages from just these sheets."""
    sizes = (replace(binding, sizes=(size,)) for size in binding.regular)
    ways = (one.fold(folding.extent) for one in sizes)
    return any(sorted(way.sheets) == sorted(folding.sheets) for way in ways)


def not_offered(binding: Binding, printer: Printer) -> Iterator[tuple[str, str]]:
    """`gathering` or `short`, and a sentence, for each size of a binding the printer does not fold.

    A short gathering of the printer is no regular one.
    """
    offered = ", ".join(map(str, printer.sizes))
    for key, sizes in (("gathering", binding.sizes), ("short", binding.short)):
        for size in sizes:
            if binding.style == "cut-sheet" and size == LEAF:
                continue
            if size not in printer.sizes:
                yield key, f"the binding has a gathering of {size}, and the printer folds {offered}"
            elif key == "gathering" and size not in printer.gatherings:
                regular = ", ".join(map(str, printer.gatherings))
                yield (
                    key,
                    f"the binding has a regular gathering of {size}, and the printer folds {size} "
                    f"only as a short one beside {regular}",
                )
