"""Second step: choose the gathering and what stands on the left-over pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fitter.book.catalogue import fillers_of
from fitter.book.loader import Book
from fitter.errors import BadInput
from fitter.steps.bindery import bindery_of, offer_of
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
    return [*left_out(book, draft.counts), *offer_of(book).not_held(plan.folding)]


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


def _front_slot(book: Book) -> str:
    return "::: {.filler-slot place=front}" if book.markdown else "\\fillerslot{front}"


def _require_front_slot(book: Book, counts: Draft) -> None:
    for index, entry in enumerate(book.catalogue):
        if entry.place == "front" and entry.required and counts.front_at is None:
            raise BadInput(
                f"{book.fillers_doc.at(('fillers', index, 'place'))}: '{entry.id}' must stand in "
                f"front, and the source has no place for it. Add {_front_slot(book)}."
            )
