"""What the marks in a Typst draft say of its running text, in the words of the record."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from fitter.book.loader import Book
from fitter.engines.headings import heading_places
from fitter.engines.markdown import source_texts
from fitter.engines.paragraphs import paragraph_places
from fitter.engines.record import record_line

Told = Mapping[str, Any]


def text_words(book: Book, told: Told) -> Iterator[str]:
    """The lines of the record for the running text; none where the draft was no trial."""
    if "marks" not in told:
        return
    texts = source_texts(book)
    for page, body in enumerate(told["bodies"], 1):
        yield record_line("body", page, *body)
    for page, _, y in told["feet"]:
        yield record_line("foot", page, y)
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
            yield record_line("opens", matter, "", 0, note["page"], "")
            continue
        (file, line), (_, words, level, matter) = next(places) or ("", 0), more
        if level == "1":
            yield record_line("opens", matter, file, line, note["page"], words)


def _paragraphs(told: Told, texts: Mapping[str, str]) -> Iterator[str]:
    marks = {tuple(mark["words"][:2]): mark for mark in told["marks"]}
    begun = [mark["words"] for (kind, _), mark in marks.items() if kind == "begins"]
    places = paragraph_places([words for _, _, words in begun], texts)
    for (_, number, _), place in zip(begun, places, strict=True):
        if ends := marks.get(("ends", number)):
            at = (*marks[("begins", number)]["at"], *ends["at"])
            yield record_line("text", number, *(place or ("", 0)), *at)
