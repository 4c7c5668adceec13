"""Which paragraphs to set a line shorter: the fewest, and of these the least visible."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from fitter.trade.tighten.text import Paragraph

Cost = tuple[int, float]


@dataclass(frozen=True, slots=True)
class Offer:
    """What one chapter offers: pages won when so many of its lines go, and what can go.

    `squeezed` has the paragraphs that can each lose a line, the least visible first.
    """

    chapter: int
    lines: int
    wins: int
    squeezed: tuple[Paragraph, ...]

    @property
    def chosen(self) -> tuple[Paragraph, ...]:
        """The paragraphs it takes; none where there are not enough."""
        return self.squeezed[: self.lines] if len(self.squeezed) >= self.lines else ()

    @property
    def cost(self) -> Cost:
        """How many paragraphs, and how much closer they are set together."""
        return len(self.chosen), sum(map(squeeze, self.chosen))


def squeeze(paragraph: Paragraph) -> float:
    """How much closer each line must be set for the last one to go, as a share of the measure.

    The last line's width, spread over the others: the smaller, the less anyone will see.
    """
    return paragraph.fill / (paragraph.lines - 1) if paragraph.lines > 1 else 1.0


def pick(offers: Sequence[Offer], reaches: Callable[[int], bool], pages: int) -> list[Offer] | None:
    """The chapters that together bring `pages` to a number that reaches the extent.

    The fewest paragraphs, and of these the least squeezed; None when no choice of chapters does.
    """
    ways: dict[int, tuple[Cost, tuple[Offer, ...]]] = {0: ((0, 0.0), ())}
    for offer in offers:
        if not offer.chosen or offer.wins < 1:
            continue
        for won, (cost, taken) in sorted(ways.items(), reverse=True):
            total = (cost[0] + offer.cost[0], cost[1] + offer.cost[1])
            known = ways.get(won + offer.wins)
            if known is None or total < known[0]:
                ways[won + offer.wins] = (total, (*taken, offer))
    good = [way for won, way in ways.items() if reaches(pages - won)]
    return list(min(good, key=lambda way: way[0])[1]) if good else None


def shrunk(before: Sequence[Paragraph], after: Mapping[int, Paragraph]) -> list[Paragraph]:
    """The paragraphs that a trial set exactly one line shorter, the least visible first."""
    lost = (
        each
        for each in before
        if each.number in after and after[each.number].lines == each.lines - 1
    )
    return sorted(lost, key=lambda each: (squeeze(each), each.number))
