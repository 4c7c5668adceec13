"""A small printed book for the tests: pages filled line by line, as a typesetter would."""

from __future__ import annotations

import random
from collections.abc import Sequence

from fitter.trade.printing.fingerprint import BookPrint, PagePrint, print_of
from fitter.trade.size import Size

WORDS_IN_LINE, LINES_ON_PAGE = 10, 30
TRIM = Size(129, 198)


def chapter(seed: int, words: int) -> list[str]:
    """Words of a chapter, the same for the same seed."""
    dice = random.Random(seed)
    return ["".join(dice.choices("aeioubdklmnrst", k=dice.randint(2, 9))) for _ in range(words)]


def set_in_type(chapters: Sequence[Sequence[str]], trim: Size = TRIM) -> BookPrint:
    """Each chapter begins a page; lines and pages are filled one after the other."""
    return BookPrint(trim, tuple(page for words in chapters for page in _pages(words)))


def _pages(words: Sequence[str]) -> list[PagePrint]:
    lines = [" ".join(words[i : i + WORDS_IN_LINE]) for i in range(0, len(words), WORDS_IN_LINE)]
    return [print_of(lines[i : i + LINES_ON_PAGE]) for i in range(0, len(lines), LINES_ON_PAGE)]
