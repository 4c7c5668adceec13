"""Counts and runs of numbers in plain words."""

from __future__ import annotations

from collections.abc import Sequence


def count(number: int, one: str, many: str = "") -> str:
    """`1 page`, `5 pages`; `many` where an s does not make the plural."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def a_page(number: int) -> str:
    """`a 3-page`, `an 8-page`, `an 11-page`: by how the number is said."""
    an = str(number).startswith("8") or number in (11, 18)
    return f"{'an' if an else 'a'} {number}-page"


def ranges(numbers: Sequence[int]) -> str:
    """Numbers as a person lists them: 3, 5–8, 11.

    >>> ranges([3, 5, 6, 7, 8, 11])
    '3, 5–8, 11'
    """
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs)
