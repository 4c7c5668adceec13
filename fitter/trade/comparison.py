"""Compare two printings page by page, aligned by what the pages say and not by their numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from typing import Literal

from fitter.trade.evidence import Size
from fitter.trade.fingerprint import BookPrint, PagePrint, Role
from fitter.trade.movement import Movement, Region, movements_of

Kind = Literal["same", "corrected", "reset", "new"]
NEW_SHARE = 0.5  # a page is new when at least this share of its words stood nowhere before
STRAY = 2  # words in common by chance: more of them must cross a page break to count as moved
PICTURE_SIGNS = 12  # of 256, in which two pictures may differ and still look the same


@dataclass(frozen=True, slots=True)
class PageChange:
    """A page of the new printing: the old page it comes from, and what became of it.

    `changed_words` counts words added or lost, whichever is more; `empty` is a page on which
    nothing stands; the `role` tells the imprint page and fillers from the text.
    """

    page: int
    old_page: int | None
    kind: Kind
    changed_words: int = 0
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
    pages: dict[int, PageChange] = {}
    movements: list[Movement] = []
    for region in _between_equal_pages(old.pages, new.pages, pages):
        pages |= {change.page: change for change in _changes(region, new.pages)}
        movements += movements_of(region, len(new.pages))
    _find_pages_moved_whole(old.pages, new.pages, pages)
    changes = tuple(_marked(pages[n], new.pages[n - 1]) for n in sorted(pages))
    return Comparison(
        old.trim,
        new.trim,
        len(old.pages),
        len(new.pages),
        changes,
        tuple(movements),
        _gone(old.pages, changes),
        sum(len(page.words) for page in new.pages),
    )


def _between_equal_pages(
    old: Sequence[PagePrint], new: Sequence[PagePrint], pages: dict[int, PageChange]
) -> Iterator[Region]:
    """Enter the pages that are equal, and give the stretches between them."""
    before = [page.digest for page in old]
    after = [page.digest for page in new]
    for tag, i, i_end, j, j_end in SequenceMatcher(None, before, after, False).get_opcodes():
        if tag != "equal":
            yield Region.between(old, new, range(i, i_end), range(j, j_end))
            continue
        for d in range(i_end - i):
            alike = _look_alike(old[i + d].picture, new[j + d].picture)
            pages[j + d + 1] = PageChange(j + d + 1, i + d + 1, "same" if alike else "corrected")


def _changes(region: Region, new: Sequence[PagePrint]) -> Iterator[PageChange]:
    for j in region.new:
        words, known = len(new[j].words), region.known_on(j)
        main = region.main_source(j)
        if main is None or known <= words * (1 - NEW_SHARE):
            yield PageChange(j + 1, None, "new", words)
            continue
        crossed = max(region.from_elsewhere(j, main), region.gone_elsewhere(j, main))
        lost = region.lost_from(main) if region.main_heir(main) == j else 0
        kind: Kind = "reset" if crossed > STRAY else "corrected"
        yield PageChange(j + 1, main + 1, kind, max(words - known, lost))


def _find_pages_moved_whole(
    old: Sequence[PagePrint], new: Sequence[PagePrint], pages: dict[int, PageChange]
) -> None:
    """A page that stands elsewhere now, unchanged, is the same page."""
    held = {change.old_page for change in pages.values()}
    free = {page.digest: n for n, page in enumerate(old, 1) if n not in held and page.words}
    for n, change in pages.items():
        digest = new[n - 1].digest
        if change.kind == "new" and digest in free:
            pages[n] = PageChange(n, free.pop(digest), "same")


def _marked(change: PageChange, page: PagePrint) -> PageChange:
    return replace(change, role=page.role, empty=page.empty)


def _gone(old: Sequence[PagePrint], changes: Sequence[PageChange]) -> tuple[int, ...]:
    held = {change.old_page for change in changes}
    left = ((n, page) for n, page in enumerate(old, 1) if n not in held)
    return tuple(n for n, page in left if page.role == "text" and not page.empty)


def _look_alike(one: str, other: str) -> bool:
    if not one or not other:
        return one == other
    return (int(one, 16) ^ int(other, 16)).bit_count() <= PICTURE_SIGNS
