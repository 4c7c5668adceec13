"""Which words two printings have in common, and on which pages they stand."""

from __future__ import annotations

import hashlib
from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from itertools import accumulate, pairwise
from typing import NamedTuple

from fitter.trade.printing.alignment import align, align_moved
from fitter.trade.printing.fingerprint import PagePrint, is_number

SHORT = 12  # pages of fewer words, such as marked blanks, are the same too often to go by


class Count(NamedTuple):
    """How many words, and apart from them how many numbers."""

    words: int
    numbers: int


@dataclass(frozen=True, slots=True)
class Stretch:
    """Old and new pages that correspond, as ranges of indexes from 0: all equal, or not."""

    old: range
    new: range
    equal: bool


@dataclass(frozen=True, slots=True)
class Overlap:
    """The words that two printings share.

    `places` has for each new word its place among the old ones as far as the order is kept, else
    -1; `starts` the first word of each page and the end. `on_new[j]` counts the words of new page
    j by the old page they come from, in whatever order, `on_old[i]` those of old page i by the new
    page they stand on. `fresh[j]` counts the words and the numbers of new page j that stood nowhere
    before, `lost[i]` those of old page i that stand nowhere any more.
    """

    stretches: tuple[Stretch, ...]
    places: tuple[int, ...]
    old_starts: tuple[int, ...]
    new_starts: tuple[int, ...]
    on_new: tuple[Counter[int], ...]
    on_old: tuple[Counter[int], ...]
    fresh: tuple[Count, ...]
    lost: tuple[Count, ...]

    @classmethod
    def of(cls, old: Sequence[PagePrint], new: Sequence[PagePrint]) -> Overlap:
        """Align equal pages first, then the words between them, then what is in another order."""
        stretches = _stretches(old, new)
        before, after = _words(old), _words(new)
        old_starts, new_starts = _starts(old), _starts(new)
        places = [-1] * len(after)
        for stretch in stretches:
            left, right = _slice(old_starts, stretch.old), _slice(new_starts, stretch.new)
            found = align(before[left], after[right])
            places[right] = [left.start + place if place >= 0 else -1 for place in found]
        on_new: list[Counter[int]] = [Counter() for _ in new]
        on_old: list[Counter[int]] = [Counter() for _ in old]
        full = align_moved(before, after, places)
        for word, place in enumerate(full):
            if place >= 0:
                i, j = bisect_right(old_starts, place) - 1, bisect_right(new_starts, word) - 1
                on_new[j][i] += 1
                on_old[i][j] += 1
        held = set(full)
        return cls(
            stretches,
            tuple(places),
            old_starts,
            new_starts,
            tuple(on_new),
            tuple(on_old),
            _counts(after, new_starts, [place < 0 for place in full]),
            _counts(before, old_starts, [i not in held for i in range(len(before))]),
        )

    def words_on_new(self, j: int) -> int:
        """How many words stand on a new page."""
        return self.new_starts[j + 1] - self.new_starts[j]


def most(counts: Counter[int]) -> int | None:
    """The page with the most words, the first of several."""
    return max(sorted(counts), key=lambda page: counts[page], default=None)


def _stretches(old: Sequence[PagePrint], new: Sequence[PagePrint]) -> tuple[Stretch, ...]:
    before, after = _keys(old), _keys(new)
    matcher = SequenceMatcher(None, before, after, autojunk=False)
    return tuple(
        Stretch(range(i, i_end), range(j, j_end), tag == "equal")
        for tag, i, i_end, j, j_end in matcher.get_opcodes()
    )


def _counts(
    marks: Sequence[int], starts: Sequence[int], chosen: Sequence[bool]
) -> tuple[Count, ...]:
    """Per page, the chosen words and numbers."""
    counts = []
    for begin, end in pairwise(starts):
        mine = [is_number(marks[i]) for i in range(begin, end) if chosen[i]]
        counts.append(Count(len(mine) - sum(mine), sum(mine)))
    return tuple(counts)


def _keys(pages: Sequence[PagePrint]) -> list[str]:
    """What makes a page that page: its lines, for blank and short ones what comes before too."""
    keys: list[str] = []
    for page in pages:
        before = keys[-1] if keys and len(page.words) < SHORT else ""
        keys.append(hashlib.blake2b(f"{before} {page.digest}".encode(), digest_size=8).hexdigest())
    return keys


def _slice(starts: Sequence[int], pages: range) -> slice:
    return slice(starts[pages.start], starts[pages.stop])


def _starts(pages: Sequence[PagePrint]) -> tuple[int, ...]:
    return tuple(accumulate((len(page.words) for page in pages), initial=0))


def _words(pages: Sequence[PagePrint]) -> list[int]:
    return [word for page in pages for word in page.words]
