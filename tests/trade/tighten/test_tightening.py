"""The report as a value."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fitter.trade.tighten.tightening import Shortened, over, survey
from tests.trade.texts import chapter, paragraph, text


@pytest.mark.parametrize(
    ("pages", "gathering", "told"),
    [
        # Source: Wikipedia, "Intentionally blank page", sect. Uses: 318 pages in 32s, 2 blanks.
        (318, 32, (30, 2)),
        # Source: Wikipedia, "Even working": 258 pages in 16s make 272, 14 blank.
        (258, 16, (2, 14)),
        (320, 32, (0, 0)),
    ],
)
def test_pages_over_and_short_of_a_gathering(
    pages: int, gathering: int, told: tuple[int, int]
) -> None:
    found = over(pages, gathering)
    assert (found.over, found.short) == told


def test_a_survey_tells_every_size_that_is_compared_and_the_books_own() -> None:
    found = survey(text(chapter(1, 9)), 9, (12,), 5)
    assert [each.gathering for each in found.over] == [4, 8, 12, 16, 32]
    assert found.reached, "nothing was looked for, so nothing is missing"


def test_what_a_choice_changes() -> None:
    before = text(chapter(1, 5), chapter(6, 9), paragraphs=[paragraph(1, page=5)])
    after = text(
        chapter(1, 4, lines=33), chapter(5, 8), paragraphs=[paragraph(1, page=4, on_page=1)]
    )
    found = survey(before, 9, (), 5)
    chosen = Shortened((paragraph(1),), 3, after)
    told = replace(found, shortened=chosen)
    assert [(one.pages, now.pages) for one, now in told.chapters_changed] == [(5, 4)]
    assert [each.kind for each in told.new_faults] == ["widow"]
    assert told.reached
