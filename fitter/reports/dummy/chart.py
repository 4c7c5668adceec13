"""The staircase drawn: extent against text pages, in the units of its drawing."""

from __future__ import annotations

from dataclasses import dataclass

from fitter.trade.fold.staircase import Staircase
from fitter.trade.words import count

WIDTH, HEIGHT = 300, 262
LEFT, RIGHT, TOP, BOTTOM = 36, 290, 24, 220
MOST_TICKS = 5


@dataclass(frozen=True, slots=True)
class Tick:
    """A number on an axis, and where it stands along it."""

    at: float
    text: str


@dataclass(frozen=True, slots=True)
class Chart:
    """Paths and places; `left_over` is the height between the book and an even working."""

    across: tuple[Tick, ...]
    up: tuple[Tick, ...]
    stairs: str
    even: str
    here_x: float
    here_y: float
    left_over: float
    width: int = WIDTH
    height: int = HEIGHT
    left: int = LEFT
    right: int = RIGHT
    top: int = TOP
    bottom: int = BOTTOM

    @property
    def label_anchor(self) -> str:
        """On which side of the point the words stand."""
        return "end" if self.here_x > (LEFT + RIGHT) / 2 else "start"

    @property
    def label_x(self) -> float:
        """Where the words stand, across."""
        return self.here_x - 9 if self.label_anchor == "end" else self.here_x - 4

    @property
    def label_y(self) -> float:
        """Where the words stand, down: clear of the stair."""
        return self.here_y - 9


def draw_chart(stairs: Staircase) -> Chart:
    """Draw the staircase; both axes have one scale, so the dotted line is an even working."""
    first, last = stairs.steps[0].first - 1, stairs.steps[-1].last
    low, high = first, max(step.extent for step in stairs.steps)

    def x(pages: float) -> float:
        return round(LEFT + (pages - first) / (last - first) * (RIGHT - LEFT), 1)

    def y(extent: float) -> float:
        return round(BOTTOM - (extent - low) / (high - low) * (BOTTOM - TOP), 1)

    path = [f"M{x(first)} {y(stairs.steps[0].extent)}"]
    for step in stairs.steps:
        path.append(f"V{y(step.extent)}H{x(step.last)}")
    whole = stairs.steps[:-1] or stairs.steps  # the last step goes on beyond the drawing
    ends = _thinned([step.last for step in whole])
    extents = _thinned(sorted({step.extent for step in stairs.steps}))
    return Chart(
        across=tuple(Tick(x(pages), str(pages)) for pages in ends),
        up=tuple(Tick(y(extent), str(extent)) for extent in extents),
        stairs="".join(path),
        even=f"M{x(first)} {y(first)}L{x(last)} {y(last)}",
        here_x=x(stairs.text_pages),
        here_y=y(stairs.extent),
        left_over=round(y(stairs.text_pages) - y(stairs.extent), 1),
    )


def chart_in_words(stairs: Staircase) -> str:
    """What the drawing shows, for those who do not see it."""
    here, left = stairs.here, stairs.extent - stairs.text_pages
    over = f"{left} left over" if left else "none left over"
    return (
        f"{count(stairs.text_pages, 'text page makes', 'text pages make')} "
        f"an extent of {stairs.extent}, {over}. "
        f"From {here.first} to {here.last} text pages the extent stays the same. "
        "On the dotted line nothing is left over."
    )


def _thinned(numbers: list[int]) -> list[int]:
    return numbers[:: -(-len(numbers) // MOST_TICKS)]
