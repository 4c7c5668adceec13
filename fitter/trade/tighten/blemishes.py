"""Faults that tightening makes, or leaves: widows, orphans, short last pages and last lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fitter.trade.tighten.text import Paragraph, Text

FEWEST_LINES = 5  # on the last page of a chapter: common practice, no source


@dataclass(frozen=True, slots=True)
class Blemish:
    """One fault: its kind, the page it is seen on, and the line of source it belongs to."""

    kind: str
    page: int
    file: str
    line: int
    words: str


def blemishes(text: Text, fewest: int = FEWEST_LINES) -> list[Blemish]:
    """All of them, in the order of the pages."""
    found = [*_last_pages(text, fewest), *_paragraphs(text)]
    return sorted(found, key=lambda each: (each.page, each.kind, each.line))


def new_blemishes(before: Text, after: Text, fewest: int = FEWEST_LINES) -> list[Blemish]:
    """Those that the draft before did not have; pages may have moved in between."""
    known = {(each.kind, each.file, each.line) for each in blemishes(before, fewest)}
    found = blemishes(after, fewest)
    return [each for each in found if (each.kind, each.file, each.line) not in known]


def _last_pages(text: Text, fewest: int) -> Iterator[Blemish]:
    for each in text.chapters:
        if each.pages > 1 and each.lines < fewest:
            words = f"{each.lines} of {each.full} lines: {each.title}"
            yield Blemish("short last page", each.last, each.file, each.line, words)


def _paragraphs(text: Text) -> Iterator[Blemish]:
    for each in text.paragraphs:
        if each.lines < 2 or not each.page:
            continue
        for kind, page in _kinds(each):
            yield Blemish(kind, page, each.file, each.line, each.ending)


def _kinds(paragraph: Paragraph) -> Iterator[tuple[str, int]]:
    if paragraph.on_page == 1:
        yield "widow", paragraph.page
    if paragraph.lines - paragraph.on_page == 1:
        yield "orphan", paragraph.page - 1
    if 0 <= paragraph.last_width < paragraph.indent:
        yield "last line shorter than the indent", paragraph.page
