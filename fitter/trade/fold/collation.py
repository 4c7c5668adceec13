"""The collation formula: every gathering by its letter and its leaves, for the binder."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

ALPHABET = "ABCDEFGHIKLMNOPQRSTVXYZ"


def letter(number: int) -> str:
    """The signature of gathering `number` (from 0): A to Z without J, U and W, then 2A, 2B ...

    Source for the 23 letters: D. Hinchen, "Considering Collation: Decoding the Formula (2)".
    """
    times, place = divmod(number, len(ALPHABET))
    return (str(times + 1) if times else "") + ALPHABET[place]


def collation(gatherings: Sequence[int]) -> str:
    """`A4 B-O8`: runs of like gatherings, each with its leaves; single leaves are only counted."""
    if all(pages == 2 for pages in gatherings):
        return f"{len(gatherings)} single leaves"
    numbered = list(enumerate(gatherings))
    runs = groupby(numbered, key=lambda pair: (pair[1], pair[0] // len(ALPHABET)))
    return " ".join(_run([n for n, _ in run], pages) for (pages, _), run in runs)


def _run(numbers: list[int], pages: int) -> str:
    first, last = letter(numbers[0]), letter(numbers[-1])
    return f"{first}{pages // 2}" if first == last else f"{first}-{last}{pages // 2}"
