"""Which chapters to shorten, and how: what is seen least is chosen first."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from fitter.trade.tighten.text import Paragraph

Cost = tuple[int, int, float]


@dataclass(frozen=True, slots=True)
class Offer:
    """One way for a chapter to win pages: so many paragraphs of it lose a line.

    `squeezed` has the paragraphs that can, the least visible first; `long_pages` counts the pages
    that run a line longer besides, 0 when none does.
    """

    chapter: int
    wins: int
    lines: int = 0
    squeezed: tuple[Paragraph, ...] = ()
    long_pages: int = 0

    @property
    def possible(self) -> bool:
        """Whether it wins anything, and the chapter has what it takes."""
        some = self.lines > 0 or self.long_pages > 0
        return self.wins > 0 and some and self.lines <= len(self.squeezed)

    @property
    def chosen(self) -> tuple[Paragraph, ...]:
        """The paragraphs it takes."""
        return self.squeezed[: self.lines]

    @property
    def cost(self) -> Cost:
        """Pages that run long, paragraphs, and how much closer these are set together."""
        return self.long_pages, len(self.chosen), sum(map(squeeze, self.chosen))


def squeeze(paragraph: Paragraph) -> float:
    """How much closer each line must be set for the last one to go, as a share of the measure.

    The last line's width, spread over the others: the smaller, the less anyone will see.
    """
    return paragraph.fill / (paragraph.lines - 1) if paragraph.lines > 1 else 1.0


def pick(offers: Sequence[Offer], reaches: Callable[[int], bool], pages: int) -> list[Offer] | None:
    """One offer at most of each chapter, which together bring `pages` to one that reaches the aim.

    The fewest long pages, then the fewest paragraphs, and of these the least squeezed; None when
    no choice of chapters does.
    """
    ways: dict[int, tuple[Cost, tuple[Offer, ...]]] = {0: ((0, 0, 0.0), ())}
    possible = sorted((each for each in offers if each.possible), key=lambda each: each.chapter)
    for _, alternatives in groupby(possible, key=lambda each: each.chapter):
        further = dict(ways)
        for offer in alternatives:
            for won, (cost, taken) in ways.items():
                total = _sum(cost, offer.cost)
                known = further.get(won + offer.wins)
                if known is None or total < known[0]:
                    further[won + offer.wins] = (total, (*taken, offer))
        ways = further
    good = [way for won, way in ways.items() if reaches(pages - won)]
    return list(min(good, key=lambda way: way[0])[1]) if good else None


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
