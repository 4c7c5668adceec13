"""Second step: choose the gathering and what stands on the left-over pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fitter.book.catalogue import fillers_of
from fitter.book.loader import Book
from fitter.errors import BadInput
from fitter.steps.bindery import bindery_of, offer_of
from fitter.steps.imprint import language_told
from fitter.trade.fold.bindery import Bindery
from fitter.trade.plan import Draft, Plan, make_plan

if TYPE_CHECKING:
    from fitter.steps.draft import DraftBuild


def fit(book: Book, draft: DraftBuild, bindery: Bindery | None = None) -> Plan:
    """The plan for a draft. Raises CannotFit or BadInput as `make_plan` does."""
    return fit_counts(book, draft.counts, draft.takes, bindery)


def fit_counts(
    book: Book, counts: Draft, takes: dict[str, int], bindery: Bindery | None = None
) -> Plan:
    """The plan for page counts alone, without any PDF."""
    _require_front_slot(book, counts)
    fillers = fillers_of(book, takes)
    return make_plan(
        bindery or bindery_of(book),
        fillers,
        counts,
        book.settings.blanks.end_at_most,
    )


def warnings(book: Book, draft: DraftBuild, plan: Plan) -> list[str]:
    """What to know of a plan that was made for a book: a sentence each."""
    return [
        *left_out(book, draft.counts),
        *never_in_front(book, draft.counts, draft.takes),
        *offer_of(book).not_held(plan.folding),
        *language_told(book),
    ]


def left_out(book: Book, counts: Draft) -> list[str]:
    """A sentence for each filler that would stand in front of a text without a place for it."""
    if counts.front_at is not None:
        return []
    return [
        f"{book.fillers_doc.at(('fillers', index, 'place'))}: '{entry.id}' is left out, for it "
        f"stands in front and the source has no place for it. Add {_front_slot(book)}."
        for index, entry in enumerate(book.catalogue)
        if entry.place == "front" and not entry.required
    ]


def never_in_front(book: Book, counts: Draft, takes: dict[str, int]) -> list[str]:
    """A sentence where one front filler has an odd number of pages and no other can even it out."""
    if counts.front_at is None:
        return []
    front = [filler for filler in fillers_of(book, takes) if filler.place == "front"]
    odd = [filler for filler in front if any(count % 2 for count in filler.counts)]
    if len(odd) != 1 or odd[0].required or any(count % 2 == 0 for count in odd[0].counts):
        return []
    number = [entry.id for entry in book.catalogue].index(odd[0].id)
    return [
        f"{book.fillers_doc.at(('fillers', number, 'place'))}: '{odd[0].id}' is never placed, for "
        "front fillers take an even number of pages in all and no other has an odd number. Give it "
        "a page more, or a companion."
    ]


def _front_slot(book: Book) -> str:
    return "::: {.filler-slot place=front}" if book.markdown else "\\fillerslot{front}"


def _require_front_slot(book: Book, counts: Draft) -> None:
    for index, entry in enumerate(book.catalogue):
        if entry.place == "front" and entry.required and counts.front_at is None:
            raise BadInput(
                f"{book.fillers_doc.at(('fillers', index, 'place'))}: '{entry.id}' must stand in "
                f"front, and the source has no place for it. Add {_front_slot(book)}."
            )
