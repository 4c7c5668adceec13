from __future__ import annotations

from fitter.trade.printing.movement import Movement, movements
from fitter.trade.printing.overlap import Overlap
from tests.trade.printed import chapter, set_in_type

CHAPTERS = [chapter(seed, 1250) for seed in range(3)]  # the fifth page of each is short
OLD = set_in_type(CHAPTERS).pages


def _moved(words: list[str]) -> list[Movement]:
    new = set_in_type([CHAPTERS[0], words, CHAPTERS[2]]).pages
    return list(movements(Overlap.of(OLD, new), new))


def test_text_moves_on_as_far_as_a_short_page_takes_it_up() -> None:
    words = [*CHAPTERS[1][:40], *chapter(99, 70), *CHAPTERS[1][40:]]
    assert _moved(words) == [Movement(first=7, last=10, words=70, lines=7)]


def test_text_may_move_by_more_than_a_page() -> None:
    words = [*CHAPTERS[1][:40], *chapter(99, 500), *CHAPTERS[1][40:]]
    (moved,) = _moved(words)
    assert (moved.first, moved.words) == (7, 500)


def test_pages_that_are_new_throughout_have_not_moved() -> None:
    assert _moved(chapter(98, 1250)) == []
