"""Where pages can be won: the last pages of chapters and the last lines of paragraphs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fitter.trade.tighten.stretches import forced_rectos, stretch_of, stretches
from fitter.trade.tighten.text import Chapter, Paragraph, Text

SHORT = 0.2  # of the measure: tightening such a paragraph wins its last line


@dataclass(frozen=True, slots=True)
class Tail:
    """What it takes to end a chapter a page earlier, and the pages the book would win by it.

    `lines` is how many lines of its text must go, None where none of its text can; `proved` tells
    whether drafts showed that so many are enough and one fewer is not.
    """

    chapter: Chapter
    lines: int | None
    wins: int
    proved: bool = False


def short_paragraphs(text: Text, share: float = SHORT) -> Iterator[Paragraph]:
    """Paragraphs of two lines or more whose last line fills less than a share of the measure."""
    return (each for each in text.paragraphs if each.lines > 1 and 0 <= each.fill < share)


def wins(text: Text, index: int) -> int:
    """The pages won when a chapter ends a page earlier, and no other does.

    Before an opening on a recto two, when a blank verso goes with its last page, or none, when one
    takes its place. A chapter of one page wins nothing.
    """
    if text.chapters[index].pages < 2:
        return 0
    return stretch_of(stretches(text), index).wins(1)


def lines_on_page(base: float, top: float, leading: float) -> int:
    """How many lines of a page come down to a base line, white space counted as lines."""
    return max(1, round((base - top) / leading + 0.2))


def guessed(text: Text) -> list[Tail]:
    """What each chapter is over by the lines on its last page alone, nothing proved."""
    return [
        Tail(chapter, chapter.lines if chapter.pages > 1 else None, wins(text, i))
        for i, chapter in enumerate(text.chapters)
    ]


@dataclass(frozen=True, slots=True)
class Prelims:
    """The pages before the main text, those of them that are blank, and what giving up wins."""

    pages: int
    blank: int
    wins: int


def prelims(text: Text) -> Prelims:
    """The prelims, which give up their blank versos first.

    Source: New Hart's Rules, ch. 1 sect. 1.8: the usual recourse is to reduce the number of pages
    in the prelims, which are not part of the main sequence of pages.
    """
    main = next((each.first for each in text.chapters if each.matter in ("main", "")), 1)
    pages = main - 1
    blank = sum(1 for page in text.blank if page < main)
    printed = pages - blank
    taken = printed + printed % 2 if main in forced_rectos(text) else printed
    return Prelims(pages, blank, max(0, pages - taken))


def order_of_remedies(tails: list[Tail]) -> list[Tail]:
    """Cheapest first: end matter before main text, fewer lines before more, what wins none last.

    Source for the order: New Hart's Rules, ch. 1 sect. 1.8 (prelims, then end matter; the main
    folios are left alone as long as can be).
    """

    def key(tail: Tail) -> tuple[bool, int, int, int]:
        part = {"front": 0, "back": 1}.get(tail.chapter.matter, 2)
        hopeless = tail.wins < 1 or tail.lines is None
        return hopeless, part, tail.lines or 0, tail.chapter.first

    return sorted(tails, key=key)
