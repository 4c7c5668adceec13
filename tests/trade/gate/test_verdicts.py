from fitter.trade.gate.verdicts import places


def test_front_and_end_are_what_lies_outside_the_printed_pages() -> None:
    verdicts = places(["blank", "furniture-only", "printed", "blank", "printed", "marked"])
    assert verdicts == ["front", "front", "body", "body", "body", "end"]


def test_a_book_without_a_printed_page_has_neither_front_nor_end() -> None:
    assert places(["blank", "marked"]) == ["body", "body"]
    assert places([]) == []
