"""What a LaTeX draft records of its running text when `tighten` asks for it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from fitter.engines.record import split_words
from fitter.errors import BadInput
from fitter.trade.tighten.lines import Line

NONSENSE = (ValueError, TypeError, LookupError, OverflowError)  # what reading a damaged one raises
NEAR = 1.0  # points: a line of the text stands on the edge of its block
POINTS_PER_SP = 72 / 72.27 / 65536
_OVERFULL = re.compile(r"^Overfull \\[hv]box", re.MULTILINE)
_IN_LOG = re.compile(r"^fitter: (ends|opens|origin)((?:\{-?\d+\})+)$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Body:
    """The text block of a page, in points of 1/72 inch from its top left corner."""

    left: float
    top: float
    width: float
    height: float
    column: float
    gap: float

    def lines(self, page: Iterable[Line], foot: float | None = None) -> tuple[Line, ...]:
        """Those of a page's lines that stand in the block: no furniture, nothing below `foot`."""
        bottom = self.top + self.height if foot is None else foot
        return tuple(line for line in page if self.top < line.base <= bottom + NEAR)


@dataclass(frozen=True, slots=True)
class Opening:
    """A chapter or a part: where it begins in the source and on which page.

    `file` is "" where no source has it, `title` where only the source and the page tell it; `read`
    is the file and line that TeX read, where pandoc made them.
    """

    kind: str
    matter: str
    file: str
    line: int
    page: int
    title: str = ""
    read: tuple[str, int] | None = None


@dataclass(frozen=True, slots=True)
class ParagraphSeen:
    """A paragraph as TeX set it: `lines` as TeX counts them, widths and places in points.

    `page`, `x` and `y` tell where its last line ends, page 0 that it came to nothing; `line` of
    the source is where it begins, `read` the file and line of it that TeX read, where pandoc made
    them.
    """

    number: int
    file: str
    line: int
    lines: int
    width: float
    indent: float
    first_indent: float
    leading: float
    page: int
    x: float
    y: float
    read: tuple[str, int] | None = None


@dataclass(frozen=True, slots=True)
class TextRecord:
    """The running text of one draft; `lost` names passages that were looked for in vain.

    `overfull` counts the boxes that stick out.
    """

    openings: tuple[Opening, ...] = ()
    paragraphs: tuple[ParagraphSeen, ...] = ()
    bodies: Mapping[int, Body] = field(default_factory=dict)
    lost: tuple[tuple[str, ...], ...] = ()
    overfull: int = 0


def read_text_record(record: Path, log: Path) -> TextRecord:
    """Read the record beside a draft and the lines in its log. Raises BadInput for nonsense."""
    try:
        return parse_text_record(
            record.read_text("utf-8", "replace"), log.read_text("utf-8", "replace")
        )
    except FileNotFoundError as error:
        raise BadInput(
            f"{Path(error.filename).name}: the draft left no such file beside the PDF, which is to "
            "tell of the text. Have TeX run in the PDF's folder."
        ) from None
    except NONSENSE:
        raise senseless(record) from None


def senseless(record: Path) -> BadInput:
    """What is said of a record of the text that something has damaged."""
    return BadInput(
        f"{record.name}: this record of the text makes no sense. Delete the file and build the "
        "draft again."
    )


def parse_text_record(record: str, log: str) -> TextRecord:
    """Put together what was known while reading (the record) and after shipping (the log)."""
    ends, opens, origins = _from_log(log)
    lines = [split_words(line) for line in record.splitlines()]
    return TextRecord(
        tuple(_openings(lines, opens)),
        tuple(_paragraphs(lines, ends, origins)),
        {int(of[0]): Body(*map(_points, of[1:])) for word, of in lines if word == "body"},
        tuple(tuple(of) for word, of in lines if word == "lost"),
        len(_OVERFULL.findall(log)),
    )


Numbers = dict[int, tuple[int, ...]]


def _from_log(log: str) -> tuple[Numbers, Numbers, Numbers]:
    found: dict[str, Numbers] = {"ends": {}, "opens": {}, "origin": {}}
    for word, rest in _IN_LOG.findall(log):
        number, *others = map(int, re.findall(r"-?\d+", rest))
        found[word].setdefault(number, tuple(others))
    return found["ends"], found["opens"], found["origin"]


def _openings(lines: list[tuple[str, list[str]]], opens: Numbers) -> Iterator[Opening]:
    matter = ""
    for word, of in lines:
        if word == "matter":
            matter = of[0]
        elif word in ("chapter", "part") and int(of[0]) in opens:
            yield Opening(word, matter, of[1], int(of[2]), opens[int(of[0])][0])


def _paragraphs(
    lines: list[tuple[str, list[str]]], ends: Numbers, origins: Numbers
) -> Iterator[ParagraphSeen]:
    for word, of in lines:
        if word != "para":
            continue
        page, x, y = ends.get(int(of[0]), (0, 0, 0))
        left, top = origins.get(page, (0, 0))
        width, indent, first_indent, leading = map(_points, of[4:8])
        yield ParagraphSeen(
            number=int(of[0]),
            file=of[1],
            line=int(of[2]),
            lines=int(of[3]),
            width=width,
            indent=indent,
            first_indent=first_indent,
            leading=leading,
            page=page,
            x=_points(x - left),
            y=_points(top - y),
        )


def _points(sp: str | int) -> float:
    return int(sp) * POINTS_PER_SP
