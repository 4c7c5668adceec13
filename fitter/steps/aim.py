"""The extent that tightening aims at, and which page counts come out at it."""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass, replace

from fitter.book.loader import Book
from fitter.errors import BadInput
from fitter.steps.fit import fit_counts
from fitter.steps.trials import Tried
from fitter.trade.plan import Draft, Plan

PlanFor = Callable[[Draft, tuple[tuple[str, int], ...]], Plan]

SHORTEST = 1
MOST_BETWEEN = 70  # pages: extents of any binding lie closer together


@dataclass(frozen=True, slots=True)
class Aim:
    """`extent` is the most pages the book shall come out at (or exactly, when it shall grow).

    `now` is the plan for the draft as it is.
    """

    extent: int
    now: Plan
    grows: bool
    plan_for: PlanFor
    base: Tried

    def reached(self, tried: Tried) -> bool:
        """Whether a draft comes out at the extent, filled."""
        return self._good(self.plan_for(tried.counts, tuple(sorted(tried.takes.items()))))

    def reaches(self, pages: int) -> bool:
        """The same foretold for a number of text pages, fillers as in the first draft."""
        if pages < SHORTEST:
            return False
        takes = tuple(sorted(self.base.takes.items()))
        return self._good(self.plan_for(_moved(self.base.counts, pages), takes))

    def _good(self, plan: Plan) -> bool:
        if plan.choice is None:
            return False
        return plan.extent == self.extent if self.grows else plan.extent <= self.extent


def aim_of(book: Book, base: Tried, extent: int | None = None) -> Aim:
    """Without an extent given: the next smaller one; or, where nothing fills the book as it is,
    any up to the present one that can be filled.

    Where there is no smaller extent the aim is the present one.
    """

    @functools.cache
    def plan_for(counts: Draft, takes: tuple[tuple[str, int], ...]) -> Plan:
        return fit_counts(book, counts, dict(takes))

    now = plan_for(base.counts, tuple(sorted(base.takes.items())))
    if extent is not None:
        _require_foldable(plan_for, base, extent)
        return Aim(extent, now, extent > now.extent, plan_for, base)
    if now.choice is None:
        return Aim(now.extent, now, False, plan_for, base)
    smaller = _smaller(plan_for, base, now)
    return Aim(smaller or now.extent, now, False, plan_for, base)


def _require_foldable(plan_for: PlanFor, base: Tried, extent: int) -> None:
    takes = tuple(sorted(base.takes.items()))
    near = range(max(1, extent - MOST_BETWEEN), extent + MOST_BETWEEN)
    extents = {plan_for(_moved(base.counts, pages), takes).extent for pages in near}
    if extent not in extents:
        told = sorted(extents, key=lambda each: abs(each - extent))[:2]
        raise BadInput(
            f"--extent {extent}: the binding makes no book of {extent} pages. The nearest are "
            f"{' and '.join(map(str, sorted(told)))}."
        )


def _smaller(plan_for: PlanFor, base: Tried, now: Plan) -> int | None:
    takes = tuple(sorted(base.takes.items()))
    for pages in range(base.counts.text_pages - 1, 0, -1):
        extent = plan_for(_moved(base.counts, pages), takes).extent
        if extent < now.extent:
            return extent
    return None


def _moved(counts: Draft, pages: int) -> Draft:
    """The counts of a book that is so many pages long instead; the back slot moves with its end."""
    return replace(
        counts, text_pages=pages, back_at=max(1, counts.back_at + pages - counts.text_pages)
    )
