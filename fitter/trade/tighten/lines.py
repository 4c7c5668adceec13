"""Lines of type as they stand on a page."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """Base line, ends and type size in points of 1/72 inch, measured from the page's top left."""

    base: float
    left: float
    right: float
    size: float
    text: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """The lines of one page from top to bottom; `empty` when nothing at all is drawn on it."""

    lines: tuple[Line, ...]
    empty: bool = False
