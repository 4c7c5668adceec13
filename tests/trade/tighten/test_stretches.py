"""Stretches between forced rectos: where a page that is won stays, and where it is lost again."""

from __future__ import annotations

from fitter.trade.tighten.stretches import Stretch, forced_rectos, stretches
from fitter.trade.tighten.tails import wins
from tests.trade.texts import chapter, text

# Openings on any page, but for a part that starts on page 9; the verso before it is blank.
PARTS = text(
    chapter(1, 3), chapter(4, 7), chapter(9, 9), chapter(10, 12), blank=(8,),
    rectos=frozenset({9}),
)  # fmt: skip


def test_chapters_stand_in_the_stretch_they_begin_in() -> None:
    assert stretches(PARTS) == [Stretch((0, 1), 7, True), Stretch((2, 3), 4, False)]


def test_a_page_won_before_a_recto_takes_the_blank_verso_with_it_or_leaves_one() -> None:
    odd, even = Stretch((0,), 7, True), Stretch((0,), 8, True)
    assert [odd.wins(fewer) for fewer in (0, 1, 2, 3)] == [0, 2, 2, 4]
    assert [even.wins(fewer) for fewer in (0, 1, 2, 3)] == [0, 0, 2, 2]
    assert Stretch((0,), 8, False).wins(1) == 1


def test_a_chapter_by_itself_wins_what_its_stretch_does() -> None:
    assert [wins(PARTS, i) for i in range(4)] == [2, 2, 0, 1]
    longer = text(chapter(1, 3), chapter(4, 8), chapter(9, 10), rectos=frozenset({9}))
    assert [wins(longer, i) for i in range(3)] == [0, 0, 1]


def test_what_the_draft_does_not_tell_the_blank_versos_do() -> None:
    chapters = (chapter(1, 3), chapter(5, 8), chapter(9, 10))
    told = text(*chapters, blank=(4,), rectos=frozenset({5, 9}))
    assert stretches(text(*chapters, blank=(4,))) == stretches(told)


def test_chapters_that_happen_to_begin_on_rectos_are_not_taken_for_recto_openers() -> None:
    assert not forced_rectos(text(chapter(1, 2), chapter(3, 4), chapter(5, 6)))
