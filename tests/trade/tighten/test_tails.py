"""Last pages and last lines: what a chapter that shrinks by a page wins."""

from __future__ import annotations

import pytest

from fitter.trade.tighten.tails import (
    Tail,
    guessed,
    lines_on_page,
    order_of_remedies,
    prelims,
    short_paragraphs,
    wins,
)
from tests.trade.texts import chapter, paragraph, text

RECTO = text(
    chapter(1, 3), chapter(5, 8), chapter(9, 9), chapter(11, 12), chapter(13, 15), blank=(4, 10)
)
ANY = text(chapter(1, 3), chapter(4, 8), chapter(9, 9), chapter(10, 12))


@pytest.mark.parametrize(
    ("index", "won", "why"),
    [
        (0, 2, "it ends on a recto: the blank verso goes with its last page"),
        (1, 0, "it ends on a verso: a blank verso takes the place of its last page"),
        (2, 0, "it has only one page"),
        (3, 0, "it ends on a verso"),
        (4, 1, "nothing follows it"),
    ],
)
def test_with_recto_openers_a_page_less_wins_two_or_none(index: int, won: int, why: str) -> None:
    assert wins(RECTO, index) == won, why


def test_with_openers_on_any_page_a_page_less_wins_one() -> None:
    assert [wins(ANY, i) for i in range(4)] == [1, 1, 0, 1]


def test_short_last_lines_are_those_under_a_fifth_of_the_measure() -> None:
    whole = [paragraph(1, fill=0.19), paragraph(2, fill=0.2), paragraph(3, lines=1, fill=0.1)]
    assert [each.number for each in short_paragraphs(text(paragraphs=whole))] == [1]


def test_lines_on_a_page_are_counted_down_to_a_base_line_white_space_and_all() -> None:
    # In the standard classes the first base line stands \topskip = 10pt below the head of the text
    # block, the others 12pt apart. Source: bk10.clo of TeX Live 2022.
    assert [lines_on_page(top, 0, 12) for top in (10, 22, 34, 394)] == [1, 2, 3, 33]


def test_the_prelims_give_up_their_blank_versos_first() -> None:
    # Source: New Hart's Rules, ch. 1 sect. 1.8 "Even workings".
    book = text(
        chapter(1, 1, matter="front"), chapter(11, 13), chapter(15, 16), blank=(2, 4, 8, 14)
    )
    assert prelims(book).pages == 10
    assert prelims(book).blank == 3
    assert prelims(book).wins == 2, "seven printed pages take eight before a recto"


def test_prelims_without_recto_openers_win_every_blank_page() -> None:
    book = text(chapter(1, 1, matter="front"), chapter(6, 9), chapter(10, 12), blank=(2, 4))
    assert (prelims(book).pages, prelims(book).wins) == (5, 2)


def test_the_order_of_remedies() -> None:
    # Source: New Hart's Rules, ch. 1 sect. 1.8: prelims, then end matter, the main folios last.
    main, late = Tail(chapter(11, 13), 2, 1), Tail(chapter(21, 23), 1, 1)
    index = Tail(chapter(31, 33, matter="back"), 9, 1)
    preface = Tail(chapter(1, 3, matter="front"), 20, 1)
    hopeless, none = Tail(chapter(41, 44), 3, 0), Tail(chapter(51, 53), None, 1)
    assert order_of_remedies([hopeless, none, main, late, index, preface])[:4] == [
        preface, index, late, main,
    ]  # fmt: skip


def test_without_drafts_the_lines_on_the_last_page_are_the_guess() -> None:
    assert [tail.lines for tail in guessed(RECTO)] == [10, 10, None, 10, 10]
    assert not any(tail.proved for tail in guessed(RECTO))
