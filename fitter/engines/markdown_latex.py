"""A Markdown book through LaTeX: pandoc, then TeX with the package."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from fitter.book.loader import Book
from fitter.engines import latex, latexmk, rerun
from fitter.engines.headings import Place, heading_places
from fitter.engines.markdown import convert
from fitter.engines.record import Origin, Record, read_record
from fitter.engines.shipped import Say

_HEADING = re.compile(r"^% fitter: heading \d+ (?P<words>.*)$")


def build(book: Book, say: Say, *, force: bool = False) -> int:
    """Bring the PDF up to date; returns how often TeX ran."""
    latex.require_engine(book)
    inserts = book.inserts.read_text("utf-8").splitlines() if book.inserts.is_file() else ()
    settings = [line for line in inserts if line.startswith("\\fitterSetting{")]
    convert(book, "latex", say, inserts=settings)
    run_tex = latexmk.build if latex.has_latexmk() else rerun.build
    return run_tex(book, say, force=force)


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

    return replace(told, pages=tuple(origin(*page) for page in enumerate(told.pages, 1)))


@dataclass(frozen=True, slots=True)
class _Heading:
    """Its lines in the generated file, and its place in the Markdown.

    TeX reads a heading while it ends the page before, and the blank page that the heading makes.
    """

    begins: int
    ends: int
    place: Place


def _headings(book: Book) -> list[_Heading]:
    lines = book.typeset.read_text("utf-8").splitlines()
    seen = [
        (i, match["words"]) for i, line in enumerate(lines, 1) if (match := _HEADING.match(line))
    ]
    texts = {book.from_source(path): path.read_text("utf-8", "replace") for path in book.sources}
    places = heading_places([words for _, words in seen], texts)
    return [
        _Heading(begins, _after_paragraph(lines, begins + 1), place)
        for (begins, _), place in zip(seen, places, strict=True)
        if place
    ]


def _after_paragraph(lines: list[str], start: int) -> int:
    """The number of the first empty line behind the paragraph at or after an empty line."""
    empty = (i for i in range(start, len(lines)) if not lines[i].strip())
    return next(empty, len(lines)) + 1
