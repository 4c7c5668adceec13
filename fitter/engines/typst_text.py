"""What a Typst draft records of its running text, and its lines counted in the PDF."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median
from typing import Any

from fitter.book.loader import Book
from fitter.engines.headings import Place, heading_places
from fitter.engines.paragraphs import paragraph_places
from fitter.engines.record import split_words
from fitter.engines.text_record import Body, Opening, ParagraphSeen, TextRecord
from fitter.errors import BadInput
from fitter.trade.tighten.lines import Line, Sheet

NEAR = 1.0  # points: a mark lies on the base line, or at the edge of its line
HANGS = 0.5  # of the type size: a space and a full stop may hang so far into the margin
_COLUMNS = (
    "Pages of several columns: where Typst sets the book, 'fitter tighten' counts the lines of one "
    "column only. Set it through LaTeX, or take the columns out."
)
_WORDS = ("body", "foot", "opens", "text")

Told = Mapping[str, Any]
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


def text_words(book: Book, told: Told) -> Iterator[str]:
    """The lines of the record for the running text; none where the draft was no trial."""
    if "marks" not in told:
        return
    texts = {book.from_source(path): path.read_text("utf-8", "replace") for path in book.sources}
    for page, body in enumerate(told["bodies"], 1):
        yield _line("body", page, *body)
    for page, _, y in told["feet"]:
        yield _line("foot", page, y)
    yield from _openings(told, texts)
    yield from _paragraphs(told, texts)


def _openings(told: Told, texts: Mapping[str, str]) -> Iterator[str]:
    notes = [note for note in told["notes"] if note["words"][0] in ("heading", "contents")]
    headings = [note["words"][2] for note in notes if note["words"][0] == "heading"]
    places = iter(heading_places(headings, texts))
    matter = "front"
    for note in notes:
        kind, *more = note["words"]
        if kind == "contents":
            yield _line("opens", matter, "", 0, note["page"], "")
            continue
        (file, line), (_, words, level, matter) = next(places) or ("", 0), more
        if level == "1":
            yield _line("opens", matter, file, line, note["page"], words)


def _paragraphs(told: Told, texts: Mapping[str, str]) -> Iterator[str]:
    marks = {tuple(mark["words"][:2]): mark for mark in told["marks"]}
    begun = [mark["words"] for (kind, _), mark in marks.items() if kind == "begins"]
    places = paragraph_places([words for _, _, words in begun], texts)
    for (_, number, _), place in zip(begun, places, strict=True):
        if ends := marks.get(("ends", number)):
            at = (*marks[("begins", number)]["at"], *ends["at"])
            yield _line("text", number, *(place or ("", 0)), *at)


def _line(word: str, *of: object) -> str:
    arguments = "".join(f"{{{_number_or_text(each)}}}" for each in of)
    return f"{word}{arguments}"


def _number_or_text(each: object) -> str:
    if isinstance(each, float):
        return f"{each:.3f}"
    return str(each).replace("{", "(").replace("}", ")")


def read(book: Book, sheets: Sequence[Sheet]) -> TextRecord:
    """Put the record of a trial and the pages of its PDF together. Raises BadInput without one."""
    lines = [split_words(line) for line in book.record.read_text("utf-8").splitlines()]
    of: dict[str, list[list[str]]] = {word: [] for word in _WORDS}
    for word, arguments in lines:
        if word in of:
            of[word].append(arguments)
    if not of["body"]:
        raise BadInput(f"{book.from_source(book.record)}: the draft recorded nothing of its text.")
    if any(columns != "1" for *_, columns in of["body"]):
        raise BadInput(_COLUMNS)
    bodies = {int(page): _body(*map(float, rest)) for page, *rest, _ in of["body"]}
    feet = {int(page): float(y) for page, y in reversed(of["foot"])}
    pages = [_text_lines(sheet, bodies.get(i), feet.get(i)) for i, sheet in enumerate(sheets, 1)]
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


def _text_lines(sheet: Sheet, body: Body | None, foot: float | None) -> list[Line]:
    """The lines of a page's text, without furniture and without the notes at its foot."""
    if body is None:
        return []
    bottom = body.top + body.height if foot is None else foot
    return [line for line in sheet.lines if body.top < line.base <= bottom + NEAR]


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
