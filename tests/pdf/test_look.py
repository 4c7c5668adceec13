from pathlib import Path

import pymupdf
import pytest

from fitter.pdf.look import look, outer_lines
from fitter.pdf.pages import trim_of
from fitter.trade.gate.page import Box, Line
from tests.drawn import Draw, drawn, furnished, raw, said, together, words

Seen = tuple[tuple[Line, ...], tuple[Box, ...]]


def seen(folder: Path, draw: Draw, **how: float) -> Seen:
    with pymupdf.open(drawn(folder / "book.pdf", draw)) as document:
        return look(document[0], trim_of(document[0]), **how)


def test_words_on_one_line_are_one_line_from_left_to_right(tmp_path: Path) -> None:
    lines, ink = seen(
        tmp_path, together(words(60, "right", left=80), words(60, "left"), words(70, "next"))
    )
    assert [line.text for line in lines] == ["left right", "next"]
    assert ink == ()


def test_places_are_in_mm_from_the_corner_of_the_trim(tmp_path: Path) -> None:
    (line,), _ = seen(tmp_path, words(60, "word"))
    assert line.box.left == pytest.approx(18, abs=0.7)
    assert line.box.bottom == pytest.approx(60.5, abs=1)


def test_only_what_shows_is_told(tmp_path: Path) -> None:
    hidden = raw(said("unseen", "1 g") + said("seen", at=(60, 200)) + "100 100 30 0.5 re f")
    (line,), (rule,) = seen(tmp_path, hidden)
    assert line.text == "seen"
    assert rule.right - rule.left == pytest.approx(10.6, abs=0.6)


def test_head_and_foot_alone(tmp_path: Path) -> None:
    draw = furnished(7, words(90, "in the middle"))
    lines, _ = seen(tmp_path, draw, outer=0.2)
    assert [line.text for line in lines] == ["The Harbour", "7"]
    with pymupdf.open(tmp_path / "book.pdf") as document:
        assert outer_lines(document[0], trim_of(document[0]), 0.2) == lines
