import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitter.trade.fold.formes import Sheet, formes, quired


def test_a_sheet_in_folio():
    # Source: Cowie's Printer's Pocket-Book and Manual, p. 31; S. J. Vaughn, Printing and
    # Bookbinding for Schools, Fig. 25
    assert formes([4]) == [[Sheet((1, 4), (2, 3))]]


def test_two_sheets_quired():
    # Source: Cowie's Printer's Pocket-Book and Manual, p. 31
    assert quired(1, 8, 4) == [Sheet((1, 8), (2, 7)), Sheet((3, 6), (4, 5))]


def test_a_quire_of_eight_sheets_pairs_to_33():
    # Source: Cowie's Printer's Pocket-Book and Manual, p. 31 note 1
    sides = [side for sheet in quired(1, 32, 4) for side in (sheet.outer, sheet.inner)]
    assert {(1, 32), (14, 19), (12, 21)} <= set(sides)
    assert all(sum(side) == 33 for side in sides)


@pytest.mark.parametrize("pages", [4, 8, 16, 24, 32])
def test_adjoining_pages_add_up_to_one_more(pages):
    # Source: W. Savage, A Dictionary of the Art of Printing (1841), s.v. Imposing (attribution
    # from memory): 1 and 4 in folio, 1 and 8, 1 and 16, 1 and 24, 1 and 32
    [[sheet]] = formes([pages])
    assert {1, pages} <= set(sheet.outer)
    assert all(pages + 1 - page in sheet.outer for page in sheet.outer)
    assert all(pages + 1 - page in sheet.inner for page in sheet.inner)


def test_eighteens_in_quires():
    # Source: Savage, as above: in eighteens 1 and 36
    assert quired(1, 36, 4)[0].outer == (1, 36)


def test_folio_in_eights():
    # Source: encyclopaedia text on book formats (attribution from memory)
    assert quired(1, 16, 4)[0] == Sheet((1, 16), (2, 15))


def test_folio_in_sixes():
    # Source: C. Hinman, "The Prentice Hand...", Studies in Bibliography 9 (page numbers own
    # arithmetic): 3v:4 are 6 and 7, 3:4v 5 and 8, 1v:6 2 and 11, 1:6v 1 and 12
    first, _, third = quired(1, 12, 4)
    assert (first.outer, first.inner) == ((1, 12), (2, 11))
    assert (third.outer, third.inner) == ((5, 8), (6, 7))


def test_eight_pages_name_8_and_5_together():
    # Source: S. J. Vaughn, Printing and Bookbinding for Schools, Fig. 25
    [[sheet]] = formes([8])
    assert {8, 5} <= set(sheet.outer)


def test_sixteen_pages_on_one_sheet():
    # from memory: Gaskell, A New Introduction to Bibliography (1972), imposition diagrams
    [[sheet]] = formes([16])
    assert sheet.outer == (1, 4, 5, 8, 9, 12, 13, 16)
    assert sheet.inner == (2, 3, 6, 7, 10, 11, 14, 15)


def test_only_the_middle_pages_lie_side_by_side_in_a_sixteen():
    # Source: R. Hollick, Making Book weblog, Nov 2010 (blog name from memory)
    [[sheet]] = formes([16])
    beside = [(page, 17 - page) for side in (sheet.outer, sheet.inner) for page in side if page < 9]
    assert [pair for pair in beside if pair[1] == pair[0] + 1] == [(8, 9)]


def test_conjugate_leaves():
    # Source: Roberts & Etherington, s.v. conjugate leaves (leaves, not pages, add up to n + 1)
    for sheet in quired(1, 32, 4):
        leaves = [(page + 1) // 2 for page in (sheet.outer[0], sheet.outer[-1])]
        assert sum(leaves) == 17


@given(st.integers(1, 20))
def test_sheet_k_of_a_quire(sheets):
    # own arithmetic; reproduces Cowie p. 31 and Hinman
    pages = 4 * sheets
    for k, sheet in enumerate(quired(1, pages, 4), 1):
        assert sheet.outer == (2 * k - 1, pages - 2 * k + 2)
        assert sheet.inner == (2 * k, pages - 2 * k + 1)


SHEETS = st.lists(st.sampled_from([4, 8, 12, 16, 24, 32, 64]), min_size=1, max_size=6)
IN_A_ROW = (SHEETS | st.just([2, 2, 2])).map(lambda sheets: (sheets, ()))
NESTED = SHEETS.map(lambda sheets: ([sum(sheets)], sheets))


@given(IN_A_ROW | NESTED)
def test_every_leaf_has_one_page_on_each_side(gatherings_and_nested):
    gatherings, nested = gatherings_and_nested
    found = formes(gatherings, nested)
    outer = {page for gathering in found for sheet in gathering for page in sheet.outer}
    inner = {page for gathering in found for sheet in gathering for page in sheet.inner}
    assert outer | inner == set(range(1, sum(gatherings) + 1))
    for recto in range(1, sum(gatherings), 2):
        assert (recto in outer) != (recto + 1 in outer)
        assert (recto in inner) != (recto + 1 in inner)


def test_the_second_gathering_goes_on_counting():
    assert formes([4, 4])[1] == [Sheet((5, 8), (6, 7))]


def test_sheets_of_different_sizes_nested_outermost_first():
    sheets = quired(1, 16, (8, 4, 4))
    assert sheets[0] == Sheet((1, 4, 13, 16), (2, 3, 14, 15))
    assert sheets[1:] == [Sheet((5, 12), (6, 11)), Sheet((7, 10), (8, 9))]


def test_a_last_sheet_that_is_smaller():
    sheets = quired(1, 12, 8)
    assert sheets[0] == Sheet((1, 4, 9, 12), (2, 3, 10, 11))
    assert sheets[1] == Sheet((5, 8), (6, 7))
