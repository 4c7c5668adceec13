"""Measures as people write them, read with their units and never guessed."""

from __future__ import annotations

import re

from fitter.trade.size import MM_PER_INCH, MM_PER_POINT, Size

MM_PER = {"mm": 1.0, "cm": 10.0, "in": MM_PER_INCH, "pt": MM_PER_POINT}
MOST_PAGES = 999_999
_SIDE = r"(\d+(?:\.\d+)?)"
_TRIM = re.compile(rf"\s*{_SIDE}\s*[x×]\s*{_SIDE}\s*([a-z]+)\s*", re.IGNORECASE)


def read_trim(text: str) -> Size:
    """Read `129 x 198 mm` (or cm, in, pt = 1/72 in). Raises ValueError with a sentence."""
    match = _TRIM.fullmatch(text)
    if not match or match[3].lower() not in MM_PER:
        raise ValueError(f"a trim reads like '129 x 198 mm' (mm, cm, in or pt), not '{text}'")
    factor = MM_PER[match[3].lower()]
    width, height = (round(float(side) * factor, 3) for side in (match[1], match[2]))
    if not (10 <= width <= 2000 and 10 <= height <= 2000):
        raise ValueError(f"a page of {width:g} x {height:g} mm is no book page; check the unit")
    return Size(width, height)


def read_range(value: object) -> tuple[int, int]:
    """Read a page count `4`, or a range `1..8`. Raises ValueError with a sentence."""
    if isinstance(value, int) and not isinstance(value, bool):
        low = high = value
    else:
        match = re.fullmatch(r"\s*(\d{1,6})\s*\.\.\s*(\d{1,6})\s*", str(value))
        if not match:
            raise ValueError(f"a number of pages reads like 4 or 1..8, not '{value}'")
        low, high = int(match[1]), int(match[2])
    if not 1 <= low <= high <= MOST_PAGES:
        raise ValueError(
            "a range of pages goes upwards from 1, like 1..8, and ends at "
            f"{MOST_PAGES:,} at most; it is not '{str(value)[:20]}'"
        )
    return low, high
