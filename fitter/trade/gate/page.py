"""What the eye meets on one page inside the trim; lengths in mm from the trim's top left corner."""

from __future__ import annotations

from dataclasses import dataclass

from fitter.trade.size import Size

OUTER = 0.22  # furniture stands in the outer parts of the page's height, head or foot
SAME_PLACE_MM = 1.2  # on several pages


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on the trimmed page, in mm from its top left corner."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def middle(self) -> float:
        """The height of its middle below the head of the page."""
        return (self.top + self.bottom) / 2

    @property
    def height(self) -> float:
        """How tall it is."""
        return self.bottom - self.top

    def wider(self, by: float) -> Box:
        """The box with so many mm more on every side."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)


@dataclass(frozen=True, slots=True)
class Line:
    """Visible words on one line."""

    text: str
    box: Box


@dataclass(frozen=True, slots=True)
class Page:
    """One page: `full` has so much on it that it is printed matter, whatever it says.

    A page that is not full shows its visible `lines` and its other visible `ink`.
    """

    page: int
    folio: str | None
    size: Size
    full: bool = False
    lines: tuple[Line, ...] = ()
    ink: tuple[Box, ...] = ()


def at_head(box: Box, page: Page, share: float) -> bool:
    """Whether a box lies in that share of the page's height at the head."""
    return box.bottom <= page.size.height_mm * share


def at_foot(box: Box, page: Page, share: float) -> bool:
    """Whether a box lies in that share of the page's height at the foot."""
    return box.top >= page.size.height_mm * (1 - share)


def in_outer(box: Box, page: Page, share: float) -> bool:
    """Whether a box lies in that share of the page's height at the head or at the foot."""
    return at_head(box, page, share) or at_foot(box, page, share)
