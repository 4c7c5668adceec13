"""Work of our own that is put off until an outside program keeps us waiting anyway."""

from __future__ import annotations

from collections.abc import Callable

_put_off: list[Callable[[], object]] = []


def put_off(work: Callable[[], object]) -> None:
    """Have work done at the next wait; it may be done never, so nothing may depend on it."""
    _put_off.append(work)


def use_the_wait() -> None:
    """Do what was put off: called when a program has just been started."""
    while _put_off:
        _put_off.pop()()
