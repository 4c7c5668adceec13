"""The record: what the source knows and the PDF does not, page by page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from fitter.book.braces import groups
from fitter.errors import BadInput

_NO_BRACES = str.maketrans("{}", "()")


@dataclass(frozen=True, slots=True)
class Origin:
    """Where the engine was reading when it finished a page; file is '' for the main source."""

    folio: str
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class Span:
    """The sheet positions a placed filler takes, both ends included."""

    id: str
    first: int
    last: int

    @property
    def pages(self) -> int:
        """How many pages the filler takes."""
        return self.last - self.first + 1


@dataclass(frozen=True, slots=True)
class Record:
    """One finished run: pages, slots, placed fillers, the pages each candidate would take."""

    pages: tuple[Origin, ...] = ()
    slots: Mapping[str, int] = field(default_factory=dict)
    fillers: tuple[Span, ...] = ()
    takes: Mapping[str, int] = field(default_factory=dict)
    openers: frozenset[int] = frozenset()
    rectos: frozenset[int] = frozenset()  # pages that something must open on
    wants: tuple[int, ...] = ()  # pages behind the back slot that must open on their side
    end_blanks: int = 0
    lost: tuple[tuple[str, str], ...] = ()  # "paragraph" or "chapter", and the file that has it not
    extent: int = 0
    finished: bool = False

    @property
    def filled(self) -> dict[int, str]:
        """The sheet positions that hold fillers, with the filler's id."""
        return {page: span.id for span in self.fillers for page in range(span.first, span.last + 1)}

    @property
    def text_pages(self) -> int:
        """The pages of the book without fillers and end blanks."""
        return self.extent - sum(span.pages for span in self.fillers) - self.end_blanks

    @property
    def back_whole(self) -> bool:
        """Whether something behind the back slot wants a recto, or a verso."""
        return bool(self.wants)

    def slot_at(self, place: str) -> int | None:
        """The sheet position a filler in this slot would start at were no filler placed."""
        if place not in self.slots:
            return None
        ahead = sum(span.pages for span in self.fillers if span.last <= self.slots[place])
        return self.slots[place] - ahead + 1


def read_record(path: Path) -> Record | None:
    """Read a `.pages` file; None when there is none. Raises BadInput for nonsense in it."""
    try:
        text = path.read_text(encoding="utf-8", errors="replace")
    except FileNotFoundError:
        return None
    return parse_record(text, path.name)


def parse_record(text: str, name: str = "record") -> Record:
    """Read the lines `word{argument}…` of a record; words of later versions are passed over."""
    reading = _Reading()
    for number, line in enumerate(text.splitlines(), 1):
        word, arguments = split_words(line)
        try:
            reading.take(word, *arguments)
        except (TypeError, ValueError, KeyError):
            raise BadInput(
                f"{name}:{number}: this line of the record makes no sense. "
                "Delete the file and build the draft again."
            ) from None
    return reading.record()


class _Reading:
    """The facts of a record as they come; one method for each word."""

    def __init__(self) -> None:
        self.pages: list[Origin] = []
        self.slots: dict[str, int] = {}
        self.started: dict[str, int] = {}
        self.fillers: list[Span] = []
        self.takes: dict[str, int] = {}
        self.openers: set[int] = set()
        self.rectos: set[int] = set()
        self.wants: list[int] = []
        self.end_blanks = 0
        self.lost: list[tuple[str, str]] = []
        self.extent: int | None = None
        self.finished = False

    def take(self, word: str, *arguments: str) -> None:
        method = getattr(self, f"on_{word}", None)
        if method:
            method(*arguments)

    def on_page(self, _number: str, folio: str, file: str, line: str) -> None:
        self.pages.append(Origin(folio, file.removeprefix("/"), int(line)))

    def on_slot(self, place: str, pages_before: str) -> None:
        self.slots[place] = int(pages_before)
        if place == "back":
            self.wants.clear()  # what stands before the slot is not moved by it

    def on_begin(self, filler: str, first: str) -> None:
        self.started[filler] = int(first)

    def on_end(self, filler: str, last: str) -> None:
        self.fillers.append(Span(filler, self.started[filler], int(last)))

    def on_takes(self, filler: str, pages: str) -> None:
        self.takes[filler] = int(pages)

    def on_opener(self, page: str) -> None:
        self.openers.add(int(page))

    def on_wants(self, side: str, page: str) -> None:
        self.wants.append(int(page))
        if side == "recto":
            self.rectos.add(int(page) | 1)  # a blank verso comes first where it is needed

    def on_blanks(self, _first: str, pages: str) -> None:
        self.end_blanks = int(pages)

    def on_lost(self, what: str, file: str, _text: str, _number: str) -> None:
        self.lost.append((what, file))

    def on_shipped(self, pages: str) -> None:
        self.extent = int(pages)

    def on_done(self, _nothing: str) -> None:
        self.finished = True

    def record(self) -> Record:
        return Record(
            pages=tuple(self.pages),
            slots=self.slots,
            fillers=tuple(self.fillers),
            takes=self.takes,
            openers=frozenset(self.openers),
            rectos=frozenset(self.rectos),
            wants=tuple(self.wants),
            lost=tuple(self.lost),
            end_blanks=self.end_blanks,
            extent=len(self.pages) if self.extent is None else self.extent,
            finished=self.finished,
        )


def split_words(line: str) -> tuple[str, list[str]]:
    """A line `word{argument}…` of a record, taken apart."""
    return line.partition("{")[0].strip(), list(groups(line))


def record_line(word: str, *arguments: object) -> str:
    """The same put together; a brace or a line's end in an argument would be taken for another."""
    return word + "".join(f"{{{_plain(argument)}}}" for argument in arguments)


def _plain(argument: object) -> str:
    if isinstance(argument, float):
        return f"{argument:.3f}"
    return " ".join(str(argument).translate(_NO_BRACES).splitlines())
