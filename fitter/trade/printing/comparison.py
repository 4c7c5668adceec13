"""Compare two printings page by page, aligned by what the pages say and not by their numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from fitter.trade.printing.fingerprint import BookPrint, PagePrint, Role
from fitter.trade.printing.movement import Movement, movements
from fitter.trade.printing.overlap import Count, Overlap, Stretch, most
from fitter.trade.size import Size

Kind = Literal["same", "corrected", "reset", "new"]
NEW_SHARE = 0.5  # a page is new when at least this share of its words stood nowhere before
STRAY = 2  # words in common by chance: more of them must cross a page break to count as moved
PICTURE_SIGNS = 12  # of 256, in which two pictures may differ and still look the same


@dataclass(frozen=True, slots=True)
class PageChange:
    """A page of the new printing: the old page it comes from, and what became of it.

    `changed_words` counts words added or lost, whichever is more, and `changed_numbers` the same
    for numbers, as in references and contents; `empty` is a page on which nothing stands; the
    `role` tells the imprint page and fillers from the text.
    """

    page: int
    old_page: int | None
    kind: Kind
    changed_words: int = 0
    changed_numbers: int = 0
    role: Role = "text"
    empty: bool = False


@dataclass(frozen=True, slots=True)
class Comparison:
    """What two printings have in common; pages count by sheet position from 1.

    `gone` are old pages of which nothing is left, `words` the words of the new printing.
    """

    old_trim: Size
    new_trim: Size
    old_extent: int
    new_extent: int
    pages: tuple[PageChange, ...]
    movements: tuple[Movement, ...]
    gone: tuple[int, ...]
    words: int

    def of_kind(self, kind: Kind) -> tuple[PageChange, ...]:
        """The text pages of one kind: no empty page, no filler, and not the imprint page."""
        return tuple(p for p in self.pages if p.kind == kind and p.role == "text" and not p.empty)


def compare(old: BookPrint, new: BookPrint) -> Comparison:
    """Compare the fingerprints of two printings of a book."""
    overlap = Overlap.of(old.pages, new.pages)
    pages: dict[int, PageChange] = {}
    for stretch in overlap.stretches:
        changes = (_equal if stretch.equal else _changed)(overlap, old.pages, new.pages, stretch)
        pages |= {change.page: change for change in changes}
    _find_short_pages(old.pages, new.pages, pages)
    marked = tuple(_marked(pages[n], new.pages[n - 1]) for n in sorted(pages))
    return Comparison(
        old.trim,
        new.trim,
        old.bound,
        new.bound,
        marked,
        tuple(_settled(movement, marked) for movement in movements(overlap, new.pages)),
        _gone(old.pages, overlap, marked),
        overlap.new_starts[-1],
    )


Pages = Sequence[PagePrint]


def _equal(_: Overlap, old: Pages, new: Pages, stretch: Stretch) -> Iterator[PageChange]:
    for i, j in zip(stretch.old, stretch.new, strict=True):
        yield _unchanged(old, new, i, j)


def _unchanged(old: Pages, new: Pages, i: int, j: int) -> PageChange:
    """A page with the same words, which is still corrected if its picture is another."""
    alike = _look_alike(old[i].picture, new[j].picture)
    return PageChange(j + 1, i + 1, "same" if alike else "corrected")


def _changed(overlap: Overlap, old: Pages, new: Pages, stretch: Stretch) -> Iterator[PageChange]:
    for j in stretch.new:
        words, sources = overlap.words_on_new(j), overlap.on_new[j]
        main = most(sources)
        if main is None or sources.total() <= words * (1 - NEW_SHARE):
            yield PageChange(j + 1, None, "new", *overlap.fresh[j])
            continue
        if old[main].digest == new[j].digest:
            yield _unchanged(old, new, main, j)
            continue
        heirs = overlap.on_old[main]
        crossed = max(sources.total() - sources[main], heirs.total() - heirs[j])
        fresh, lost = overlap.fresh[j], overlap.lost[main] if most(heirs) == j else Count(0, 0)
        kind: Kind = "reset" if crossed > STRAY else "corrected"
        changed = max(fresh.words, lost.words), max(fresh.numbers, lost.numbers)
        yield PageChange(j + 1, main + 1, kind, *changed)


def _find_short_pages(old: Pages, new: Pages, pages: dict[int, PageChange]) -> None:
    """A page too short for its words to find it, and unchanged elsewhere, is the same page."""
    held = {change.old_page for change in pages.values()}
    free: dict[str, list[int]] = {}
    for i, page in reversed([*enumerate(old)]):
        if i + 1 not in held:
            free.setdefault(page.digest, []).append(i)
    for n, change in pages.items():
        places = free.get(new[n - 1].digest)
        if change.kind == "new" and places:
            pages[n] = _unchanged(old, new, _most_alike(old, new[n - 1], places), n - 1)


def _most_alike(old: Pages, page: PagePrint, places: list[int]) -> int:
    """Take the first page with the same picture from the places, or else the first."""
    alike = (i for i in reversed(places) if _look_alike(old[i].picture, page.picture))
    found = next(alike, places[-1])
    places.remove(found)
    return found


def _settled(movement: Movement, pages: Sequence[PageChange]) -> Movement:
    """The movement with the first page after it that is as before."""
    after = (page.page for page in pages if page.page > movement.last and page.kind == "same")
    return replace(movement, settled=next(after, None))


def _marked(change: PageChange, page: PagePrint) -> PageChange:
    return replace(change, role=page.role, empty=page.empty)


def _gone(old: Pages, overlap: Overlap, changes: Sequence[PageChange]) -> tuple[int, ...]:
    """Old text pages that are no new page's origin, and most of whose words are lost."""
    held = {change.old_page for change in changes}
    return tuple(
        n
        for n, page in enumerate(old, 1)
        if n not in held
        and page.role == "text"
        and not page.empty
        and 2 * sum(overlap.lost[n - 1]) >= len(page.words)
    )


def _look_alike(one: str, other: str) -> bool:
    if not one or not other:
        return one == other
    return (int(one, 16) ^ int(other, 16)).bit_count() <= PICTURE_SIGNS
