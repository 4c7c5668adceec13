"""Furniture: running head, foot, folio and their rules, learned from what repeats in the book."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import astuple, dataclass

from fitter.trade.page import Box, Line, Page

OUTER = 0.22  # furniture stands in the outer parts of the page's height, head or foot
MARGIN = 0.12  # where nothing could be learned, a folio is believed only in the margin
SAME_PLACE_MM = 1.2
RULE_AT_MOST_MM = 1.0
RULE_NEAR_MM = 6.0
SEEN_AT_LEAST = 2  # other pages with the same words at the same height
SAME_SIZE_MM = 0.6  # height of the type
BAND_AT_LEAST = 6  # pages with a line at that height
REPEATED_IN_BAND = 0.8

_ROMAN = r"(?=[clxvi])c?(?:xc|xl|l?x{0,3})(?:ix|iv|v?i{0,3})"
_NUMBER = rf"(?:[a-z]?\W?\d+(?:\W\d+)?|{_ROMAN})"
_FOLIO = re.compile(
    rf"\W*(?:(?:page|seite|p|s)\W*)?{_NUMBER}(?:\s*(?:/|of|von|de)\s*{_NUMBER})?\W*",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Furniture:
    """What repeats at the head and foot of the pages it was learned from."""

    lines: Mapping[int, list[tuple[int, str, Box]]]  # by height in whole mm: page, words, place
    ink: tuple[tuple[int, Box], ...]

    def without(self, page: Page) -> tuple[tuple[Line, ...], tuple[Box, ...]]:
        """The lines and the ink of a page that are no furniture."""
        held = [line for line in page.lines if self._is_furniture(line, page)]
        ink = tuple(box for box in page.ink if not self._goes_with(box, held, page))
        return tuple(line for line in page.lines if line not in held), ink

    def _is_furniture(self, line: Line, page: Page) -> bool:
        if not in_outer(line.box, page, OUTER):
            return False
        there = self._at_height_of(line.box, page.page)
        if there.count(_pattern(line.text)) >= SEEN_AT_LEAST:
            return True
        if is_folio(line.text) and in_outer(line.box, page, MARGIN):
            return True
        return _is_band(there)

    def _at_height_of(self, box: Box, page: int) -> list[str]:
        """The words that stand at the same height on other pages."""
        near = round(box.middle)
        return [
            words
            for height in range(near - 2, near + 3)
            for number, words, other in self.lines.get(height, ())
            if number != page and _same_height(box, other) and _same_type(box, other)
        ]

    def _goes_with(self, box: Box, held: list[Line], page: Page) -> bool:
        if not in_outer(box, page, OUTER):
            return False
        if is_rule(box) and any(_near(box, line.box) for line in held):
            return True
        same = {number for number, other in self.ink if _same_box(box, other)}
        return len(same - {page.page}) >= SEEN_AT_LEAST


def learn(pages: Iterable[Page]) -> Furniture:
    """Collect what stands at the head and foot of the given pages."""
    lines: dict[int, list[tuple[int, str, Box]]] = defaultdict(list)
    ink: list[tuple[int, Box]] = []
    for page in pages:
        for line in page.lines:
            if in_outer(line.box, page, OUTER):
                entry = (page.page, _pattern(line.text), line.box)
                lines[round(line.box.middle)].append(entry)
        ink.extend((page.page, box) for box in page.ink if in_outer(box, page, OUTER))
    return Furniture(lines, tuple(ink))


def is_folio(text: str) -> bool:
    """Whether a line is a page number and nothing else: 12, xii, – 12 –, A-3, Page 3 of 12."""
    return _FOLIO.fullmatch(text.strip()) is not None


def is_rule(box: Box) -> bool:
    """Whether ink is as thin as the rule under a running head."""
    return box.height <= RULE_AT_MOST_MM


def in_outer(box: Box, page: Page, share: float) -> bool:
    """Whether a box lies in that share of the page's height at the head or at the foot."""
    height = page.size.height_mm
    return box.bottom <= height * share or box.top >= height * (1 - share)


def _pattern(text: str) -> str:
    """The words with every number made alike, arabic or roman.

    >>> _pattern("Chapter 3   The Harbour 47")
    'chapter # the harbour #'
    """
    words = text.casefold().split()
    return " ".join("#" if is_folio(word) else re.sub(r"\d+", "#", word) for word in words)


def _is_band(patterns: list[str]) -> bool:
    """Whether a height belongs to running heads: nearly all that stands there is said again.

    One and the same line on many pages does not do: it may be the title of those pages.
    """
    again = [times for times in Counter(patterns).values() if times > 1]
    enough = len(patterns) >= BAND_AT_LEAST and len(again) > 1
    return enough and sum(again) >= REPEATED_IN_BAND * len(patterns)


def _same_height(one: Box, other: Box) -> bool:
    return abs(one.middle - other.middle) <= SAME_PLACE_MM


def _same_type(one: Box, other: Box) -> bool:
    return abs(one.height - other.height) <= SAME_SIZE_MM


def _same_box(one: Box, other: Box) -> bool:
    return all(
        abs(a - b) <= SAME_PLACE_MM for a, b in zip(astuple(one), astuple(other), strict=True)
    )


def _near(rule: Box, line: Box) -> bool:
    return line.top - RULE_NEAR_MM <= rule.middle <= line.bottom + RULE_NEAR_MM
