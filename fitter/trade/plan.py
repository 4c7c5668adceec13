"""The plan of a book: its gatherings, what stands on the left-over pages, and the alternatives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitter.errors import BadInput, CannotFit
from fitter.trade.choose import Choice, Filler, catalogue_faults, choose, required_pages
from fitter.trade.gatherings import Binding, Folding, alternatives, smallest
from fitter.trade.nearest import nearest


@dataclass(frozen=True, slots=True)
class Draft:
    """What a draft says: its text pages, and the sheet positions where each slot begins.

    `front_at` is None when the source has no front slot; both count without any filler.
    """

    text_pages: int
    front_at: int | None
    back_at: int


@dataclass(frozen=True, slots=True)
class Option:
    """Another way to fold the same text, and what would fill it (None: this catalogue cannot)."""

    folding: Folding
    left_over: int
    choice: Choice | None


@dataclass(frozen=True, slots=True)
class Plan:
    """What is to be printed and bound; `refusal` says why and what would help if nothing fits."""

    text_pages: int
    folding: Folding
    choice: Choice | None
    options: tuple[Option, ...]
    refusal: str = ""

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


def make_plan(binding: Binding, fillers: Sequence[Filler], draft: Draft, end_at_most: int) -> Plan:
    """Fold the text into the smallest extent and fill what is left over.

    Raises BadInput for a catalogue that contradicts itself.
    """
    faults = catalogue_faults(fillers)
    if faults:
        raise BadInput(*(f"The catalogue: {fault}." for fault in faults))
    needed = draft.text_pages + required_pages(fillers)
    folding = smallest(binding, needed)
    choice = _fill(fillers, folding, draft, end_at_most)
    options = tuple(
        Option(other, other.extent - draft.text_pages, _fill(fillers, other, draft, end_at_most))
        for other in alternatives(binding, needed)
    )
    refusal = "" if choice else _refusal(fillers, folding, draft, end_at_most)
    return Plan(draft.text_pages, folding, choice, options, refusal)


def _fill(
    fillers: Sequence[Filler], folding: Folding, draft: Draft, end_at_most: int
) -> Choice | None:
    return choose(
        fillers,
        folding.extent - draft.text_pages,
        front_at=draft.front_at,
        back_at=draft.back_at,
        end_at_most=end_at_most,
    )


def _refusal(fillers: Sequence[Filler], folding: Folding, draft: Draft, end_at_most: int) -> str:
    left = folding.extent - draft.text_pages
    ways = nearest(
        fillers, left, front_at=draft.front_at, back_at=draft.back_at, end_at_most=end_at_most
    )
    remedy = "What would work: " + ", or ".join(ways) + "." if ways else "Add shorter fillers."
    return (
        f"{draft.text_pages} text pages make {folding.extent}, and no choice from the catalogue "
        f"fills the {left} left over with at most {end_at_most} blank at the end. {remedy}"
    )
