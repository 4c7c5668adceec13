"""The running text of a Typst draft: what its record says, and its lines counted in the PDF."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from fitter.book.loader import Book
from fitter.engines.headings import Place
from fitter.engines.record import split_words
from fitter.engines.text_record import (
    NEAR,
    NONSENSE,
    Body,
    Opening,
    ParagraphSeen,
    TextRecord,
    senseless,
)
from fitter.errors import BadInput
from fitter.trade.tighten.lines import Line, Sheet

HANGS = 0.5  # of the type size: a space and a full stop may hang so far into the margin
_COLUMNS = (
    "Pages of several columns: where Typst sets the book, 'fitter tighten' counts the lines of one "
    "column only. Set it through LaTeX, or take the columns out."
)
_WORDS = ("body", "foot", "opens", "text")

Standing = tuple[int, Line]


@dataclass(frozen=True, slots=True)
class _Mark:
    """A place in the laid-out text: page, and points from its top left corner."""

    page: int
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class _Marked:
    """A paragraph between its marks, and the place it has in the source."""

    number: int
    place: Place
    begins: _Mark
    ends: _Mark


def read(book: Book, sheets: Sequence[Sheet]) -> TextRecord:
    """Put the record of a trial and the pages of its PDF together.

    Raises BadInput where there is none, or nonsense in it.
    """
    try:
        return _together(_said(book), sheets)
    except NONSENSE:
        raise senseless(book.record) from None


def _said(book: Book) -> dict[str, list[list[str]]]:
    """The arguments of each word of the record that tells of the text."""
    of: dict[str, list[list[str]]] = {word: [] for word in _WORDS}
    for line in book.record.read_text("utf-8", "replace").splitlines():
        word, arguments = split_words(line)
        if word in of:
            of[word].append(arguments)
    if not of["body"]:
        raise BadInput(
            f"{book.from_source(book.record)}: the draft recorded nothing of its text. Build it "
            "with the filter that 'fitter path pandoc' names."
        )
    if any(columns != "1" for *_, columns in of["body"]):
        raise BadInput(_COLUMNS)
    return of


def _together(of: Mapping[str, Sequence[Sequence[str]]], sheets: Sequence[Sheet]) -> TextRecord:
    bodies = {int(page): _body(*map(float, rest)) for page, *rest, _ in of["body"]}
    feet = {int(page): float(y) for page, y in reversed(of["foot"])}
    pages = [
        bodies[i].lines(sheet.lines, feet.get(i)) if i in bodies else ()
        for i, sheet in enumerate(sheets, 1)
    ]
    marked = [_marked(*arguments) for arguments in of["text"]]
    stand = [list(_between(each, pages)) for each in marked]
    leading = _common_leading(stand)
    return TextRecord(
        openings=tuple(_opening(*arguments) for arguments in of["opens"]),
        paragraphs=tuple(
            _seen(each, lines, bodies, leading) for each, lines in zip(marked, stand, strict=True)
        ),
        bodies=bodies,
        overfull=sum(_sticks_out(line, bodies[page]) for lines in stand for page, line in lines),
    )


def _body(left: float, top: float, width: float, height: float) -> Body:
    return Body(left, top, width, height, width, 0.0)


def _opening(matter: str, file: str, line: str, page: str, title: str) -> Opening:
    return Opening("chapter", matter, file, int(line), int(page), title)


def _marked(number: str, file: str, line: str, *at: str) -> _Marked:
    first, x, y, last, to_x, to_y = at
    begins, ends = _Mark(int(first), float(x), float(y)), _Mark(int(last), float(to_x), float(to_y))
    return _Marked(int(number), (file, int(line)), begins, ends)


def _between(marked: _Marked, pages: Sequence[Sequence[Line]]) -> Iterator[Standing]:
    begins, ends = marked.begins, marked.ends
    for page in range(begins.page, min(ends.page, len(pages)) + 1):
        for line in pages[page - 1]:
            after = page > begins.page or line.base > begins.y - NEAR
            before = page < ends.page or line.base < ends.y + NEAR
            if after and before:
                yield page, line


def _common_leading(stand: Sequence[Sequence[Standing]]) -> float:
    """The distance of base lines that most of the text has."""
    steps = Counter(round(step, 2) for lines in stand for step in _steps(lines))
    return steps.most_common(1)[0][0] if steps else 12.0


def _steps(lines: Sequence[Standing]) -> list[float]:
    return [
        below.base - above.base
        for (page, above), (on, below) in pairwise(lines)
        if page == on and below.base > above.base
    ]


def _seen(
    marked: _Marked, lines: Sequence[Standing], bodies: Mapping[int, Body], leading: float
) -> ParagraphSeen:
    file, at = marked.place
    page, last = lines[-1] if lines else (0, Line(0.0, 0.0, 0.0, 0.0, ""))
    left, width, first = _measure(lines, bodies)
    edge = bodies[page].left + left + width if page else 0.0
    return ParagraphSeen(
        number=marked.number,
        file=file,
        line=at,
        lines=len(lines),
        width=width,
        indent=left,
        first_indent=first,
        leading=median(_steps(lines) or [leading]),
        page=page,
        x=min(last.right, edge),
        y=last.base,
    )


def _measure(lines: Sequence[Standing], bodies: Mapping[int, Body]) -> tuple[float, float, float]:
    """The left end and the width of the lines after the first, and how far that is indented."""
    if not lines:
        return 0.0, 0.0, 0.0
    column = bodies[lines[0][0]].width
    lefts = [line.left - bodies[page].left for page, line in lines]
    rights = [line.right - bodies[page].left for page, line in lines]
    left, right = min(lefts[1:] or lefts), max(rights)
    if abs(left) < NEAR or abs(right - column) < HANGS * lines[0][1].size:
        right = column
    return left, right - left, max(0.0, lefts[0] - left)


def _sticks_out(line: Line, body: Body) -> bool:
    return line.right > body.left + body.width + HANGS * line.size
