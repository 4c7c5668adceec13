"""Matter that can give way: what leaving it out, or moving it to the cover, would save."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from fitter.trade.fold.gatherings import Folding

ORDER = ("elsewhere", "blank-versos", "prelims", "end-matter")


@dataclass(frozen=True, slots=True)
class Matter:
    """Something that takes `pages` and need not stand where it does.

    `part` is "elsewhere" (it can go to the cover or jacket), "blank-versos", "prelims" or
    "end-matter".
    """

    id: str
    pages: int
    part: str


@dataclass(frozen=True, slots=True)
class Saving:
    """Without `matter` the book folds smaller: `before` and `after`."""

    matter: tuple[Matter, ...]
    before: Folding
    after: Folding

    @property
    def pages(self) -> int:
        """Pages of extent saved."""
        return self.before.extent - self.after.extent


def savings(matter: Iterable[Matter], pages: int, fold: Callable[[int], Folding]) -> list[Saving]:
    """What saves paper: each piece that does so alone, or else the fewest first ones together.

    What can stand elsewhere goes first, then blank versos and other prelims, then end matter, as
    prelims are not part of the main sequence of pages. Source: New Hart's Rules, ch. 1 sect. 1.8.
    """
    ordered = sorted(matter, key=lambda piece: ORDER.index(piece.part))
    alone = [found for piece in ordered if (found := _saving((piece,), pages, fold))]
    if alone:
        return alone
    together = (tuple(ordered[:many]) for many in range(2, len(ordered) + 1))
    found = next((s for pieces in together if (s := _saving(pieces, pages, fold))), None)
    return [found] if found else []


def _saving(
    pieces: tuple[Matter, ...], pages: int, fold: Callable[[int], Folding]
) -> Saving | None:
    rest = pages - sum(piece.pages for piece in pieces)
    before = fold(pages)
    after = fold(rest) if rest > 0 else before
    return Saving(pieces, before, after) if after.extent < before.extent else None
