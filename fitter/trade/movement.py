"""Text that moved between pages: how far, from where, and where it settled again."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

from fitter.trade.alignment import align
from fitter.trade.fingerprint import PagePrint


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
    settled: int | None


@dataclass(frozen=True, slots=True)
class Region:
    """Old and new pages between two stretches of equal ones, as ranges of indexes from 0.

    `old_starts` and `new_starts` count words from the beginning of the region; `places` has for
    each new word its place among the old ones, or -1; `shared` how many words of an old page stand
    on a new page, `kept_before` how many of the old words before each place are kept.
    """

    old: range
    new: range
    old_starts: tuple[int, ...]
    new_starts: tuple[int, ...]
    places: tuple[int, ...]
    shared: Counter[tuple[int, int]]
    kept_before: tuple[int, ...]
    words_in_line: float

    @classmethod
    def between(
        cls, old: Sequence[PagePrint], new: Sequence[PagePrint], left: range, right: range
    ) -> Region:
        """Align the words of some old and some new pages."""
        before, after = [old[i] for i in left], [new[j] for j in right]
        old_starts, new_starts = _starts(before), _starts(after)
        places = align(_words(before), _words(after))
        shared = Counter(
            (left[_page_at(old_starts, place)], right[_page_at(new_starts, word)])
            for word, place in enumerate(places)
            if place >= 0
        )
        kept = set(places)
        kept_before = accumulate((i in kept for i in range(old_starts[-1])), initial=0)
        lines = sum(page.lines for page in (*before, *after))
        words = old_starts[-1] + new_starts[-1]
        average = words / lines if words else 1.0
        return cls(
            left, right, old_starts, new_starts, tuple(places), shared, tuple(kept_before), average
        )

    def known_on(self, j: int) -> int:
        """How many words of a new page stood in the old pages."""
        return sum(self.shared[i, j] for i in self.old)

    def main_source(self, j: int) -> int | None:
        """The old page that gave a new page the most words."""
        source = max(self.old, key=lambda i: self.shared[i, j], default=None)
        return source if source is not None and self.shared[source, j] else None

    def main_heir(self, i: int) -> int:
        """The new page that holds the most words of an old page."""
        return max(self.new, key=lambda j: self.shared[i, j])

    def from_elsewhere(self, j: int, main: int) -> int:
        """Words of a new page that stood on other old pages than its main one."""
        return self.known_on(j) - self.shared[main, j]

    def gone_elsewhere(self, j: int, main: int) -> int:
        """Words of an old page that stand on other new pages than this one."""
        return sum(self.shared[main, other] for other in self.new) - self.shared[main, j]

    def lost_from(self, i: int) -> int:
        """Words of an old page that stand nowhere any more."""
        n = self.old.index(i)
        words = self.old_starts[n + 1] - self.old_starts[n]
        return words - sum(self.shared[i, j] for j in self.new)


def movements_of(region: Region, new_extent: int) -> Iterator[Movement]:
    """The movement inside a region, if page breaks moved there: at most one."""
    if 2 * region.shared.total() < region.new_starts[-1]:
        return  # most of it is another text, which has not moved but come
    moved = {j: words for j in region.new if (words := _moved_at_top(region, j))}
    if not moved:
        return
    most = max(moved.values(), key=abs)
    settled = region.new.stop + 1 if region.new.stop < new_extent else None
    lines = round(abs(most) / region.words_in_line)
    yield Movement(min(moved) + 1, max(moved) + 1, most, max(lines, 1), settled)


def _moved_at_top(region: Region, j: int) -> int:
    """Words that lie between the top of a new page and where its old counterpart began."""
    n = region.new.index(j)
    mine = region.places[region.new_starts[n] : region.new_starts[n + 1]]
    first = next((place for place in mine if place >= 0), None)
    if first is None:
        return 0
    begin = region.old_starts[min(n, len(region.old))]
    return region.kept_before[begin] - region.kept_before[first]


def _starts(pages: Sequence[PagePrint]) -> tuple[int, ...]:
    return tuple(accumulate((len(page.words) for page in pages), initial=0))


def _words(pages: Sequence[PagePrint]) -> list[int]:
    return [word for page in pages for word in page.words]


def _page_at(starts: Sequence[int], word: int) -> int:
    return bisect_right(starts, word) - 1
