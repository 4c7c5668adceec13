"""Filling pages exactly: which entry of a list takes how many. Numbers only; see choose.

Going through the entries from the last to the first, a table tells for every number of pages
already used the best that the rest can still do. "Best" is one integer, a digit for each priority,
so that comparing two integers compares priority 1 first, then 2, and so on.

Ties between entries (needs, excludes) go with the table as a mask of what is already blocked or
demanded further on. Ties that would make too many masks are left out of the table; where the
answer breaks one, the question is split in two and the better half is taken first. Both ways are
exact.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from operator import neg

MASKS = 2500

Row = list[int]
Table = dict[int, list[Row]]
Step = dict[int, tuple[int | None, int | None]]


@dataclass(frozen=True, slots=True)
class Entry:
    """What may be taken: page counts, in front or at the back.

    `begins` is the parity of the pages that stand before it in its place; None for any.
    """

    counts: tuple[int, ...]
    priority: int = 1
    front: bool = False
    begins: int | None = None
    required: bool = False


@dataclass(frozen=True, slots=True)
class Tie:
    """If `entry` is taken, `other` must be taken too (together) or must not be (not together)."""

    entry: int
    other: int
    together: bool

    @property
    def span(self) -> int:
        return abs(self.entry - self.other)

    def broken(self, pages: Sequence[int]) -> bool:
        return pages[self.entry] > 0 and (pages[self.other] > 0) is not self.together


def fill(
    entries: Sequence[Entry],
    ties: Sequence[Tie],
    pages: int,
    blanks_at_most: int,
    *,
    even: bool = False,
) -> tuple[int, ...] | None:
    """The pages each entry takes so that all but `blanks_at_most` of `pages` are filled.

    Most pages to the lowest priority number first; of equal ways the one that gives more to the
    earlier entry. Pages in front add up to an even number, with `even` those at the back too.
    None if there is no way.
    """
    question = _Question(entries, ties, pages, blanks_at_most, even)
    halves = [(answer.order, answer) for answer in question.ask({}, None)]
    while halves:
        _, answer = heappop(halves)
        tie = question.broken(answer.pages)
        if tie is None:
            return answer.pages
        for decided in _halves(tie, answer.decided):
            for half in question.ask(decided, answer):
                heappush(halves, (half.order, half))  # no two halves share an answer, so no order
    return None


@dataclass(frozen=True, slots=True)
class _Answer:
    value: int
    pages: tuple[int, ...]
    decided: dict[int, bool]
    tables: list[Table]

    @property
    def order(self) -> tuple[int, ...]:
        return (-self.value, *map(neg, self.pages))


def _halves(tie: Tie, decided: dict[int, bool]) -> Iterator[dict[int, bool]]:
    """Every answer leaves `entry` out, or takes it and does with `other` what the tie says."""
    for more in ({tie.entry: False}, {tie.entry: True, tie.other: tie.together}):
        if all(decided.get(entry, taken) is taken for entry, taken in more.items()):
            yield decided | more


class _Question:
    def __init__(
        self, entries: Sequence[Entry], ties: Sequence[Tie], pages: int, blanks: int, even: bool
    ) -> None:
        self.entries = entries
        self.pages = pages
        self.steps, self.loose = _track(entries, ties)
        ranks = {p: n for n, p in enumerate(sorted({e.priority for e in entries}, reverse=True))}
        self.weights = [(pages + 1) ** ranks[entry.priority] for entry in entries]
        self.never = [-2 * (pages + 1) ** (len(ranks) + 1)] * (pages + 1)
        ends = range(max(pages - blanks, 0), pages + 1)
        good = {used for used in ends if not (even and used % 2)}
        end = [0 if used in good else self.never[0] for used in range(pages + 1)]
        self.end: Table = {0: [end, self.never] if any(e.front for e in entries) else [end]}

    def broken(self, pages: Sequence[int]) -> Tie | None:
        """The broken tie that lies nearest to the first entry: most of the tables stay valid."""
        broken = (tie for tie in self.loose if tie.broken(pages))
        return min(broken, key=lambda tie: max(tie.entry, tie.other), default=None)

    def ask(self, decided: dict[int, bool], before: _Answer | None) -> Iterator[_Answer]:
        tables = before.tables[:] if before else [*[{}] * len(self.entries), self.end]
        known = before.decided if before else {}
        changed = max((e for e in decided if e not in known), default=len(self.entries) - 1)
        for number in range(changed, -1, -1):
            tables[number] = self._table(number, tables[number + 1], decided.get(number))
        value = tables[0][0][0][0]
        if value >= 0:
            yield _Answer(value, self._read(tables, decided), decided, tables)

    def _table(self, number: int, after: Table, decided: bool | None) -> Table:
        entry, weight = self.entries[number], self.weights[number]
        table = {}
        for mask, (left, taken) in self.steps[number].items():
            without = after[left] if left is not None and not decided else None
            within = after[taken] if taken is not None and decided is not False else None
            table[mask] = self._rows(entry, weight, without, within)
        return table

    def _rows(
        self, entry: Entry, weight: int, without: list[Row] | None, within: list[Row] | None
    ) -> list[Row]:
        if without is None:
            without = [self.never] * len(self.end[0])
        if within is None:
            return without
        rows = [row[:] for row in without]
        for odd, row in enumerate(rows):
            for count in entry.counts:
                first, step = _starts(entry, odd)
                if first is not None and count <= self.pages:
                    here = slice(first, self.pages + 1 - count, step)
                    then = within[odd ^ (count & 1) if entry.front else odd][first + count :: step]
                    gain = weight * count
                    row[here] = list(map(max, row[here], [gain + value for value in then]))
        return rows

    def _read(self, tables: list[Table], decided: dict[int, bool]) -> tuple[int, ...]:
        """Go through the tables from the first entry, and give each as much as the best allows."""
        found: list[int] = []
        mask = odd = used = 0
        for number, entry in enumerate(self.entries):
            value = tables[number][mask][odd][used]
            left, taken = self.steps[number][mask]
            count = 0
            if taken is not None and decided.get(number) is not False:
                count = self._count(number, tables[number + 1][taken], (odd, used), value)
            mask = (taken if count else left) or 0
            odd ^= count & 1 if entry.front else 0
            used += count
            found.append(count)
        return tuple(found)

    def _count(self, number: int, then: list[Row], at: tuple[int, int], value: int) -> int:
        entry, weight, (odd, used) = self.entries[number], self.weights[number], at
        first, step = _starts(entry, odd)
        if first is None or (used - first) % step:
            return 0
        for count in reversed(entry.counts):
            turned = odd ^ (count & 1) if entry.front else odd
            if used + count <= self.pages and then[turned][used + count] + weight * count == value:
                return count
        return 0


def _starts(entry: Entry, odd: int) -> tuple[int | None, int]:
    """First number of pages used at which the entry may begin, and the step to the next such."""
    if entry.begins is None:
        return 0, 1
    if entry.front:
        return (0 if entry.begins == odd else None), 1
    return entry.begins ^ odd, 2


def _track(entries: Sequence[Entry], ties: Sequence[Tie]) -> tuple[list[Step], list[Tie]]:
    """The steps from mask to mask with as many ties as `MASKS` allow, and the ties left out."""
    near = sorted(ties, key=lambda tie: (tie.span, tie.entry, tie.other))
    kept = len(near)
    while True:
        steps = _steps(entries, near[:kept])
        if steps is not None:
            return steps, near[kept:]
        kept //= 2


def _steps(entries: Sequence[Entry], ties: Sequence[Tie]) -> list[Step] | None:
    if_left, if_taken = _effects(len(entries), ties)
    here, steps, seen = {0}, [], 0
    for number, entry in enumerate(entries):
        blocked, demanded = 1 << 2 * number, 2 << 2 * number
        step: Step = {}
        for mask in here:
            rest = mask & ~(blocked | demanded)
            left = None if entry.required or mask & demanded else rest | if_left[number]
            taken = None if mask & blocked or not entry.counts else rest | if_taken[number]
            step[mask] = left, taken
        here = {mask for pair in step.values() for mask in pair if mask is not None}
        steps.append(step)
        seen += len(step)
        if ties and seen > max(MASKS, len(entries) + MASKS // 10):
            return None
    return steps


def _effects(entries: int, ties: Sequence[Tie]) -> tuple[list[int], list[int]]:
    """For each entry, what leaving it out and what taking it blocks (1) or demands (2) later on."""
    if_left, if_taken = [0] * entries, [0] * entries
    for tie in ties:
        first, last = sorted((tie.entry, tie.other))
        if not tie.together:
            if_taken[first] |= 1 << 2 * last
        elif first == tie.entry:
            if_taken[first] |= 2 << 2 * last
        else:
            if_left[first] |= 1 << 2 * last
    return if_left, if_taken
