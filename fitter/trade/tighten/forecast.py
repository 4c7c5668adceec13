"""How many pages a combination of settings will take, foretold from the drafts there are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import ceil, exp, log

from fitter.trade.tighten.settings import Combination, Setting, alone, defaults
from fitter.trade.tighten.stretches import Stretch, stretches
from fitter.trade.tighten.text import Text


@dataclass(frozen=True, slots=True)
class Extent:
    """What a draft measured: its pages, and the length of each chapter in pages and parts of one.

    `stretches` are those before a forced recto, where blank versos come and go; `reached` tells
    whether the book comes out at the extent that is wanted.
    """

    pages: int
    lengths: tuple[float, ...]
    stretches: tuple[Stretch, ...] = ()
    reached: bool = False


def extent_of(text: Text, reached: bool) -> Extent:
    """The pages and lengths of a draft."""
    lengths = tuple(
        chapter.pages - 1 + min(1.0, chapter.lines / chapter.full) for chapter in text.chapters
    )
    followed = tuple(each for each in stretches(text) if each.followed)
    return Extent(text.pages, lengths, followed, reached)


@dataclass(frozen=True)
class Forecast:
    """Foretells page counts: each setting stretches each chapter by a factor of its own.

    The factors come from drafts that differ from the default in one setting; between two measured
    values of numbers they are taken to grow evenly.
    """

    settings: Sequence[Setting]
    known: Mapping[Combination, Extent]

    def pages(self, combination: Combination, slack: float = 0.0) -> int:
        """The pages it will take, each chapter longer by `slack` pages than foretold."""
        start = self.known[self.nearest(combination)]
        fewer = [
            _whole_pages(before) - _whole_pages(after + slack)
            for before, after in zip(start.lengths, self._lengths(combination), strict=True)
        ]
        blank_versos = 0
        for stretch in start.stretches:
            inside = sum(fewer[place] for place in stretch.chapters)
            blank_versos += inside - stretch.wins(inside)
        return start.pages - sum(fewer) + blank_versos

    def nearest(self, combination: Combination) -> Combination:
        """The measured combination with the fewest steps to it; of several the first measured."""
        return min(self.known, key=lambda each: _steps(each, combination))

    def _lengths(self, combination: Combination) -> list[float]:
        if combination not in self._made:
            near = self.nearest(combination)
            self._made[combination] = [
                length * exp(self._stretch(i, near, combination))
                for i, length in enumerate(self.known[near].lengths)
            ]
        return self._made[combination]

    @cached_property
    def _made(self) -> dict[Combination, list[float]]:
        return {}

    def _stretch(self, chapter: int, start: Combination, end: Combination) -> float:
        return sum(
            self._effect(chapter, i, end[i]) - self._effect(chapter, i, start[i])
            for i in range(len(self.settings))
            if start[i] != end[i]
        )

    def _effect(self, chapter: int, setting: int, position: int) -> float:
        """The logarithm of how much one value of one setting stretches a chapter."""
        measured = self._measured[setting]
        below = max((at for at in measured if at <= position), default=min(measured))
        above = min((at for at in measured if at >= position), default=max(measured))
        low, high = measured[below][chapter], measured[above][chapter]
        if below == above:
            return low
        share = (position - below) / (above - below)
        return low + share * (high - low)

    @cached_property
    def _measured(self) -> list[dict[int, list[float]]]:
        """For each setting, its values measured alone, with their effect on each chapter."""
        start = defaults(self.settings)
        return [
            {
                position: [
                    log(max(length, 0.01) / max(base, 0.01))
                    for length, base in zip(
                        self.known[single].lengths, self.known[start].lengths, strict=True
                    )
                ]
                for position in range(len(setting.values))
                if (single := alone(start, i, position)) in self.known
            }
            for i, setting in enumerate(self.settings)
        ]


def _whole_pages(length: float) -> int:
    return max(1, ceil(length - 1e-6))


def _steps(one: Combination, other: Combination) -> int:
    return sum(abs(a - b) for a, b in zip(one, other, strict=True))
