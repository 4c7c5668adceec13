"""How many gatherings a book folds into, and how many pages that leaves over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from fitter.errors import CannotFit
from fitter.trade.words import count

STYLES = ("sewn", "perfect", "saddle", "cut-sheet")
IN_WORDS = {
    "sewn": "a sewn book",
    "perfect": "a perfect-bound book",
    "saddle": "a stitched book",
    "cut-sheet": "a book of single leaves",
}
USUAL = {"sewn": (16,), "perfect": (16,), "saddle": (4,), "cut-sheet": (2,)}
COMPARED = (4, 8, 16, 32)
LARGEST = 64
MOST_SHORT = 8


@dataclass(frozen=True, slots=True)
class Binding:
    """What the binder takes: regular gatherings to choose one from, and short ones beside it."""

    style: str = "sewn"
    sizes: tuple[int, ...] = ()
    short: tuple[int, ...] = ()
    short_at_most: int = 1

    @property
    def regular(self) -> tuple[int, ...]:
        """The sizes given, or what is usual for the style: 16 pages, a sheet of 4, a leaf of 2."""
        return self.sizes or USUAL[self.style]

    @property
    def last_blank(self) -> int:
        """Pages at the very end that must stay blank: none."""
        return 0

    def fold(self, pages: int) -> Folding:
        """See `smallest`."""
        return smallest(self, pages)

    def others(self, pages: int) -> list[Folding]:
        """See `alternatives`."""
        return alternatives(self, pages)

    def holds(self, extent: int) -> bool:
        """Whether so many pages make whole gatherings."""
        return smallest(self, extent).extent == extent


@dataclass(frozen=True, slots=True)
class Folding:
    """One way to fold a book: its gatherings in order, short ones last.

    `aimed_at` is the size that was to be folded, in pages (for saddle: what one sheet folds into);
    0 means the largest there is. `nested` are the sheets that a saddle gathering is made of,
    outermost first; any other gathering is one sheet.
    """

    gatherings: tuple[int, ...]
    aimed_at: int = 0
    nested: tuple[int, ...] = ()

    @property
    def extent(self) -> int:
        """All pages, fillers and blanks included."""
        return sum(self.gatherings)

    @property
    def sheets(self) -> tuple[int, ...]:
        """What is printed and folded, in pages each: the gatherings, or what they are nested of."""
        return self.nested or self.gatherings

    @property
    def gathering(self) -> int:
        """The size aimed at, in pages."""
        return self.aimed_at or max(self.gatherings)

    def is_same_as(self, other: Folding) -> bool:
        """Whether both make the same gatherings from the same sheets, aimed at the same size."""
        mine = self.gatherings, self.sheets, self.gathering
        return mine == (other.gatherings, other.sheets, other.gathering)


def left_over(pages: int, gathering: int) -> int:
    """Pages between the text and the next whole gathering: `left_over(299, gathering=16) == 5`."""
    return -pages % gathering


def smallest(binding: Binding, pages: int) -> Folding:
    """The smallest extent the binding allows that holds `pages`; of two ways, fewer gatherings.

    One regular size out of those given, and at most `short_at_most` short ones smaller than it.
    Source for the even working: New Hart's Rules, ch. 1 sect. 1.8.
    """
    return min((_fold(binding, size, pages) for size in binding.regular), key=_order)


def alternatives(
    binding: Binding | Iterable[int], pages: int, offered: Sequence[int] = ()
) -> list[Folding]:
    """The ways to fold `pages`, for a table: each size without short gatherings and with them.

    The binding's sizes are compared with those `offered`, or with the usual ones.
    """
    if not isinstance(binding, Binding):
        binding = Binding(sizes=tuple(binding))
    compared = offered or (USUAL["cut-sheet"] if binding.style == "cut-sheet" else COMPARED)
    plain = Binding(binding.style)
    ways = (
        _fold(taken, size, pages)
        for size in sorted({*compared, *binding.regular})
        for taken in (plain, binding)
    )
    return list(dict.fromkeys(ways))


def size_faults(binding: Binding) -> list[tuple[str, str]]:
    """What is wrong with the sizes of a binding: the name of its field, and a sentence."""
    if binding.style not in USUAL:
        return [("style", f"binding style {binding.style!r} is none of {', '.join(STYLES)}")]
    unfolded = list(_unfolded(binding))
    return unfolded + [fault for fault in _short_faults(binding) if not unfolded]


def _fold(binding: Binding, size: int, pages: int) -> Folding:
    if pages < 1:
        raise CannotFit(f"{pages} pages: there is nothing to fold. A book has at least one page.")
    if binding.style == "saddle":
        extent = pages + left_over(pages, size)
        return Folding((extent,), size, (size,) * (extent // size))
    ways = (
        Folding((size,) * -((short - pages) // size) + shorts, size)
        for short, shorts in _shorts(binding, size).items()
        if short < pages + size
    )
    return min(ways, key=_order)


def _order(folding: Folding) -> tuple[int, int, int]:
    return folding.extent, len(folding.gatherings), -folding.gathering


def _shorts(binding: Binding, size: int) -> dict[int, tuple[int, ...]]:
    """Every total that short gatherings can make, with the fewest that make it, larger first."""
    found: dict[int, tuple[int, ...]] = {0: ()}
    for _ in range(binding.short_at_most):
        for total, made in list(found.items()):
            for short in binding.short:
                if short < size:
                    found.setdefault(total + short, tuple(sorted((*made, short), reverse=True)))
    return found


def _unfolded(binding: Binding) -> Iterator[tuple[str, str]]:
    least = USUAL["cut-sheet"][0] if binding.style == "cut-sheet" else 4
    for field, sizes in (("sizes", binding.sizes), ("short", binding.short)):
        for size in sizes:
            if size % least or not least <= size <= LARGEST:
                yield (
                    field,
                    f"a gathering of {count(size, 'page')} cannot be folded for "
                    f"{IN_WORDS[binding.style]}: "
                    f"use a multiple of {least} from {least} to {LARGEST}",
                )


def _short_faults(binding: Binding) -> Iterator[tuple[str, str]]:
    largest = max(binding.regular)
    if binding.short and binding.style in ("saddle", "cut-sheet"):
        yield "short", f"a {binding.style} book has no short gatherings: take `short` out"
    elif binding.short and min(binding.short) >= largest:
        yield "short", f"no short gathering is smaller than the regular one of {largest} pages"
    if not 0 <= binding.short_at_most <= MOST_SHORT:
        said = f"short_at_most is {binding.short_at_most}: give a number from 0 to {MOST_SHORT}"
        yield "short_at_most", said
