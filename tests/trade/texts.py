"""Small texts for the tests of tightening."""

from __future__ import annotations

from typing import Any

from fitter.trade.tighten.text import Chapter, Paragraph, Text


def chapter(first: int, last: int, lines: int = 10, **more: Any) -> Chapter:
    """A chapter of the main text whose pages hold 33 lines."""
    told: dict[str, Any] = {
        "title": f"From {first}", "matter": "main", "file": "book.tex", "line": first,
        "full": 33, **more,
    }  # fmt: skip
    return Chapter(first=first, last=last, lines=lines, **told)


def paragraph(
    number: int, page: int = 1, lines: int = 5, fill: float = 0.5, **more: Any
) -> Paragraph:
    """A paragraph set to a measure of 300 points, all on one page."""
    told: dict[str, Any] = {
        "file": "book.tex", "line": number, "on_page": lines, "measure": 300.0, "indent": 12.0,
        "ending": "and so it ended.", **more,
    }  # fmt: skip
    return Paragraph(number=number, page=page, lines=lines, fill=fill, **told)


def text(*chapters: Chapter, pages: int = 0, blank: tuple[int, ...] = (), **more: Any) -> Text:
    """A text that ends with its last chapter unless `pages` says otherwise."""
    paragraphs = more.pop("paragraphs", ())
    end = pages or (chapters[-1].last if chapters else 0)
    return Text(end, chapters, tuple(paragraphs), frozenset(blank), **more)
