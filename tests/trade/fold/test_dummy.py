"""The folding dummy as values: gatherings, spreads, kinds, neighbours on the sheet."""

from __future__ import annotations

import pytest

from fitter.trade.fold.dummy import Contents, make_dummy, neighbours
from fitter.trade.fold.formes import Sheet, quired
from fitter.trade.fold.gatherings import Binding, Folding
from fitter.trade.gate.gate import Finding
from fitter.trade.gate.verdicts import PageVerdict, Verdict


def verdicts(pages: int, **other: Verdict) -> list[PageVerdict]:
    """Printed pages, but for those named like `p7="blank"`."""
    return [
        PageVerdict(page, None, other.get(f"p{page}", "printed"), "body")
        for page in range(1, pages + 1)
    ]


def test_rectos_are_odd_and_stand_right_of_their_verso() -> None:
    # Source: IOBA, Book Terms, "Leaf / Leaves"
    [gathering] = make_dummy(verdicts(8), [], Folding((8,)))
    spreads = [[page.page for page in spread] for spread in gathering.spreads]
    assert spreads == [[1], [2, 3], [4, 5], [6, 7], [8]]
    assert [page.side for page in gathering.spreads[1]] == ["verso", "recto"]


def test_in_a_folded_16_only_8_and_9_lie_side_by_side() -> None:
    # Source: R. Hollick, Making Book weblog, Nov 2010 (blog name from memory)
    first, second = make_dummy(verdicts(32), [], Folding((16, 16)))
    assert (first.centre, second.centre) == ((8, 9), (24, 25))


def test_the_last_gathering_holds_what_is_left_over() -> None:
    # Source: W. Savage, A Dictionary of the Art of Printing (1841), s.v. Imposing (attribution
    # from memory): six pages imposed as eight leave two blank pages
    [gathering] = make_dummy(verdicts(6), [], Binding(sizes=(8,)).fold(6))
    assert [page.kind for page in gathering.pages][5:] == ["text", "left over", "left over"]
    assert gathering.pages[-1].shows == "nothing"


def test_fillers_end_blanks_and_folios_come_from_the_record() -> None:
    contents = Contents(folios={1: "i"}, fillers={6: "notes", 7: "notes"}, end_blanks=1)
    [gathering] = make_dummy(verdicts(8, p8="blank"), [], Folding((8,)), contents)
    assert [page.filler for page in gathering.pages[5:]] == ["notes", "notes", None]
    assert gathering.pages[7].kind == "end blank"
    assert gathering.pages[0].folio == "i"


def test_findings_stand_with_their_page() -> None:
    finding = Finding("blank-unmarked", "error", 3, None, "the page is blank")
    whole = Finding("gathering-not-full", "error", None, None, "not whole")
    [gathering] = make_dummy(verdicts(4, p3="blank"), [whole, finding], Folding((4,)))
    assert gathering.findings == (finding,)
    assert gathering.pages[2].findings == (finding,)


def test_a_damaged_page_is_told_as_damaged_and_as_nothing_else() -> None:
    looks = Finding("blank-unmarked", "error", 2, None, "the page is blank")
    [gathering] = make_dummy(
        verdicts(4, p2="blank"), [looks], Folding((4,)), damaged={2: "zlib error"}
    )
    assert gathering.pages[1].shows == "damaged"
    assert [finding.rule for finding in gathering.findings] == ["page-damaged"]


def test_single_leaves_stand_in_rows_of_eight() -> None:
    rows = make_dummy(verdicts(20), [], Folding((2,) * 10))
    assert [len(row.pages) for row in rows] == [16, 4]
    assert not any(row.sheets for row in rows)


def test_a_saddle_stitched_book_is_one_gathering_of_nested_sheets() -> None:
    # Source: Cowie's Printer's Pocket-Book and Manual, p. 31: two sheets in folio, quired
    [gathering] = make_dummy(verdicts(8), [], Binding("saddle").fold(8))
    assert gathering.sheets == (Sheet((1, 8), (2, 7)), Sheet((3, 6), (4, 5)))


def test_sheets_of_several_sizes_are_nested_as_they_are_told() -> None:
    # own arithmetic, by the rule of Cowie's Printer's Pocket-Book and Manual, p. 31: each sheet
    # takes half its pages from the front of what is left and half from the end
    [gathering] = make_dummy(verdicts(16), [], Folding((16,), 8, (8, 4, 4)))
    pages = [sorted(sheet.outer + sheet.inner) for sheet in gathering.sheets]
    assert pages == [[1, 2, 3, 4, 13, 14, 15, 16], [5, 6, 11, 12], [7, 8, 9, 10]]


@pytest.mark.parametrize("pages", [4, 8, 16, 24, 32])
def test_neighbours_add_up_to_one_more_than_the_pages(pages: int) -> None:
    # Source: W. Savage, A Dictionary of the Art of Printing (1841), s.v. Imposing (attribution
    # from memory): 1 and 4, 1 and 8, 1 and 16, 1 and 24, 1 and 32
    [sheet] = quired(1, pages, pages)
    outer, inner = neighbours(sheet)
    assert {verso + recto for verso, recto in outer + inner} == {pages + 1}
    assert (pages, 1) in outer
    assert sorted(page for pair in outer + inner for page in pair) == list(range(1, pages + 1))


def test_a_quire_of_32_pairs_19_with_14_and_12_with_21() -> None:
    # Source: Cowie's Printer's Pocket-Book and Manual, p. 31 note 1
    pairs = [pair for sheet in quired(1, 32, 4) for side in neighbours(sheet) for pair in side]
    assert {(32, 1), (14, 19), (12, 21)} <= set(pairs)
