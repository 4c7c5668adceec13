"""Furniture: running head, foot, folio and their rules, learned from what repeats in the book."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from fitter.trade.gate.block import text_block
from fitter.trade.gate.page import OUTER, SAME_PLACE_MM, Box, Line, Page, in_outer

MARGIN = 0.12  # where nothing could be learned, a folio is believed only in the margin
RULE_AT_MOST_MM = 1.0
RULE_NEAR_MM = 6.0
SEEN_AT_LEAST = 2  # other pages with the same words at the same height
SAME_SIZE_MM = 0.6  # height of the type
BAND_AT_LEAST = 6  # pages with a line at that height
SHARE_OF_BAND = 0.8

_ROMAN = r"(?=[clxvi])c?(?:xc|xl|l?x{0,3})(?:ix|iv|v?i{0,3})"
_NUMBER = rf"(?:[a-z]?\W?\d+(?:\W\d+)?|{_ROMAN})"
_FOLIO = re.compile(
    rf"\W*(?:(?:page|seite|p|s)\W*)?{_NUMBER}(?:\s*(?:/|of|von|de)\s*{_NUMBER})?\W*",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Seen:
    """Something at the head or foot of a page: its words with numbers made alike, or ''."""

    page: int
    words: str
    box: Box


@dataclass(frozen=True, slots=True)
class Furniture:
    """What stands at the head and foot of the pages it was learned from, by height in whole mm.

    The text block begins at `block_top` and ends at `block_foot`, where the pages agree on that:
    there a line is text, even if other pages say the same.
    """

    by_height: Mapping[int, list[Seen]]
    block_top: float | None = None
    block_foot: float | None = None

    def without(self, page: Page) -> tuple[tuple[Line, ...], tuple[Box, ...]]:
        """The lines and the ink of a page that are no furniture."""
        held = [line for line in page.lines if self._is_furniture(line, page)]
        ink = tuple(box for box in page.ink if not self._goes_with(box, held, page))
        return tuple(line for line in page.lines if line not in held), ink

    def _is_furniture(self, line: Line, page: Page) -> bool:
        if not in_outer(line.box, page, OUTER):
            return False
        if is_folio(line.text) and in_outer(line.box, page, MARGIN):
            return True
        if self._in_block(line.box, page):
            return False
        there = [seen.words for seen in self._at(line.box, page) if _same_type(line.box, seen.box)]
        words = _pattern(line.text)
        return there.count(words) >= SEEN_AT_LEAST or _is_band(words, there)

    def _in_block(self, box: Box, page: Page) -> bool:
        if box.middle < page.size.height_mm / 2:
            return self.block_top is not None and box.middle > self.block_top - SAME_PLACE_MM
        return self.block_foot is not None and box.middle < self.block_foot + SAME_PLACE_MM

    def _goes_with(self, box: Box, held: list[Line], page: Page) -> bool:
        if not in_outer(box, page, OUTER):
            return False
        if is_rule(box) and any(_near(box, line.box) for line in held):
            return True
        same = {seen.page for seen in self._at(box, page) if _same_box(box, seen.box)}
        return len(same) >= SEEN_AT_LEAST

    def _at(self, box: Box, page: Page) -> Iterator[Seen]:
        """What stands at the same height on other pages."""
        near = round(box.middle)
        for height in range(near - 2, near + 3):
            for seen in self.by_height.get(height, ()):
                if seen.page != page.page and abs(box.middle - seen.box.middle) <= SAME_PLACE_MM:
                    yield seen


def learn(pages: Iterable[Page]) -> Furniture:
    """Collect what stands at the head and foot of the given pages."""
    pages = list(pages)
    by_height: dict[int, list[Seen]] = defaultdict(list)
    for page in pages:
        things = [(_pattern(line.text), line.box) for line in page.lines]
        for words, box in [*things, *(("", box) for box in page.ink)]:
            if in_outer(box, page, OUTER):
                by_height[round(box.middle)].append(Seen(page.page, words, box))
    return Furniture(by_height, *text_block(pages))


def is_folio(text: str) -> bool:
    """Whether a line is a page number and nothing else: 12, xii, – 12 –, A-3, Page 3 of 12."""
    return _FOLIO.fullmatch(text.strip()) is not None


def is_rule(box: Box) -> bool:
    """Whether ink is as thin as the rule under a running head."""
    return box.height <= RULE_AT_MOST_MM


def _pattern(text: str) -> str:
    """The words with every number made alike, arabic or roman.

    >>> _pattern("Chapter 3   The Harbour 47")
    'chapter # the harbour #'
    """
    words = text.casefold().split()
    return " ".join("#" if is_folio(word) else re.sub(r"\d+", "#", word) for word in words)


def _is_band(words: str, there: list[str]) -> bool:
    """Whether a height belongs to furniture: nearly all that stands there is numbered or repeated.

    One and the same line on many pages does not do: it may be the title of those pages.
    """
    nearly_all = max(BAND_AT_LEAST, SHARE_OF_BAND * len(there))
    if _is_numbered(words):
        return sum(map(_is_numbered, there)) >= nearly_all
    again = [times for times in Counter(there).values() if times > 1]
    return len(again) > 1 and sum(again) >= nearly_all


def _is_numbered(words: str) -> bool:
    """Whether a folio stands at one end of the line."""
    return words.startswith("#") or words.endswith("#")


def _same_type(one: Box, other: Box) -> bool:
    return abs(one.height - other.height) <= SAME_SIZE_MM


def _same_box(one: Box, other: Box) -> bool:
    return (
        abs(one.left - other.left) <= SAME_PLACE_MM
        and abs(one.right - other.right) <= SAME_PLACE_MM
        and abs(one.top - other.top) <= SAME_PLACE_MM
        and abs(one.bottom - other.bottom) <= SAME_PLACE_MM
    )


def _near(rule: Box, line: Box) -> bool:
    return line.top - RULE_NEAR_MM <= rule.middle <= line.bottom + RULE_NEAR_MM
