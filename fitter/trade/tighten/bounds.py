"""Between which page counts a combination must lie, where each setting works one way only."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import permutations

from fitter.trade.tighten.forecast import Extent
from fitter.trade.tighten.settings import Combination, Setting, alone, defaults

MOST_PAGES = 100_000


@dataclass(frozen=True)
class Bounds:
    """What the measured drafts prove about the others, nothing where they contradict each other."""

    settings: Sequence[Setting]
    measured: Mapping[Combination, Extent]

    def between(self, combination: Combination) -> tuple[int, int]:
        """The fewest and the most pages it can take."""
        if not self.one_way:
            return 1, MOST_PAGES
        shorter = (n.pages for each, n in self.measured.items() if self._ahead(each, combination))
        longer = (n.pages for each, n in self.measured.items() if self._ahead(combination, each))
        return max(shorter, default=1), min(longer, default=MOST_PAGES)

    @cached_property
    def one_way(self) -> bool:
        """Whether no draft is longer than one that every setting makes as long or longer."""
        return all(
            self.measured[one].pages <= self.measured[other].pages
            for one, other in permutations(self.measured, 2)
            if self._ahead(one, other)
        )

    def _ahead(self, one: Combination, other: Combination) -> bool:
        """Whether each setting of one goes as far as the other's towards a shorter book."""
        return all(
            a == b or (a - b) * way > 0 for a, b, way in zip(one, other, self._ways, strict=True)
        )

    @cached_property
    def _ways(self) -> tuple[int, ...]:
        """For each setting whether later values shorten (1) or lengthen (-1) the book; else 0."""
        return tuple(map(self._way, range(len(self.settings))))

    def _way(self, index: int) -> int:
        if self.settings[index].words:
            return 0
        lengths = {
            position: sum(self.measured[single].lengths)
            for position in range(len(self.settings[index].values))
            if (single := alone(defaults(self.settings), index, position)) in self.measured
        }
        first, last = lengths[min(lengths)], lengths[max(lengths)]
        return (first > last) - (first < last)
