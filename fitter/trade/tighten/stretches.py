"""Stretches of a book between openings that must be rectos: a page won in one may stay there."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from fitter.trade.tighten.text import Text


@dataclass(frozen=True, slots=True)
class Stretch:
    """Chapters that follow each other without a forced recto, by their places in the text.

    `pages` is what they take without a blank verso at the end; `followed` tells whether something
    that must open on a recto comes next.
    """

    chapters: tuple[int, ...]
    pages: int
    followed: bool

    def wins(self, fewer: int) -> int:
        """The pages the book wins when the stretch takes so many fewer: blank versos come or go."""
        if not self.followed:
            return fewer
        return _whole_leaves(self.pages) - _whole_leaves(self.pages - fewer)


def stretches(text: Text) -> list[Stretch]:
    """All of them in order; every one begins on a recto."""
    openings = sorted(page for page in forced_rectos(text) if 1 < page <= text.pages)
    starts, ends = [1, *openings], [*openings, text.pages + 1]
    places: list[list[int]] = [[] for _ in starts]
    for place, chapter in enumerate(text.chapters):
        places[bisect_right(starts, chapter.first) - 1].append(place)
    return [
        Stretch(tuple(inside), end - start - (1 if end - 1 in text.blank else 0), end in openings)
        for inside, start, end in zip(places, starts, ends, strict=True)
    ]


def stretch_of(found: Sequence[Stretch], chapter: int) -> Stretch:
    """The stretch a chapter stands in, by its place in the text."""
    return next(each for each in found if chapter in each.chapters)


def forced_rectos(text: Text) -> frozenset[int]:
    """The pages that something must open on.

    Where the draft tells of none, the pages show it: chapters begin on right-hand pages, and one
    had to skip a verso for it. One in ten may stand elsewhere: one shown as an example, an
    interlude.
    """
    openings = [each.first for each in text.chapters if each.kind == "chapter"]
    skipped = any(page - 1 in text.blank for page in openings)
    versos = sum(page % 2 == 0 for page in openings)
    if text.rectos or not skipped or versos > len(openings) // 10:
        return text.rectos
    return frozenset(each.first for each in text.chapters if each.first % 2)


def _whole_leaves(pages: int) -> int:
    return pages + pages % 2
