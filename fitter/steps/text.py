"""The running text of a draft: its record and its PDF put together."""

from __future__ import annotations

import hashlib
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain

from fitter.book.braces import groups
from fitter.book.loader import Book
from fitter.engines.engine import Engine
from fitter.engines.record import Record
from fitter.engines.text_record import Body, Opening, ParagraphSeen, TextRecord
from fitter.pdf.lines import read_lines
from fitter.trade.tighten.lines import Line
from fitter.trade.tighten.tails import lines_on_page
from fitter.trade.tighten.text import Chapter, Paragraph, Text

_HEADING = re.compile(r"\\(?:chapter|part)\s*\*?\s*(?:\[[^]]*\])?\s*\{(.*)")
ONE_LINE = 1.6  # leadings: two base lines further apart than this do not follow each other

Pages = Sequence[tuple[Line, ...]]


def read_text(book: Book, engine: Engine, record: Record) -> Text:
    """The text of the draft in the book's output. Raises BadInput where it left no record of it."""
    pages = read_lines(book.output)
    seen = engine.text(book, pages)
    sheets = list(enumerate(pages, 1))
    bodies = [_in_body(sheet.lines, seen.bodies.get(page)) for page, sheet in sheets]
    blank = frozenset(page for page, sheet in sheets if sheet.empty) | record.openers
    return Text(
        pages=record.text_pages,
        chapters=tuple(_chapters(book, seen, bodies, blank, record)),
        paragraphs=tuple(_paragraph(each, bodies, seen) for each in seen.paragraphs),
        blank=blank,
        overfull=seen.overfull,
        rectos=record.rectos,
        shape=_shape(sheet.lines for _, sheet in sheets),
    )


def _shape(pages: Iterable[tuple[Line, ...]]) -> str:
    """A digest of all lines and their places, to a hundredth of a point."""
    digest = hashlib.md5(usedforsecurity=False)
    for page in pages:
        places = [(round(x.base, 2), round(x.left, 2), round(x.right, 2), x.text) for x in page]
        digest.update(repr(places).encode())
    return digest.hexdigest()


def _in_body(lines: Sequence[Line], body: Body | None) -> tuple[Line, ...]:
    return body.lines(lines) if body else ()


def _chapters(
    book: Book, seen: TextRecord, bodies: Pages, blank: frozenset[int], record: Record
) -> Iterator[Chapter]:
    leading, size = _leading(seen), _size(bodies)
    fillers = record.filled
    following = [opening.page for opening in seen.openings]
    ends = [*following, record.extent - record.end_blanks + 1][1:]
    for opening, after in zip(seen.openings, ends, strict=True):
        last = after - 1
        while last > opening.page and (last in blank or last in fillers):
            last -= 1
        body = seen.bodies[last]
        base = max(
            (each.y for each in seen.paragraphs if each.page == last),
            default=_last_base(bodies[last - 1], size),
        )
        yield Chapter(
            title=opening.title or _title(book, opening, bodies),
            matter=opening.matter,
            file=opening.file,
            line=opening.line,
            first=opening.page,
            last=last,
            lines=lines_on_page(base, body.top, leading) if base else 0,
            full=lines_on_page(body.top + body.height, body.top, leading),
            kind=opening.kind,
            read=opening.read,
        )


def _last_base(lines: Sequence[Line], size: float) -> float:
    """The last line of the text proper, or of the notes where there is nothing else."""
    proper = [line for line in lines if line.size > 0.9 * size] or lines
    return proper[-1].base if proper else 0.0


def _size(bodies: Pages) -> float:
    """The type size that most of the text has."""
    counted: Counter[float] = Counter()
    for line in chain.from_iterable(bodies):
        counted[round(line.size, 1)] += len(line.text)
    return counted.most_common(1)[0][0] if counted else 10.0


def _leading(seen: TextRecord) -> float:
    """The distance of base lines that most of the text has."""
    counted: Counter[float] = Counter()
    for paragraph in seen.paragraphs:
        counted[round(paragraph.leading, 3)] += paragraph.lines
    return counted.most_common(1)[0][0] if counted else 12.0


def _title(book: Book, opening: Opening, bodies: Pages) -> str:
    """The heading as the source has it, else the largest type on its page."""
    source = book.home / opening.file
    lines = source.read_text("utf-8", "replace").splitlines() if source.is_file() else []
    here = " ".join(lines[opening.line - 1 : opening.line + 2])
    match = _HEADING.search(here)
    if (
        match
        and match.start() < len(lines[opening.line - 1])
        and "\\" not in (title := _braced(match[1]))
    ):
        return title
    heading = max(bodies[opening.page - 1], key=lambda line: line.size, default=None)
    return heading.text if heading else f"page {opening.page}"


def _braced(tex: str) -> str:
    """The text up to the closing brace."""
    closed = next(groups(f"{{{tex}"), None)
    return tex if closed is None else " ".join(closed.split())


def _paragraph(seen: ParagraphSeen, bodies: Pages, record: TextRecord) -> Paragraph:
    lines = bodies[seen.page - 1] if seen.page else ()
    standing = _standing(lines, seen)
    at_head = bool(standing) and standing[-1] == lines[0]
    return Paragraph(
        number=seen.number,
        file=seen.file,
        line=seen.line,
        lines=seen.lines,
        page=seen.page,
        on_page=len(standing) if at_head else seen.lines,
        fill=_fill(seen, record.bodies[seen.page]) if seen.page and seen.width else 1.0,
        measure=seen.width,
        indent=seen.first_indent,
        ending=standing[0].text if standing else "",
        read=seen.read,
    )


def _fill(seen: ParagraphSeen, body: Body) -> float:
    """The share of the measure that the last line fills."""
    at = seen.x - body.left
    if body.column < body.width and at > body.column + body.gap / 2:
        at -= body.column + body.gap
    return (at - seen.indent) / seen.width


def _standing(lines: Sequence[Line], seen: ParagraphSeen) -> list[Line]:
    """The lines of a paragraph on its last page, the last one first.

    Only where they reach up to the head of the page do they tell that it began on the page before.
    """
    above = sorted((line for line in lines if line.base < seen.y + 2), key=lambda each: -each.base)
    standing = above[:1]
    for line in above[1 : seen.lines]:
        if standing[-1].base - line.base > ONE_LINE * seen.leading:
            break
        standing.append(line)
    return standing
