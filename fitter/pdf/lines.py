"""The lines of text on each page of a PDF, from top to bottom."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from fitter.pdf.apart import apart, page_begun
from fitter.pdf.document import StrPath, opened
from fitter.trade.tighten.lines import Line, Sheet

SAME_LINE = 0.5  # of the larger size of type: a superscript stays with its line


@apart
def read_lines(path: StrPath) -> list[Sheet]:
    """The lines of each page; places in points of 1/72 inch from the top left corner."""
    with opened(path) as document:
        return [_sheet(page, number) for number, page in enumerate(document, 1)]


def _sheet(page: Any, number: int) -> Sheet:
    page_begun(number)
    lines = tuple(_lines(page))
    return Sheet(lines, empty=not lines and not page.get_bboxlog())


def _lines(page: Any) -> Iterator[Line]:
    group: list[dict[str, Any]] = []
    for span in sorted(_spans(page), key=lambda span: float(span["origin"][1])):
        if group and not _joins(group, span):
            yield _line(group)
            group = []
        group.append(span)
    if group:
        yield _line(group)


def _spans(page: Any) -> Iterator[dict[str, Any]]:
    for block in page.get_text("dict")["blocks"]:
        for line in block.get("lines", ()):
            if abs(line["dir"][0]) > 0.9:
                yield from (span for span in line["spans"] if span["text"].strip())


def _joins(group: list[dict[str, Any]], span: dict[str, Any]) -> bool:
    main = _main(group)
    size = max(main["size"], span["size"])
    return bool(span["origin"][1] - main["origin"][1] < SAME_LINE * size)


def _main(group: list[dict[str, Any]]) -> dict[str, Any]:
    return max(group, key=lambda span: (span["size"], len(span["text"])))


def _line(group: list[dict[str, Any]]) -> Line:
    main = _main(group)
    ordered = sorted(group, key=lambda span: float(span["bbox"][0]))
    return Line(
        base=float(main["origin"][1]),
        left=min(float(span["bbox"][0]) for span in group),
        right=max(float(span["bbox"][2]) for span in group),
        size=float(main["size"]),
        text=_text(ordered),
    )


def _text(spans: list[dict[str, Any]]) -> str:
    """The words of a line; a gap wider than a fifth of the type size is a space."""
    text, end = "", None
    for span in spans:
        left, right = float(span["bbox"][0]), float(span["bbox"][2])
        if end is not None and left - end > 0.2 * span["size"] and not text.endswith(" "):
            text += " "
        text, end = text + span["text"], right
    return " ".join(text.split())
