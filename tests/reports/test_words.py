"""Gatherings, choices and places in words."""

from __future__ import annotations

import pytest

from fitter.reports.words import (
    choice_in_words,
    folded_from,
    gatherings_in_words,
    place_in_words,
    plan_in_words,
)
from fitter.trade.fill.choose import Choice, Placed
from fitter.trade.fold.gatherings import Binding, Folding
from fitter.trade.gate.gate import Finding


@pytest.mark.parametrize(
    ("gatherings", "words"),
    [
        ((16,), "1 gathering of 16"),
        ((16,) * 18 + (8,), "18 gatherings of 16, 1 of 8"),
        ((16, 8, 16), "1 gathering of 16, 1 of 8, 1 of 16"),
        ((2,), "1 single leaf"),
        ((2, 2), "2 single leaves"),
    ],
)
def test_gatherings_are_told_in_the_order_of_the_book(
    gatherings: tuple[int, ...], words: str
) -> None:
    assert gatherings_in_words(gatherings) == words


def test_a_nested_gathering_tells_its_sheets() -> None:
    saddle = Binding("saddle").fold(8)
    assert folded_from(saddle) == "1 gathering of 8, nested from 2 sheets of 4"
    mixed = Folding((16,), 8, (8, 4, 4))
    assert folded_from(mixed) == "1 gathering of 16, nested from 1 sheet of 8, 2 sheets of 4"
    assert folded_from(Folding((16, 8))) == "1 gathering of 16, 1 of 8"


def test_what_was_done() -> None:
    choice = Choice((Placed("bio", "back", 2, 300), Placed("notes", "back", 2, 302)), 1)
    assert choice_in_words(choice) == "bio 2, notes 2, 1 blank at the end"
    said = "304 pages, 19 gatherings of 16. Filled 5 pages: bio 2, notes 2, 1 blank at the end."
    assert plan_in_words(299, Folding((16,) * 19), choice) == said
    assert plan_in_words(16, Folding((16,)), Choice((), 0)) == "16 pages, 1 gathering of 16."


@pytest.mark.parametrize(
    ("page", "folio", "words"),
    [(12, "10", "page 12 (folio 10)"), (12, None, "page 12"), (None, None, "the book")],
)
def test_where_a_finding_lies(page: int | None, folio: str | None, words: str) -> None:
    assert place_in_words(Finding("rule", "error", page, folio, "")) == words
