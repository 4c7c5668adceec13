"""The size of a page, and the units it is said in."""

from __future__ import annotations

from dataclasses import dataclass

MM_PER_INCH = 25.4
MM_PER_POINT = MM_PER_INCH / 72


@dataclass(frozen=True, slots=True)
class Size:
    """The size of a trimmed page in mm."""

    width_mm: float
    height_mm: float

    def __str__(self) -> str:
        return f"{self.width_mm:g} × {self.height_mm:g} mm"
