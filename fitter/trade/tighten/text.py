"""The running text of a draft: its chapters, its paragraphs, and where they end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph as it was set.

    `number` counts the paragraphs of the running text. `page` is the page of its last line (0 for a
    paragraph that came to nothing), which reads `ending` and fills a share `fill` of the measure;
    `on_page` lines stand on that page. `measure` and `indent` (of its first line) are in points of
    1/72 inch. `read` is the file and line that the engine read, where that is not the author's.
    """

    number: int
    file: str
    line: int
    lines: int
    page: int
    on_page: int
    fill: float
    measure: float
    indent: float = 0.0
    ending: str = ""
    read: tuple[str, int] | None = None

    @property
    def read_at(self) -> tuple[str, int]:
        """The file and line where the engine read it."""
        return self.read or (self.file, self.line)

    @property
    def last_width(self) -> float:
        """The width of the last line in points."""
        return self.fill * self.measure


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter or part: its pages, the lines on the last one, the lines a full page holds.

    `matter` is "front", "main", "back", or "" where the source does not say. `read` is the file and
    line that the engine read, where that is not the author's.
    """

    title: str
    matter: str
    file: str
    line: int
    first: int
    last: int
    lines: int
    full: int
    kind: str = "chapter"
    read: tuple[str, int] | None = None

    @property
    def read_at(self) -> tuple[str, int]:
        """The file and line where the engine read it."""
        return self.read or (self.file, self.line)

    @property
    def pages(self) -> int:
        """How many pages it takes."""
        return self.last - self.first + 1


@dataclass(frozen=True, slots=True)
class Text:
    """One draft: `pages` without fillers, `blank` pages by sheet position, overfull boxes.

    `rectos` are the pages that something must open on, as the draft tells.
    `shape` is the same for two drafts when every line stands at the same place and says the same.
    """

    pages: int
    chapters: tuple[Chapter, ...]
    paragraphs: tuple[Paragraph, ...]
    blank: frozenset[int] = frozenset()
    overfull: int = 0
    shape: str = ""
    rectos: frozenset[int] = frozenset()

    def paragraphs_in(self, chapter: Chapter) -> Iterator[Paragraph]:
        """The paragraphs that end on a page of the chapter, in order."""
        pages = range(chapter.first, chapter.last + 1)
        return (paragraph for paragraph in self.paragraphs if paragraph.page in pages)
