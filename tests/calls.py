"""How much a piece of work does, counted instead of timed: the same on every machine."""

from __future__ import annotations

import sys
from collections.abc import Callable


def calls_of(work: Callable[[], object]) -> int:
    """The functions called while the work is done, those in C among them."""
    number = 0

    def seen(_frame: object, event: str, _argument: object) -> None:
        nonlocal number
        number += event in ("call", "c_call")

    before = sys.getprofile()
    sys.setprofile(seen)
    try:
        work()
    finally:
        sys.setprofile(before)
    return number
