"""What tightening found: the places where pages can be won, and what was tried to win them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from fitter.trade.fold.gatherings import COMPARED
from fitter.trade.tighten.blemishes import Blemish, blemishes, new_blemishes
from fitter.trade.tighten.edits import Edit
from fitter.trade.tighten.settings import Setting
from fitter.trade.tighten.tails import Prelims, Tail, prelims, short_paragraphs
from fitter.trade.tighten.text import Chapter, Paragraph, Text


@dataclass(frozen=True, slots=True)
class Over:
    """For one size of gathering: pages over the last whole one, and short of the next."""

    gathering: int
    over: int
    short: int


@dataclass(frozen=True, slots=True)
class Winner:
    """Settings that were built: the values that are not the default, and what came of them."""

    values: tuple[tuple[Setting, str], ...]
    dislike: float
    pages: int
    overfull: int


@dataclass(frozen=True, slots=True)
class SettingsFound:
    """The end of a search: what reaches the extent, least disliked first, or what comes nearest.

    `cheaper` counts the combinations less disliked than the best: built, ruled out by drafts, and
    foretold to miss. `one_way` tells whether the drafts bore out that each setting works one way.
    """

    winners: tuple[Winner, ...]
    nearest: Winner | None
    cheaper: tuple[int, int, int]
    one_way: bool
    unused: tuple[str, ...] = ()
    failed: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Shortened:
    """Paragraphs set a line shorter, chapters whose pages run a line longer, and their proof.

    `after` is the draft that proves them, None where they are not enough; `can` paragraphs of the
    book can lose a line at all.
    """

    paragraphs: tuple[Paragraph, ...]
    can: int
    after: Text | None
    longer: tuple[Chapter, ...] = ()
    long_pages_tried: bool = False


@dataclass(frozen=True, slots=True)
class Checked:
    """One edit made in a copy: characters cut or added, and the lines the paragraph has then."""

    edit: Edit
    cut: bool
    characters: int
    lines_after: int

    @property
    def holds(self) -> bool:
        """Whether the paragraph changed by the line foretold."""
        return self.lines_after == self.edit.paragraph.lines + (-1 if self.cut else 1)


@dataclass(frozen=True, slots=True)
class EditList:
    """The edits of one chapter, and those that were checked in a copy."""

    chapter: Chapter
    edits: tuple[Edit, ...]
    checked: tuple[Checked, ...]


@dataclass(frozen=True, slots=True)
class Tightening:
    """The whole report. `extent` is what the book makes now, `aim` what is wanted; 0: not asked.

    `added` pages must be in besides the text: required fillers, or a last page left to the press.
    """

    text: Text
    over: tuple[Over, ...]
    prelims: Prelims
    short: tuple[Paragraph, ...]
    faults: tuple[Blemish, ...]
    fewest: int
    added: int = 0
    extent: int = 0
    aim: int = 0
    tails: tuple[Tail, ...] = ()
    drafts: int = 1
    settings: SettingsFound | None = None
    shortened: Shortened | None = None
    edits: EditList | None = None

    @property
    def after(self) -> Text | None:
        """The draft that proves what was chosen, where paragraphs were."""
        return self.shortened.after if self.shortened else None

    @property
    def chapters_changed(self) -> list[tuple[Chapter, Chapter]]:
        """The chapters whose pages the choice changes, before and after."""
        after = self.after.chapters if self.after else ()
        pairs = zip(self.text.chapters, after, strict=False)
        return [(before, now) for before, now in pairs if before.pages != now.pages]

    @property
    def new_faults(self) -> list[Blemish]:
        """Faults that the choice makes."""
        return new_blemishes(self.text, self.after, self.fewest) if self.after else []

    @property
    def reached(self) -> bool:
        """Whether a way to the extent was found, where one was looked for."""
        looked = bool(self.settings or self.shortened)
        won = bool(self.settings and self.settings.winners) or self.after is not None
        return won or not looked


def survey(text: Text, needed: int, sizes: Iterable[int], fewest: int) -> Tightening:
    """The report of one draft; `needed` are the pages that must be in, with required fillers."""
    return Tightening(
        text=text,
        over=tuple(over(needed, size) for size in sorted({*COMPARED, *sizes})),
        prelims=prelims(text),
        short=tuple(short_paragraphs(text)),
        faults=tuple(blemishes(text, fewest)),
        fewest=fewest,
        added=needed - text.pages,
    )


def over(pages: int, gathering: int) -> Over:
    """How many pages stand over the last whole gathering, and how many are short of the next."""
    return Over(gathering, pages % gathering, -pages % gathering)
