"""The plan of a book: its gatherings, what stands on the left-over pages, and the alternatives."""

from __future__ import annotations

import functools
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import TypedDict

from fitter.errors import BadInput, CannotFit
from fitter.trade.fill.catalogue import catalogue_faults
from fitter.trade.fill.choose import Choice, Filler, choose, required_pages
from fitter.trade.fill.nearest import nearest, odd_in_front
from fitter.trade.fold.bindery import Bindery
from fitter.trade.fold.gatherings import Folding
from fitter.trade.words import count


class Places(TypedDict):
    """Where fillers and end blanks may stand; see `choose`."""

    front_at: int | None
    back_at: int
    end_at_most: int
    back_whole: bool


@dataclass(frozen=True, slots=True)
class Draft:
    """What a draft says: its text pages, and the sheet positions where each slot begins.

    `front_at` is None when the source has no front slot; both count without any filler.
    `back_whole`: text that must open on a given side follows the back slot, so that back fillers
    take whole leaves, as front ones do.
    """

    text_pages: int
    front_at: int | None
    back_at: int
    back_whole: bool = False

    @classmethod
    def of(cls, pages: int, front_at: int | None = None) -> Draft:
        """A text of so many pages of which no more is known; back fillers stand at its end."""
        return cls(pages, front_at, pages + 1)


@dataclass(frozen=True, slots=True)
class Option:
    """Another way to fold the same text; `fill` finds what would fill an extent, when asked."""

    folding: Folding
    left_over: int
    fill: Callable[[int], Choice | None] = field(repr=False, compare=False)

    @property
    def choice(self) -> Choice | None:
        """What would fill the left-over pages; None where this catalogue cannot."""
        return self.fill(self.folding.extent)


@dataclass(frozen=True, slots=True)
class Plan:
    """What is to be printed and bound; `refusal` says why and what would help if nothing fits.

    `needed` are the pages that must be in: text, required fillers, what the press leaves blank.
    """

    text_pages: int
    folding: Folding
    choice: Choice | None
    options: tuple[Option, ...]
    refusal: str = ""
    needed: int = 0

    @property
    def extent(self) -> int:
        """All pages, fillers and blanks included."""
        return self.folding.extent

    @property
    def left_over(self) -> int:
        """Extent minus text pages."""
        return self.extent - self.text_pages

    @property
    def chosen(self) -> Choice:
        """What fills the left-over pages. Raises CannotFit where nothing does."""
        if self.choice is None:
            raise CannotFit(self.refusal)
        return self.choice


def make_plan(bindery: Bindery, fillers: Sequence[Filler], draft: Draft, end_at_most: int) -> Plan:
    """Fold the text as the bindery would and fill what is left over.

    Raises BadInput for a catalogue that contradicts itself, CannotFit for a book too long to bind.
    """
    faults = catalogue_faults(fillers)
    if faults:
        raise BadInput(*(f"The catalogue: {fault.said}. {fault.remedy}" for fault in faults))
    needed = draft.text_pages + required_pages(fillers) + bindery.last_blank
    folding = bindery.fold(needed)
    filling = _Filling(fillers, draft, end_at_most, bindery.last_blank)
    fill = functools.cache(filling.choice)
    choice = fill(folding.extent)
    options = tuple(
        Option(other, other.extent - draft.text_pages, fill) for other in bindery.others(needed)
    )
    refusal = "" if choice else filling.refusal(folding.extent)
    return Plan(draft.text_pages, folding, choice, options, refusal, needed)


@dataclass(frozen=True, slots=True)
class _Filling:
    """How any extent would be filled; the press may want the very last pages blank."""

    fillers: Sequence[Filler]
    draft: Draft
    end_at_most: int
    last_blank: int

    def choice(self, extent: int) -> Choice | None:
        found = choose(self.fillers, self._to_fill(extent), **self._places())
        return found and replace(found, end_blanks=found.end_blanks + self.last_blank)

    def refusal(self, extent: int) -> str:
        kept = self.last_blank
        ways = nearest(self.fillers, self._to_fill(extent), **self._places(), kept_blank=kept)
        remedy = "What would work: " + ", or ".join(ways) + "." if ways else "Add shorter fillers."
        why = odd_in_front(self.fillers)
        pages = count(self.draft.text_pages, "text page makes", "text pages make")
        return (
            f"{pages} {extent}, and no choice from the catalogue "
            f"fills the {extent - self.draft.text_pages} left over with at most "
            f"{max(self.end_at_most, self.last_blank)} blank at the end. "
            f"{why and why + ' '}{remedy}"
        )

    def _to_fill(self, extent: int) -> int:
        return extent - self.draft.text_pages - self.last_blank

    def _places(self) -> Places:
        return {
            "front_at": self.draft.front_at,
            "back_at": self.draft.back_at,
            "end_at_most": max(self.end_at_most - self.last_blank, 0),
            "back_whole": self.draft.back_whole,
        }
