"""The search for the number of lines a chapter is over."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from fitter.trade.tighten.cuts import Tries, cut_widths, next_cuts
from tests.trade.texts import paragraph

PAGES = 9


def drafts(over: int, guess: int, most: int) -> tuple[Tries, int]:
    """Ask as the tool does of a chapter that loses a page for `over` lines; tries and rounds."""
    known = {0: PAGES}
    for rounds in range(30):
        wanted = next_cuts(Tries(known), guess, most)
        if not wanted:
            return Tries(known), rounds
        assert not set(wanted) & set(known), "nothing is asked twice"
        assert all(0 < cut <= most for cut in wanted)
        known |= {cut: PAGES - (cut >= over) for cut in wanted}
    raise AssertionError("no end")


@given(st.integers(1, 60), st.integers(-8, 8))
def test_a_wrong_guess_leads_to_the_lines_it_is_over(over: int, off: int) -> None:
    tries, rounds = drafts(over, max(1, over + off), 200)
    assert tries.enough == over
    assert tries.settled
    assert rounds <= 6


def test_a_right_guess_is_settled_in_one_round_of_two_drafts() -> None:
    assert drafts(7, 7, 100)[1] == 1
    assert drafts(1, 1, 100)[1] == 1


@given(st.integers(1, 40), st.integers(1, 40))
def test_no_more_lines_are_asked_than_there_are(guess: int, most: int) -> None:
    tries, _ = drafts(10_000, guess, most)
    assert tries.enough is None
    assert tries.too_few <= most


def test_without_text_nothing_is_asked() -> None:
    assert next_cuts(Tries({0: 3}), 5, 0) == ()
    assert next_cuts(Tries({0: 3}), 0, 20) == ()


def test_lines_are_cut_from_the_end_backwards_and_each_paragraph_keeps_one() -> None:
    whole = [paragraph(1, lines=4), paragraph(2, lines=1), paragraph(3, lines=3)]
    widths = cut_widths(whole, 4)
    assert widths is not None
    assert sorted(widths) == [1, 3]
    assert widths[3] > widths[1] > 1
    # 2.5 lines in one line, a third of it spare: 2.5 / 0.65.
    assert widths[3] == 2.5 / 0.65
    assert cut_widths(whole, 6) is None
    assert cut_widths(whole[:2], 3) == {1: 3.5 / 0.65}
