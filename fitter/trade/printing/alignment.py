"""Align two long runs of words: which word of the new stood where in the old."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from itertools import pairwise

SHINGLE = 4  # words in a row that make an anchor where they occur once in each text
MOST_IN_GAP = 400  # words on either side of a gap that is searched word by word
PASSES = 4  # how often what is left over is searched for runs in another order

Gap = tuple[int, int, int, int]  # begin and end in the old, begin and end in the new


def align(old: Sequence[int], new: Sequence[int]) -> list[int]:
    """For each word of `new` its place in `old`, rising; -1 where it has none.

    Anchors are runs of words found once in both texts; then the same between two anchors, where a
    run that is frequent in the book may be found once; short rests by their longest common runs.
    """
    return _align(old, new, MOST_IN_GAP)


def align_moved(old: Sequence[int], new: Sequence[int], places: Sequence[int]) -> list[int]:
    """The places again, and those of what `places` left out because it stands in another order.

    So a table is found that floated past the text around it. Only runs with an anchor count here.
    """
    full = list(places)
    for _ in range(PASSES):
        taken = set(full)
        rest_old = [i for i in range(len(old)) if i not in taken]
        rest_new = [j for j, place in enumerate(full) if place < 0]
        found = _align([old[i] for i in rest_old], [new[j] for j in rest_new], 0)
        if max(found, default=-1) < 0:
            break
        for j, i in zip(rest_new, found, strict=True):
            full[j] = rest_old[i] if i >= 0 else -1
    return full


def _align(old: Sequence[int], new: Sequence[int], most_in_gap: int) -> list[int]:
    places = [-1] * len(new)
    gaps: list[Gap] = [(0, len(old), 0, len(new))]
    while gaps:
        gap = _from_either_side(old, new, places, gaps.pop())
        i, end_i, j, end_j = gap
        if i >= end_i or j >= end_j:
            continue
        anchors = _anchors(old[i:end_i], new[j:end_j])
        if anchors:
            gaps += _between(anchors, gap)
        elif max(end_i - i, end_j - j) <= most_in_gap:
            _word_by_word(old, new, places, gap)
    return places


def _between(anchors: Sequence[tuple[int, int]], gap: Gap) -> Iterator[Gap]:
    """The gaps from one anchor, which is part of its gap, to the next."""
    i, end_i, j, end_j = gap
    edges = [(i, j), *((i + a, j + b) for a, b in anchors), (end_i, end_j)]
    for (left, right), (next_left, next_right) in pairwise(edges):
        yield left, next_left, right, next_right


def _from_either_side(old: Sequence[int], new: Sequence[int], places: list[int], gap: Gap) -> Gap:
    """Match words as far as they agree from the ends of a gap; what remains of it."""
    i, end_i, j, end_j = gap
    while i < end_i and j < end_j and old[i] == new[j]:
        places[j] = i
        i, j = i + 1, j + 1
    while i < end_i and j < end_j and old[end_i - 1] == new[end_j - 1]:
        end_i, end_j = end_i - 1, end_j - 1
        places[end_j] = end_i
    return i, end_i, j, end_j


def _word_by_word(old: Sequence[int], new: Sequence[int], places: list[int], gap: Gap) -> None:
    i, end_i, j, end_j = gap
    matcher = SequenceMatcher(None, old[i:end_i], new[j:end_j], autojunk=False)
    for a, b, size in matcher.get_matching_blocks():
        for d in range(size):
            places[j + b + d] = i + a + d


def _anchors(old: Sequence[int], new: Sequence[int]) -> list[tuple[int, int]]:
    here = _once(old)
    there = _once(new)
    pairs = [(here[shingle], j) for shingle, j in there.items() if shingle in here]
    pairs.sort(key=lambda pair: pair[1])
    return _longest_rising(pairs)


def _once(words: Sequence[int]) -> dict[tuple[int, ...], int]:
    shingles = list(zip(*(words[d:] for d in range(SHINGLE)), strict=False))
    times = Counter(shingles)
    return {shingle: i for i, shingle in enumerate(shingles) if times[shingle] == 1}


def _longest_rising(pairs: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """The longest choice of pairs, in order, whose old places rise (patience sorting)."""
    tops: list[int] = []
    at: list[int] = []
    before: list[int] = []
    for n, (i, _) in enumerate(pairs):
        pile = bisect_left(tops, i)
        before.append(at[pile - 1] if pile else -1)
        tops[pile : pile + 1] = [i]
        at[pile : pile + 1] = [n]
    chosen = []
    n = at[-1] if at else -1
    while n >= 0:
        chosen.append(pairs[n])
        n = before[n]
    return chosen[::-1]
