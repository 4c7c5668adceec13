from __future__ import annotations

from fitter.reports.advice_report import advice_json, advice_text
from fitter.trade.printing.comparison import compare
from fitter.trade.printing.edition import advise
from fitter.trade.printing.limits import EditionLimits
from tests.trade.printed import chapter, set_in_type

OLD = set_in_type([chapter(1, 700), chapter(2, 700)])
NEW = set_in_type([chapter(1, 700), [*chapter(2, 700)[:-1], "misprint"]])
FOUND = compare(OLD, NEW)
ADVICE = advise(FOUND, EditionLimits(new_pages=3), same_isbn="978-1-234-56789-7")


def test_the_verdict_comes_first_and_the_caution_last() -> None:
    lines = advice_text(ADVICE).splitlines()
    assert lines[:2] == ["Corrected printing.", "  1 corrected page (6)."]
    assert "3 pages of new text" in lines[-2]
    assert lines[-1] == "This is advice from the text of the pages; the publisher decides."


def test_every_page_stands_in_the_json() -> None:
    report = advice_json(FOUND, ADVICE)
    assert report["verdict"] == "corrected printing"
    assert report["extents"] == {"old": 6, "new": 6}
    assert report["trims_mm"]["new"] == [129, 198]
    assert [page["kind"] for page in report["pages"]] == [*["same"] * 5, "corrected"]
    assert report["limits"]["new_pages"] == 3
    assert report["warnings"] == ()
