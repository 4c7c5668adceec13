"""Text that moved between pages: how far, from where, and where it settled again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

from fitter.trade.printing.fingerprint import PagePrint
from fitter.trade.printing.overlap import Overlap, Stretch


@dataclass(frozen=True, slots=True)
class Movement:
    """From page `first` to `last` the pages break elsewhere than before, by up to `words`.

    Positive words moved on to later pages, negative ones back. `lines` is the same in lines of
    average length. `settled` is the first page after them that is as before; None at the end.
    """

    first: int
    last: int
    words: int
    lines: int
    settled: int | None = None


def movements(overlap: Overlap, new: Sequence[PagePrint]) -> Iterator[Movement]:
    """One movement for each stretch of changed pages in which page breaks moved.

    Where they settle is left open: other pages than these decide it.
    """
    kept = {place for place in overlap.places if place >= 0}
    kept_before = tuple(accumulate((i in kept for i in range(overlap.old_starts[-1])), initial=0))
    for stretch in overlap.stretches:
        if stretch.equal or _mostly_new(overlap, stretch):
            continue
        tops = {j: _moved_at_top(overlap, kept_before, stretch, j) for j in stretch.new}
        moved = {j: words for j, words in tops.items() if words}
        if moved:
            farthest = max(moved.values(), key=abs)
            average = _words_in_line([new[j] for j in stretch.new])
            lines = max(round(abs(farthest) / average), 1)
            yield Movement(min(moved) + 1, max(moved) + 1, farthest, lines)


def _mostly_new(overlap: Overlap, stretch: Stretch) -> bool:
    """Whether the stretch is another text, which has not moved but come."""
    known = sum(overlap.on_new[j].total() for j in stretch.new)
    return 2 * known < sum(overlap.words_on_new(j) for j in stretch.new)


def _words_in_line(pages: Sequence[PagePrint]) -> float:
    lines = sum(page.lines for page in pages)
    return sum(len(page.words) for page in pages) / lines if lines else 1.0


def _moved_at_top(overlap: Overlap, kept_before: tuple[int, ...], stretch: Stretch, j: int) -> int:
    """Words that lie between the top of a new page and where its old counterpart began."""
    mine = overlap.places[overlap.new_starts[j] : overlap.new_starts[j + 1]]
    first = next((place for place in mine if place >= 0), None)
    if first is None:
        return 0
    counterpart = min(stretch.old.start + j - stretch.new.start, stretch.old.stop)
    return kept_before[overlap.old_starts[counterpart]] - kept_before[first]
