"""Marks as they stand on real pages: set narrow, in capitals, with furniture, in many scripts."""

from __future__ import annotations

from pathlib import Path

import pymupdf
import pytest

from fitter.data.known_marks import known_marks
from fitter.pdf.verdicts import read_verdicts
from fitter.trade.gate.marks import Marks
from tests.data.test_known_marks import WORDINGS
from tests.drawn import MM, Draw, drawn, furnished, nothing, text, words


def column(said: str, width: float = 45) -> Draw:
    """Words set in a column of so many mm in the middle of the page, in any script."""

    def draw(page: pymupdf.Page) -> None:
        box = pymupdf.Rect(42 * MM, 80 * MM, (42 + width) * MM, 140 * MM)
        page.insert_htmlbox(box, f"<p style='text-align: center'>{said}</p>")

    return draw


def verdict(folder: Path, draw: Draw, marks: Marks | None = None) -> str:
    """The verdict on the fourth of seven pages with running heads."""
    pages = [furnished(number, text) for number in range(1, 8)]
    pages[3] = draw
    return (
        read_verdicts(drawn(folder / "book.pdf", *pages), marks or known_marks())
        .verdicts[3]
        .verdict
    )


@pytest.mark.parametrize("wording", WORDINGS.values(), ids=WORDINGS.keys())
def test_a_mark_set_narrow_under_a_running_head(tmp_path: Path, wording: str) -> None:
    assert verdict(tmp_path, furnished(4, column(wording))) == "marked"
    assert verdict(tmp_path, column(wording.upper(), width=80)) == "marked"


def test_a_mark_under_a_head_said_nowhere_else(tmp_path: Path) -> None:
    alone = furnished(4, column("Blank page"), head="Appendix Q")
    assert verdict(tmp_path, alone) == "marked"


def test_the_book_s_own_mark(tmp_path: Path) -> None:
    own = furnished(4, column("For your own thoughts on knots."))
    assert verdict(tmp_path, own) == "printed"
    assert verdict(tmp_path, own, known_marks(["For your own thoughts on knots."])) == "marked"


def test_several_shields_on_one_page(tmp_path: Path) -> None:
    shields = "BLANK PAGE<br>Do not write on this page.<br>Turn over."
    assert verdict(tmp_path, furnished(4, column(shields))) == "marked"


@pytest.mark.parametrize(
    "said",
    [
        "The stamp read: “This page is intentionally left blank.”",
        "This page is intentionally left blank. So is the next, for reasons given below.",
        "There is no blank page.",
    ],
)
def test_a_page_that_quotes_a_mark_is_printed(tmp_path: Path, said: str) -> None:
    assert verdict(tmp_path, furnished(4, column(said))) == "printed"


def test_the_last_line_of_a_chapter_under_a_running_head_is_printed(tmp_path: Path) -> None:
    assert verdict(tmp_path, furnished(4, words(25, "and so they all went home."))) == "printed"


def test_a_dual_folio_marks_the_page_behind_it(tmp_path: Path) -> None:
    # MIL-STD-38784A, 4.5.3; the numeric form from memory.
    pages = [
        furnished(1, text),
        words(188, "12/(13 blank)", 8, left=60),
        nothing,
        text,
        nothing,
        text,
    ]
    found = read_verdicts(drawn(tmp_path / "book.pdf", *pages), known_marks()).verdicts
    assert [page.verdict for page in found][2:5] == ["marked", "printed", "blank"]
