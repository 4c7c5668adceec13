"""The extent that tightening aims at, and which page counts come out at it."""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass, replace

from fitter.book.loader import Book
from fitter.errors import BadInput, CannotFit
from fitter.steps.bindery import offer_of
from fitter.steps.fit import fit_counts
from fitter.steps.trials import Tried
from fitter.trade.plan import Draft, Plan
from fitter.trade.words import count

Takes = tuple[tuple[str, int], ...]
PlanFor = Callable[[Draft, Takes], Plan | None]

SHORTEST = 1
MOST_BETWEEN = 70  # pages: extents of any binding lie closer together


@dataclass(frozen=True, slots=True)
class Aim:
    """`extent` is the most pages the book shall come out at (or exactly, when it shall grow).

    `now` is the plan for the draft as it is. `plan_for` has none for more pages than the printer
    binds: these reach nothing.
    """

    extent: int
    now: Plan
    grows: bool
    plan_for: PlanFor
    base: Tried

    def reached(self, tried: Tried) -> bool:
        """Whether a draft comes out at the extent, filled."""
        return self._good(self.plan_for(tried.counts, _takes(tried)))

    def reaches(self, pages: int) -> bool:
        """The same foretold for a number of text pages, fillers as in the first draft."""
        if pages < SHORTEST:
            return False
        return self._good(self.plan_for(_moved(self.base.counts, pages), _takes(self.base)))

    def _good(self, plan: Plan | None) -> bool:
        if plan is None or plan.choice is None:
            return False
        return plan.extent == self.extent if self.grows else plan.extent <= self.extent


def aim_of(book: Book, base: Tried, extent: int | None = None) -> Aim:
    """Without an extent given: the next smaller one; or, where nothing fills the book as it is,
    any up to the present one that can be filled.

    Where there is no smaller extent the aim is the present one. A book too long for its printer is
    at present what the printer would make of it without that limit.
    """

    @functools.cache
    def plan_for(counts: Draft, takes: Takes) -> Plan | None:
        try:
            return fit_counts(book, counts, dict(takes))
        except CannotFit:
            return None

    now = plan_for(base.counts, _takes(base)) or _without_limit(book, base)
    if extent is not None:
        _require_foldable(book, plan_for, base, extent)
        return Aim(extent, now, extent > now.extent, plan_for, base)
    if now.choice is None:
        return Aim(now.extent, now, False, plan_for, base)
    smaller = _smaller(plan_for, base, now)
    return Aim(smaller or now.extent, now, False, plan_for, base)


def _without_limit(book: Book, base: Tried) -> Plan:
    return fit_counts(book, base.counts, dict(base.takes), offer_of(book).without_limit.bindery)


def _require_foldable(book: Book, plan_for: PlanFor, base: Tried, extent: int) -> None:
    near = range(max(1, extent - MOST_BETWEEN), extent + MOST_BETWEEN)
    plans = (plan_for(_moved(base.counts, pages), _takes(base)) for pages in near)
    extents = {plan.extent for plan in plans if plan}
    if not extents:
        raise _refused(book, base, extent)
    if extent not in extents:
        told = sorted(extents, key=lambda each: abs(each - extent))[:2]
        raise BadInput(
            f"--extent {extent}: the binding makes no book of {count(extent, 'page')}. "
            f"The nearest are {' and '.join(map(str, sorted(told)))}."
        )


def _refused(book: Book, base: Tried, extent: int) -> BadInput:
    """In the words of the printer who cannot bind so many pages."""
    try:
        fit_counts(book, _moved(base.counts, extent), dict(base.takes))
    except CannotFit as fault:
        return BadInput(*(f"--extent {extent}: {said}" for said in fault.sentences))
    return BadInput(f"--extent {extent}: the binding makes no book near it.")


def _smaller(plan_for: PlanFor, base: Tried, now: Plan) -> int | None:
    for pages in range(base.counts.text_pages - 1, 0, -1):
        plan = plan_for(_moved(base.counts, pages), _takes(base))
        if plan and plan.extent < now.extent:
            return plan.extent
    return None


def _takes(tried: Tried) -> Takes:
    return tuple(sorted(tried.takes.items()))


def _moved(counts: Draft, pages: int) -> Draft:
    """The counts of a book that is so many pages long instead; the back slot moves with its end."""
    return replace(
        counts, text_pages=pages, back_at=max(1, counts.back_at + pages - counts.text_pages)
    )
