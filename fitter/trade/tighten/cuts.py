"""How many lines a chapter is over: found by drafts in which so many lines are gone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fitter.trade.tighten.text import Paragraph

FURTHEST = 4.0  # times the lines first guessed: beyond it the chapter is given up


@dataclass(frozen=True, slots=True)
class Tries:
    """What drafts told of one chapter: pages it took by the lines cut (0 is the draft as it is)."""

    pages: Mapping[int, int]

    @property
    def enough(self) -> int | None:
        """The fewest lines known to win a page."""
        won = [cut for cut, pages in self.pages.items() if pages < self.pages[0]]
        return min(won, default=None)

    @property
    def too_few(self) -> int:
        """The most lines known to win none, below those that are enough."""
        top = self.enough
        lost = (cut for cut, pages in self.pages.items() if pages >= self.pages[0])
        return max(cut for cut in lost if top is None or cut < top)

    @property
    def settled(self) -> bool:
        """Whether the lines it is over are known to one line."""
        return self.enough is not None and self.enough - self.too_few == 1


def next_cuts(tries: Tries, guess: int, most: int) -> tuple[int, ...]:
    """The next one or two numbers of lines to try, none when it is settled or hopeless.

    First the guess and one line fewer; then outwards from there, in growing steps; then between
    what is too few and what is enough. `most` is how many lines there are to cut.
    """
    enough, too_few = tries.enough, tries.too_few
    furthest = min(most, max(guess + 10, round(guess * FURTHEST)))
    if tries.settled or guess < 1:
        return ()
    if enough is None and too_few < guess:
        wanted: tuple[int, ...] = (min(guess, furthest), min(guess, furthest) - 1)
    elif enough is None:
        step = too_few - guess + 1
        wanted = (too_few + step, too_few + 2 * step)
    elif too_few == 0:
        wanted = (enough - 1, max(1, 2 * enough - guess - 2))
    else:
        wanted = (enough - 1, (enough + too_few) // 2)
    return _fresh(tries, (min(cut, furthest) for cut in wanted))


def _fresh(tries: Tries, wanted: Iterable[int]) -> tuple[int, ...]:
    return tuple(sorted({cut for cut in wanted if cut not in tries.pages and cut > 0}))


def cut_widths(paragraphs: Iterable[Paragraph], lines: int) -> dict[int, float] | None:
    """How many times wider paragraphs must be to take `lines` fewer together, by their numbers.

    A trial draft sets them so wide, or their type so much narrower, as if words had gone. From the
    end of the chapter backwards; each keeps at least one line. None when there are not enough.
    """
    widths: dict[int, float] = {}
    left = lines
    for paragraph in sorted(paragraphs, key=lambda each: -each.number):
        share = min(left, paragraph.lines - 1)
        if share < 1 or not 0 < paragraph.fill <= 1:
            continue
        length = paragraph.lines - 1 + paragraph.fill
        widths[paragraph.number] = length / (paragraph.lines - share - 0.35)
        left -= share
        if not left:
            return widths
    return None if left else widths
