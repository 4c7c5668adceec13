"""Widows, orphans, short last pages and last lines."""

from __future__ import annotations

from fitter.trade.tighten.blemishes import blemishes, new_blemishes
from tests.trade.texts import chapter, paragraph, text


def test_the_faults_of_setting_with_their_pages() -> None:
    whole = [
        paragraph(1, page=4, lines=5, on_page=1),
        paragraph(2, page=6, lines=5, on_page=4),
        paragraph(3, page=7, lines=2, fill=0.02),
        paragraph(4, page=7, lines=1, on_page=1),
        paragraph(5, page=8, lines=6, on_page=3),
    ]
    book = text(chapter(1, 8, lines=3), chapter(9, 12, lines=5), paragraphs=whole)
    assert [(each.kind, each.page) for each in blemishes(book)] == [
        ("widow", 4),
        ("orphan", 5),
        ("last line shorter than the indent", 7),
        ("short last page", 8),
    ]
    assert [each.kind for each in blemishes(book, fewest=6)].count("short last page") == 2


def test_a_two_line_paragraph_broken_between_its_lines_is_both() -> None:
    broken = text(chapter(1, 8), paragraphs=[paragraph(1, page=4, lines=2, on_page=1)])
    assert {(each.kind, each.page) for each in blemishes(broken)} == {("widow", 4), ("orphan", 3)}


def test_faults_that_were_there_before_are_not_new() -> None:
    before = text(chapter(1, 8), paragraphs=[paragraph(1, page=4, lines=5, on_page=1)])
    moved = text(chapter(1, 7), paragraphs=[paragraph(1, page=3, lines=5, on_page=1)])
    assert new_blemishes(before, moved) == []
    worse = text(chapter(1, 7, lines=2), paragraphs=moved.paragraphs)
    assert [each.kind for each in new_blemishes(before, worse)] == ["short last page"]
