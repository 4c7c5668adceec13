"""How many characters must go from a paragraph, or come to it, for it to change by a line."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from fitter.trade.tighten.text import Chapter, Paragraph, Text

# Of the measure: so much the spaces of the last lines give way before another line begins. Measured
# on two settings of one book: without it 3 additions in 5 make a line, with it 98 in 100.
SQUEEZE = 0.12
ENOUGH_TO_MEASURE = 12  # characters: fewer say little about the width of the type


@dataclass(frozen=True, slots=True)
class Edit:
    """Characters, spaces included: `cut` so many and a line is won, `add` so many and one comes."""

    paragraph: Paragraph
    cut: int
    add: int


def edits(text: Text, chapter: Chapter) -> list[Edit]:
    """The paragraphs of a chapter, those that lose a line for the fewest characters first."""
    width = character_width(text)
    found = (each for each in text.paragraphs_in(chapter) if each.lines > 1 and each.ending)
    listed = [_edit(each, width) for each in found if 0 < each.fill <= 1]
    return sorted(listed, key=lambda each: (each.cut, each.paragraph.number))


def character_width(text: Text) -> float:
    """The mean width of a character in points, as the last lines of paragraphs show it."""
    shown = [
        each
        for each in text.paragraphs
        if len(each.ending) >= ENOUGH_TO_MEASURE and 0 < each.fill <= 1 and each.lines > 1
    ]
    characters = sum(len(each.ending) for each in shown)
    return sum(each.last_width for each in shown) / characters if characters else 5.0


def _edit(paragraph: Paragraph, width: float) -> Edit:
    """The last line must go with the space before it; or what it lacks of the measure must come,
    as much again as its spaces give way, and one character more."""
    if len(paragraph.ending) >= ENOUGH_TO_MEASURE:
        width = paragraph.last_width / len(paragraph.ending)
    lacking = (1 + SQUEEZE) * paragraph.measure - paragraph.last_width
    return Edit(paragraph, len(paragraph.ending) + 1, ceil(lacking / width) + 2)
