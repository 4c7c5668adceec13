"""Extent against text pages: a staircase, one step for each extent the binding holds."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from fitter.errors import CannotFit
from fitter.trade.fold.gatherings import Folding

Fold = Callable[[int], Folding]


@dataclass(frozen=True, slots=True)
class Step:
    """All text-page counts from `first` to `last` come out at the same extent."""

    first: int
    last: int
    extent: int


@dataclass(frozen=True, slots=True)
class Staircase:
    """The steps around a book, and where it stands: its text pages and its extent."""

    steps: tuple[Step, ...]
    text_pages: int
    extent: int

    @property
    def here(self) -> Step:
        """The step the book stands on."""
        return next(step for step in self.steps if step.first <= self.text_pages <= step.last)


def staircase(fold: Fold, text_pages: int, reach: int) -> Staircase:
    """The steps from `reach` text pages below the book to `reach` above; 1 is the fewest.

    `fold` tells how so many text pages are folded; the stairs end where it raises CannotFit.
    """
    steps: list[Step] = []
    for pages, extent in _extents(fold, max(1, text_pages - reach), text_pages + reach):
        if steps and steps[-1].extent == extent:
            steps[-1] = Step(steps[-1].first, pages, extent)
        else:
            steps.append(Step(pages, pages, extent))
    return Staircase(tuple(steps), text_pages, fold(text_pages).extent)


def _extents(fold: Fold, first: int, last: int) -> Iterator[tuple[int, int]]:
    for pages in range(first, last + 1):
        try:
            yield pages, fold(pages).extent
        except CannotFit:
            return
