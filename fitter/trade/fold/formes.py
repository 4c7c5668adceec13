"""Which pages lie on the outer and on the inner forme of each sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import repeat

CAUTION = "by the usual right-angle fold; ask the printer for the imposition that will be used"


@dataclass(frozen=True, slots=True)
class Sheet:
    """One printed sheet: the sheet positions of the pages on either side, in reading order."""

    outer: tuple[int, ...]
    inner: tuple[int, ...]


def formes(gatherings: Sequence[int], nested: Sequence[int] = ()) -> list[list[Sheet]]:
    """The sheets of every gathering, pages counted from 1 through the book.

    A gathering is one sheet folded, unless it is `nested` from these (saddle), in pages each,
    outermost first.
    """
    found, first = [], 1
    for pages in gatherings:
        found.append(quired(first, pages, nested or pages))
        first += pages
    return found


def quired(first: int, pages: int, folds_into: int | Sequence[int]) -> list[Sheet]:
    """A gathering of `pages` from `first` on, nested from sheets of `folds_into` pages each.

    Every sheet takes half its pages from the front of what is left and half from the end; paired
    pages add up to one more than the pages of the gathering. A last sheet that would be too large
    is a smaller one. Source: Cowie's Printer's Pocket-Book and Manual, p. 31.
    """
    rest = list(range(first, first + pages))
    sizes = repeat(folds_into) if isinstance(folds_into, int) else iter(folds_into)
    sheets = []
    while rest:
        half = min(next(sizes), len(rest)) // 2
        sheets.append(_folded([*rest[:half], *rest[-half:]]))
        rest = rest[half:-half]
    return sheets


def _folded(pages: list[int]) -> Sheet:
    """One sheet: the outer forme has the pages whose place by four leaves 0 or 1 (from memory).

    For four pages: S. J. Vaughn, Printing and Bookbinding for Schools, Fig. 25.
    """
    outer = tuple(page for place, page in enumerate(pages, 1) if place % 4 in (0, 1))
    return Sheet(outer, tuple(page for page in pages if page not in outer))
