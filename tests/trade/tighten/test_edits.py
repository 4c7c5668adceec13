"""Characters to cut or to add for a line."""

from __future__ import annotations

from fitter.trade.tighten.edits import character_width, edits
from tests.trade.texts import chapter, paragraph, text


def test_the_last_line_must_go_with_the_space_before_it() -> None:
    one = chapter(1, 3)
    whole = [
        paragraph(1, page=1, fill=0.25, ending="fifteen letters"),
        paragraph(2, page=2, fill=0.1, ending="six."),
        paragraph(3, page=2, lines=1, ending="one line only"),
        paragraph(4, page=9, ending="in another chapter"),
    ]
    book = text(one, chapter(5, 9), paragraphs=whole)
    listed = edits(book, one)
    assert [(each.paragraph.number, each.cut) for each in listed] == [(2, 5), (1, 16)]


def test_what_the_last_line_lacks_must_come_and_a_character_more() -> None:
    # 300 points less a quarter filled by 15 characters of 5 points: 225 / 5 = 45 characters fill
    # the line, 36 points more are squeezed in, a space and one more character begin the next.
    book = text(chapter(1, 3), paragraphs=[paragraph(1, fill=0.25, ending="fifteen letters")])
    assert edits(book, book.chapters[0])[0].add == 53 + 2


def test_the_width_of_a_character_comes_from_lines_long_enough_to_tell() -> None:
    whole = [
        paragraph(1, fill=0.5, ending="x" * 30),
        paragraph(2, fill=0.9, ending="short"),
        paragraph(3, fill=0.5, ending="x" * 20),
    ]
    assert character_width(text(paragraphs=whole)) == 300 / 50
