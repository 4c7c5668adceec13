"""Lines of type read from a PDF, beside what poppler reads."""

from __future__ import annotations

from pathlib import Path

import pymupdf
import pytest

from fitter.errors import BadInput
from fitter.pdf import apart
from fitter.pdf.lines import read_lines
from tests.drawn import drawn as drawn_by
from tests.drawn import raw, text
from tests.poppler import lines_by_poppler


@pytest.fixture
def drawn(tmp_path: Path) -> Path:
    """Three pages: lines with a superscript and a wide gap, a rule only, nothing."""
    path = tmp_path / "drawn.pdf"
    with pymupdf.open() as document:
        page = document.new_page(width=300, height=400)
        page.insert_text((40, 60), "the first line of the page", fontsize=10)
        page.insert_text((40, 72), "x", fontsize=10)
        page.insert_text((46, 68.5), "2", fontsize=7)
        page.insert_text((160, 72), "far to the right", fontsize=10)
        page.insert_text((40, 84), "a note below", fontsize=8)
        document.new_page(width=300, height=400).draw_line((20, 20), (200, 20))
        document.new_page(width=300, height=400)
        document.save(path)
    return path


def test_a_line_is_what_stands_on_one_base_line(drawn: Path) -> None:
    first, rule, nothing = read_lines(drawn)
    assert [line.text for line in first.lines] == [
        "the first line of the page", "x2 far to the right", "a note below",
    ]  # fmt: skip
    assert [round(line.base) for line in first.lines] == [60, 72, 84]
    assert [round(line.size) for line in first.lines] == [10, 10, 8]
    assert round(first.lines[1].left) == 40
    assert (rule.lines, rule.empty) == ((), False)
    assert (nothing.lines, nothing.empty) == ((), True)


def test_poppler_counts_the_same_lines(drawn: Path) -> None:
    # Source: poppler's `pdftotext -bbox-layout`, an independent reader.
    ours = [len(sheet.lines) for sheet in read_lines(drawn)]
    assert ours == [len(bases) for bases in lines_by_poppler(drawn)]


def test_a_damaged_page_is_told(tmp_path: Path) -> None:
    path = drawn_by(tmp_path / "book.pdf", text, raw("[" * 200_000))
    with pytest.raises(BadInput, match=r"book\.pdf: the PDF is damaged: "):
        read_lines(path)


def test_a_page_without_end_is_given_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(apart, "SECONDS_A_PAGE", 0.5)
    path = drawn_by(tmp_path / "book.pdf", text, raw("BT /F1 1 Tf (x) Tj ET " * 1_000_000), text)
    with pytest.raises(apart.GivenUp, match=r"book\.pdf: page 2 takes more than 0\.5 seconds"):
        read_lines(path)
