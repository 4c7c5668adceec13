"""What goes into the generated file, the same for every engine."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from fitter.book.loader import Book
from fitter.inserts.chosen import Chosen

if TYPE_CHECKING:
    from fitter.trade.fill.choose import Placed

HEAD = (
    "Written by fitter and written anew at every fit: edit fillers.yaml instead.",
    "Safe to delete, worth committing: with this file the book builds the same without fitter.",
)


def is_ours(text: str) -> bool:
    """Whether a file of the generated one's name is of our making."""
    return "Written by fitter" in text.partition("\n")[0]


@dataclass(frozen=True, slots=True)
class Placement:
    """What was chosen: the fillers in the order of the book, and the blanks at the very end."""

    placed: tuple[Placed, ...] = ()
    end_blanks: int = 0


@dataclass(frozen=True, slots=True)
class Trial:
    """What a draft in a scratch copy does besides: it records its running text.

    `cuts` has paragraphs by number, and how many times wider they are set to take fewer lines.
    """

    cuts: Mapping[int, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Inserts:
    """Imprint lines, the mark, the catalogue, the placement (none yet in a first draft).

    `imprint` has the lines of the whole imprint page in order, by kind.
    `chosen` is what was chosen to win pages.
    `bodies` are Markdown fillers in the engine's own language, by id, where it needs them here.
    """

    book: Book
    key: str
    history: tuple[str, ...]
    isbn: str
    pdf_pages: dict[str, int]
    placement: Placement = Placement()
    chosen: Chosen = field(default_factory=Chosen)
    bodies: Mapping[str, str] = field(default_factory=dict)
    imprint: tuple[tuple[str, tuple[str, ...]], ...] = ()
    trial: Trial | None = None

    @property
    def values(self) -> Iterator[tuple[str, str]]:
        """The value that each setting has now."""
        for setting in self.book.settings.allowed:
            default = setting.values[setting.default]
            yield setting.name, self.chosen.settings.get(setting.name, default)
