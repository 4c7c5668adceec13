"""A Markdown book through LaTeX: pandoc, then TeX with the package."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import takewhile

from fitter.book.loader import Book
from fitter.engines import latex, latexmk, rerun
from fitter.engines import sketch as sketches
from fitter.engines.headings import Place, heading_places
from fitter.engines.markdown import convert, source_texts
from fitter.engines.paragraphs import paragraph_places, words_of_tex
from fitter.engines.record import Origin, Record, read_record
from fitter.engines.run import find_program
from fitter.engines.shipped import Say
from fitter.engines.text_record import Opening, ParagraphSeen, TextRecord, read_text_record
from fitter.inserts.latex import for_pandoc
from fitter.trade.tighten.lines import Sheet

_NEXT = ("\\item", "\\end{", "\\begin{")
_HEADING = re.compile(r"^% fitter: heading \d+ (?P<words>.*)$")


def build(book: Book, say: Say, *, force: bool = False) -> int:
    """Bring the PDF up to date; returns how often TeX ran."""
    _convert(book, say)
    run_tex = latexmk.build if latex.has_latexmk() else rerun.build
    return run_tex(book, say, force=force)


def sketch(book: Book, say: Say) -> Record | None:
    """Rough counts from a first run of TeX, as of a LaTeX book."""
    _convert(book, say)
    return sketches.sketch(book, say)


def _convert(book: Book, say: Say) -> None:
    find_program(book.engine)
    inserts = book.inserts.read_text("utf-8") if book.inserts.is_file() else ""
    convert(book, "latex", say, inserts=for_pandoc(inserts))


def record(book: Book) -> Record | None:
    """TeX's record, its pages led back from the generated file to the Markdown."""
    told = read_record(book.record)
    if told is None or not book.typeset.is_file():
        return told
    headings = _headings(book)

    def origin(number: int, page: Origin) -> Origin:
        if page.file and not page.file.endswith(book.typeset.name):
            return page
        blank = number in told.openers
        opened = [one for one in headings if (one.begins if blank else one.ends) <= page.line]
        file, line = opened[-1].place if opened else ("", 0)
        return replace(page, file=file, line=line)

    pages = tuple(origin(*page) for page in enumerate(told.pages, 1))
    return replace(told, pages=pages, lost=tuple((what, "the book") for what, _ in told.lost))


def text(book: Book, _: Sequence[Sheet]) -> TextRecord:
    """What TeX recorded of the running text, led back to the Markdown in the same way."""
    told = read_text_record(book.record, book.output.with_suffix(".log"))
    made = book.from_source(book.typeset)
    lines = book.typeset.read_text("utf-8").splitlines()
    words = [_words_at(lines, each.line) if each.file == made else "" for each in told.paragraphs]
    places = paragraph_places(words, source_texts(book))
    headings = {
        line: heading
        for heading in _headings(book)
        for line in range(heading.begins + 1, heading.ends + 1)
    }
    return replace(
        told,
        openings=tuple(_opening(each, headings.get(each.line)) for each in told.openings),
        paragraphs=tuple(
            _paragraph(each, place, headings.get(each.line)) if each.file == made else each
            for each, place in zip(told.paragraphs, places, strict=True)
        ),
    )


def _words_at(lines: Sequence[str], number: int) -> str:
    """The words of the paragraph that begins in a line of the generated file."""
    here = lines[number - 1 : _after_paragraph(lines, number) - 1]
    more = takewhile(lambda line: not line.lstrip().startswith(_NEXT), here[1:])
    return words_of_tex(" ".join([*here[:1], *more]))


def _opening(seen: Opening, heading: _Heading | None) -> Opening:
    """A chapter by the heading it was made of; contents and the like are made of none."""
    read = (seen.file, seen.line)
    if heading is None:
        return replace(seen, file="", line=0, read=read)
    file, line = heading.place
    return replace(seen, file=file, line=line, title=heading.words, read=read)


def _paragraph(seen: ParagraphSeen, place: Place | None, heading: _Heading | None) -> ParagraphSeen:
    """A paragraph by its words; a heading is one too."""
    file, line = (heading.place if heading else place) or ("", 0)
    return replace(seen, file=file, line=line, read=(seen.file, seen.line))


@dataclass(frozen=True, slots=True)
class _Heading:
    """Its lines in the generated file, its place in the Markdown, and what it says.

    TeX reads a heading while it ends the page before, and the blank page that the heading makes.
    """

    begins: int
    ends: int
    place: Place
    words: str


def _headings(book: Book) -> list[_Heading]:
    lines = book.typeset.read_text("utf-8").splitlines()
    seen = [
        (i, match["words"]) for i, line in enumerate(lines, 1) if (match := _HEADING.match(line))
    ]
    places = heading_places([words for _, words in seen], source_texts(book))
    return [
        _Heading(begins, _after_paragraph(lines, begins + 1), place, words)
        for (begins, words), place in zip(seen, places, strict=True)
        if place
    ]


def _after_paragraph(lines: Sequence[str], start: int) -> int:
    """The number of the first empty line behind the paragraph at or after an empty line."""
    empty = (i for i in range(start, len(lines)) if not lines[i].strip())
    return next(empty, len(lines)) + 1
