"""What is said about a page."""

from __future__ import annotations

from fitter.reports.dummy import words
from fitter.trade.fold.dummy import Contents, DummyPage, make_dummy
from fitter.trade.fold.gatherings import Binding, Folding
from fitter.trade.gate.gate import Finding
from fitter.trade.gate.verdicts import PageVerdict


def test_a_printed_page_of_the_text_needs_no_word_and_no_sign() -> None:
    page = DummyPage(4, "iv", "printed", "text")
    assert (words.word_of(page), words.signs_of(page)) == ("", ())
    assert words.label_of(page) == "Page 4, verso, folio iv: text, printed."


def test_kind_and_verdict_are_both_told() -> None:
    page = DummyPage(7, None, "marked", "filler", "empty")
    assert words.word_of(page) == "filler, marked blank"
    assert words.signs_of(page) == ("filler-recto", "marked")
    assert words.label_of(page) == "Page 7, recto, no folio: filler empty, marked blank."


def test_findings_are_part_of_the_label() -> None:
    finding = Finding("furniture-only", "warning", 2, "2", "only furniture")
    page = DummyPage(2, "2", "furniture-only", "text", None, (finding,))
    assert words.label_of(page).endswith("furniture only. Warning: only furniture.")


def test_every_sign_has_a_word_and_a_meaning() -> None:
    shown = {"marked", "furniture-only", "blank", "damaged", "nothing", "filler"}
    assert {sample.sign for sample in words.SIGNS} == shown
    assert all(sample.word and sample.meaning for sample in words.SIGNS)


def test_where_a_page_lies_on_the_sheet() -> None:
    # Source: Cowie's Printer's Pocket-Book and Manual, p. 31: outer form 1 4, inner form 3 2
    pages = [PageVerdict(page, None, "printed", "body") for page in range(1, 9)]
    [folio] = make_dummy(pages[:4], [], Folding((4,)))
    assert words.on_the_sheet(3, folio) == ("Gathering 1, inner forme, beside page 2 on the sheet.")
    [saddle] = make_dummy(pages, [], Binding("saddle").fold(8))
    assert "outer forme of sheet 2, beside page 6" in words.on_the_sheet(3, saddle)


def test_what_a_gathering_holds() -> None:
    pages = [PageVerdict(page, None, "printed", "body") for page in range(1, 9)]
    contents = Contents(fillers={4: "bio", 6: "notes", 7: "notes"}, end_blanks=1)
    [gathering] = make_dummy(pages, [], Folding((8,)), contents)
    assert words.holds(gathering) == "bio 4, notes 6–7, end blank 8"
    assert words.range_of(gathering) == "pages 1–8"
