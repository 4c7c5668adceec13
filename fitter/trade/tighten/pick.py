"""Which chapters to shorten, and how: what is seen least is chosen first."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby, product

from fitter.trade.tighten.stretches import Stretch
from fitter.trade.tighten.text import Paragraph

Cost = tuple[int, int, float]


@dataclass(frozen=True, slots=True)
class Offer:
    """One way for a chapter to end a page earlier: so many paragraphs of it lose a line.

    `squeezed` has the paragraphs that can, the least visible first; `long_pages` counts the pages
    that run a line longer besides, 0 when none does.
    """

    chapter: int
    lines: int
    squeezed: tuple[Paragraph, ...] = ()
    long_pages: int = 0

    @property
    def possible(self) -> bool:
        """Whether the chapter has what it takes."""
        return self.lines <= len(self.squeezed) and (self.lines > 0 or self.long_pages > 0)

    @property
    def chosen(self) -> tuple[Paragraph, ...]:
        """The paragraphs it takes."""
        return self.squeezed[: self.lines]

    @property
    def cost(self) -> Cost:
        """Pages that run long, paragraphs, and how much closer these are set together."""
        return self.long_pages, len(self.chosen), sum(map(squeeze, self.chosen))


Way = tuple[Cost, tuple[Offer, ...]]
Ways = dict[int, Way]
NO_WAY: Way = ((0, 0, 0.0), ())


def squeeze(paragraph: Paragraph) -> float:
    """How much closer each line must be set for the last one to go, as a share of the measure.

    The last line's width, spread over the others: the smaller, the less anyone will see.
    """
    return paragraph.fill / (paragraph.lines - 1) if paragraph.lines > 1 else 1.0


def pick(
    offers: Sequence[Offer], parts: Sequence[Stretch], reaches: Callable[[int], bool], pages: int
) -> list[Offer] | None:
    """One offer at most of each chapter, which together bring `pages` to one that reaches the aim.

    The fewest long pages, then the fewest paragraphs, and of these the least squeezed; None when
    no choice of chapters does.
    """
    ways: Ways = {0: NO_WAY}
    for part in parts:
        inside = _ways([each for each in offers if each.possible and each.chapter in part.chapters])
        ways = _joined(ways, {part.wins(fewer): way for fewer, way in _dearest_first(inside)})
    good = [way for won, way in ways.items() if reaches(pages - won)]
    return list(min(good, key=lambda way: way[0])[1]) if good else None


def _ways(offers: Sequence[Offer]) -> Ways:
    """The best way to take so many pages fewer, one for each chapter."""
    ways: Ways = {0: NO_WAY}
    for _, alternatives in groupby(sorted(offers, key=_chapter), key=_chapter):
        best = min(alternatives, key=lambda each: each.cost)
        ways = _joined(ways, {0: NO_WAY, 1: (best.cost, (best,))})
    return ways


def _dearest_first(ways: Ways) -> list[tuple[int, Way]]:
    """Dearest first, so that of ways that win as many pages the cheapest is kept."""
    return sorted(ways.items(), key=lambda item: item[1][0], reverse=True)


def _joined(one: Ways, other: Ways) -> Ways:
    joined: Ways = {}
    for (some, (cost, taken)), (more, (added, others)) in product(one.items(), other.items()):
        way = (_sum(cost, added), (*taken, *others))
        known = joined.get(some + more)
        if known is None or way[0] < known[0]:
            joined[some + more] = way
    return joined


def _chapter(offer: Offer) -> int:
    return offer.chapter


def _sum(one: Cost, other: Cost) -> Cost:
    return one[0] + other[0], one[1] + other[1], one[2] + other[2]


def shrunk(before: Sequence[Paragraph], after: Mapping[int, Paragraph]) -> list[Paragraph]:
    """The paragraphs that a trial set exactly one line shorter, the least visible first."""
    lost = (
        each
        for each in before
        if each.number in after and after[each.number].lines == each.lines - 1
    )
    return sorted(lost, key=lambda each: (squeeze(each), each.number))
