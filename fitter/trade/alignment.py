"""Align two long runs of words: which word of the new stood where in the old."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Sequence
from difflib import SequenceMatcher
from itertools import pairwise

SHINGLE = 4  # words in a row that make an anchor when they occur once in each text
MOST_IN_GAP = 1500  # words on either side of a gap that is still searched word by word


def align(old: Sequence[int], new: Sequence[int]) -> list[int]:
    """For each word of `new` its place in `old`, rising; -1 where it has none.

    Anchors are runs of words found exactly once in both texts; between them, words are matched as
    far as they agree from either side, and short rests by the longest common runs.
    """
    places = [-1] * len(new)
    edges = [(-1, -1), *_anchors(old, new), (len(old), len(new))]
    for (i, j), (next_i, next_j) in pairwise(edges):
        if j >= 0:
            places[j] = i
        _fill(old, new, places, range(i + 1, next_i), range(j + 1, next_j))
    return places


def _anchors(old: Sequence[int], new: Sequence[int]) -> list[tuple[int, int]]:
    here = _once(old)
    there = _once(new)
    pairs = [(here[shingle], j) for shingle, j in there.items() if shingle in here]
    pairs.sort(key=lambda pair: pair[1])
    return _longest_rising(pairs)


def _once(words: Sequence[int]) -> dict[tuple[int, ...], int]:
    shingles = [tuple(words[i : i + SHINGLE]) for i in range(len(words) - SHINGLE + 1)]
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


def _fill(
    old: Sequence[int], new: Sequence[int], places: list[int], left: range, right: range
) -> None:
    """Match the words of a gap between two anchors."""
    i, j, end_i, end_j = left.start, right.start, left.stop, right.stop
    while i < end_i and j < end_j and old[i] == new[j]:
        places[j] = i
        i, j = i + 1, j + 1
    while i < end_i and j < end_j and old[end_i - 1] == new[end_j - 1]:
        end_i, end_j = end_i - 1, end_j - 1
        places[end_j] = end_i
    if 0 < end_i - i <= MOST_IN_GAP and 0 < end_j - j <= MOST_IN_GAP:
        matcher = SequenceMatcher(None, old[i:end_i], new[j:end_j], autojunk=False)
        for a, b, size in matcher.get_matching_blocks():
            for d in range(size):
                places[j + b + d] = i + a + d
