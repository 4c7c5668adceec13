"""Which drafts to try next, to find the least disliked settings that reach an extent."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from fitter.trade.tighten.bounds import MOST_PAGES, Bounds
from fitter.trade.tighten.forecast import Extent, Forecast
from fitter.trade.tighten.settings import Combination, Setting, alone, combinations, defaults

MOST_DRAFTS = 20
SLACK = 0.08  # pages by which a chapter may come out longer or shorter than foretold
SLACKS = (0.0, 0.02, 0.04, 0.06, SLACK)


@dataclass(frozen=True)
class Search:
    """The state of a search: what was measured, and None for a draft that failed.

    `reaches` judges a number of text pages; a measured draft carries its own verdict. The settings
    at the places `idle` change nothing, and stay at their defaults.
    """

    settings: Sequence[Setting]
    known: Mapping[Combination, Extent | None]
    reaches: Callable[[int], bool]
    idle: frozenset[int] = frozenset()

    @property
    def best(self) -> Combination | None:
        """The least disliked combination measured that reaches the extent."""
        return next(iter(self.winners), None)

    @cached_property
    def winners(self) -> list[Combination]:
        """All measured that reach it, the least disliked first."""
        return [each for each in self._ordered if each in self.measured and self._won(each)]

    @property
    def nearest(self) -> Combination | None:
        """The measured combination whose pages come nearest to the extent."""
        measured = [each for each in self._ordered if each in self.measured]
        return min(measured, key=self._short_of, default=None)

    @property
    def cheaper(self) -> tuple[int, int, int]:
        """Of those less disliked than the best: how many built, ruled out by bounds, foretold."""
        cheaper = list(self._cheaper())
        built = sum(each in self.known for each in cheaper)
        ruled_out = sum(each not in self.known and self._ruled_out(each) for each in cheaper)
        return built, ruled_out, len(cheaper) - built - ruled_out

    @property
    def one_way(self) -> bool:
        """Whether the drafts bore out that each setting works one way: shorter only, or longer."""
        return self._bounds.one_way

    @cached_property
    def measured(self) -> dict[Combination, Extent]:
        """The drafts that did not fail."""
        return {each: extent for each, extent in self.known.items() if extent}

    def next_drafts(self, at_once: int, most: int = MOST_DRAFTS) -> list[Combination]:
        """What to build next; nothing when the search is over or `most` drafts are spent."""
        left = min(at_once, most - len(self.known))
        wanted = dict.fromkeys(each for each in self._wanted() if each not in self.known)
        return list(wanted)[: max(0, left)]

    def _wanted(self) -> Iterator[Combination]:
        start = defaults(self.settings)
        if start not in self.known:
            yield start
        elif probes := [each for each in self._probes() if each not in self.known]:
            yield from probes
        else:
            yield from self._promising()

    def _probes(self) -> Iterator[Combination]:
        """Each setting alone at its ends; words stand in no order, so each of them is tried."""
        for i, setting in enumerate(self.settings):
            usable = [at for at in range(len(setting.values)) if not self._fails(i, at)]
            for position in usable if setting.words else (usable[0], usable[-1]):
                yield alone(defaults(self.settings), i, position)

    def _promising(self) -> Iterator[Combination]:
        """The cheapest foretold to reach the extent, then what may reach it and is cheaper still.

        Before giving up, the shortest and the longest.
        """
        unknown = [each for each in self._cheaper() if each not in self.known]
        yield from (each for each in unknown if self._distance(each) == 0)
        doubtful = [each for each in unknown if self._distance(each) <= SLACK]
        yield from sorted(doubtful, key=self._distance)
        if self.best is None:
            yield min(self._ordered, key=self._forecast.pages)
            yield max(self._ordered, key=self._forecast.pages)

    def _cheaper(self) -> Iterator[Combination]:
        for each in self._ordered:
            if each == self.best:
                return
            yield each

    def _won(self, combination: Combination) -> bool:
        return self.measured[combination].reached

    def _short_of(self, combination: Combination) -> int:
        pages = self.measured[combination].pages
        away = (n for n in range(2 * pages) if self.reaches(pages - n) or self.reaches(pages + n))
        return next(away, 2 * pages)

    def _distance(self, combination: Combination) -> float:
        """How much longer or shorter each chapter must come out for the extent to be reached."""
        if combination not in self._distances:
            found = (slack for slack in SLACKS if self._reached_with(combination, slack))
            self._distances[combination] = next(found, 1.0)
        return self._distances[combination]

    def _reached_with(self, combination: Combination, slack: float) -> bool:
        low, high = self._bounds.between(combination)
        pages = (self._forecast.pages(combination, signed) for signed in (-slack, slack))
        return any(self.reaches(min(high, max(low, each))) for each in pages)

    def _ruled_out(self, combination: Combination) -> bool:
        low, high = self._bounds.between(combination)
        return high < MOST_PAGES and not any(map(self.reaches, range(low, high + 1)))

    def _fails(self, index: int, position: int) -> bool:
        return self.known.get(alone(defaults(self.settings), index, position), True) is None

    @cached_property
    def _ordered(self) -> list[Combination]:
        every = combinations(self.settings)
        failed = [
            (i, position)
            for i, setting in enumerate(self.settings)
            for position in range(len(setting.values))
            if self._fails(i, position)
        ]
        start = defaults(self.settings)
        return [
            each
            for each in every
            if all(each[i] == start[i] for i in self.idle)
            and not any(each[i] == at for i, at in failed)
        ]

    @cached_property
    def _distances(self) -> dict[Combination, float]:
        return {}

    @cached_property
    def _bounds(self) -> Bounds:
        return Bounds(self.settings, self.measured)

    @cached_property
    def _forecast(self) -> Forecast:
        return Forecast(self.settings, self.measured)
