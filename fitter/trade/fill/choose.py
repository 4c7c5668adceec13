"""Which fillers stand on the left-over pages, and where."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from fitter.trade.fill.fill import Entry, Tie, fill

RECTO, VERSO = 1, 0


@dataclass(frozen=True, slots=True)
class Filler:
    """An entry of the catalogue: the page counts it may take (ascending, all above 0), and where.

    `place` is "front" or "back"; `starts` is "any", "recto" or "verso"; priority 1 is wanted most.
    """

    id: str
    place: str = "back"
    counts: tuple[int, ...] = (1,)
    priority: int = 1
    starts: str = "any"
    required: bool = False
    needs: tuple[str, ...] = ()
    excludes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Placed:
    """A filler in the book: its pages, and the sheet position of its first page (from 1)."""

    id: str
    place: str
    pages: int
    first_page: int


@dataclass(frozen=True, slots=True)
class Choice:
    """The fillers in the order they stand in the book, and the blank pages after the last."""

    placed: tuple[Placed, ...]
    end_blanks: int


def choose(
    fillers: Sequence[Filler],
    left_over: int,
    *,
    front_at: int | None,
    back_at: int,
    end_at_most: int,
    back_whole: bool = False,
) -> Choice | None:
    """The one best way to fill `left_over` pages, or None. Required fillers count as left over.

    Most pages to priority 1, then to priority 2, and so on; then the fewest end blanks; then the
    earliest in the catalogue. `starts`, `needs` and `excludes` hold; front fillers add an even
    number of pages, and so do back fillers with `back_whole`, for text that opens recto follows
    them. `front_at` and `back_at` are the sheet positions of the first front page and,
    before any front filler is added, of the first back page; without `front_at` nothing can stand
    in front. The catalogue has no `catalogue_faults`.
    """
    entries = [_entry(filler, front_at, back_at) for filler in fillers]
    pages = fill(entries, _ties(fillers), left_over, end_at_most, even=back_whole)
    if pages is None:
        return None
    placed = tuple(_place(fillers, pages, front_at or 0, back_at))
    return Choice(placed, left_over - sum(pages))


def _entry(filler: Filler, front_at: int | None, back_at: int) -> Entry:
    front = filler.place == "front"
    at = front_at if front else back_at
    begins = None
    if filler.starts != "any":
        begins = ((RECTO if filler.starts == "recto" else VERSO) - (at or 0)) % 2
    counts = () if at is None else filler.counts
    return Entry(counts, filler.priority, front, begins, filler.required)


def _ties(fillers: Sequence[Filler]) -> list[Tie]:
    number = {filler.id: n for n, filler in enumerate(fillers)}
    ties = {
        Tie(n, number[other], together)
        for n, filler in enumerate(fillers)
        for others, together in ((filler.needs, True), (filler.excludes, False))
        for other in others
    }
    return sorted(ties, key=lambda tie: (tie.entry, tie.other, tie.together))


def _place(
    fillers: Sequence[Filler], pages: Sequence[int], front_at: int, back_at: int
) -> Iterator[Placed]:
    taken = [(filler, count) for filler, count in zip(fillers, pages, strict=True) if count]
    for place, first_page in (("front", front_at), ("back", back_at)):
        at = first_page
        if place == "back":
            at += sum(count for filler, count in taken if filler.place == "front")
        for filler, count in taken:
            if filler.place == place:
                yield Placed(filler.id, place, count, at)
                at += count


def required_pages(fillers: Sequence[Filler]) -> int:
    """The fewest pages of the required fillers and all they need, front ones an even number.

    What must be in before the gathering is chosen.
    """
    must = required(fillers)
    back = sum(min(filler.counts) for filler in must if filler.place != "front")
    return back + _least_even([filler for filler in must if filler.place == "front"])


def required(fillers: Sequence[Filler]) -> list[Filler]:
    """The required fillers and all that they need, in the order of the catalogue."""
    by_id = {filler.id: filler for filler in fillers}
    found = {filler.id for filler in fillers if filler.required}
    more = found
    while more:
        more = {need for id_ in more for need in by_id[id_].needs} - found
        found |= more
    return [filler for filler in fillers if filler.id in found]


def _least_even(fillers: Iterable[Filler]) -> int:
    """Fewest pages they can take with an even sum; where it cannot be even, a page is added."""
    least: dict[int, int] = {0: 0}
    for filler in fillers:
        sums: dict[int, int] = {}
        for before in least.values():
            for count in filler.counts:
                total = before + count
                sums[total % 2] = min(total, sums.get(total % 2, total))
        least = sums
    return least[0] if 0 in least else least[1] + 1
