"""Notes pages and marked blanks look the same whatever sets the book."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path

import pymupdf
import pytest

from tests.conftest import BookFolder

MakeBook = Callable[..., BookFolder]
MM = 72 / 25.4
CATALOGUE = """fillers:
  - {id: ruled, page: notes, lines: ruled, pages: 1, required: true, title: Ruled}
  - {id: dotted, page: notes, lines: dotted, pages: 1, required: true, title: Dotted}
  - {id: plain, page: notes, lines: plain, pages: 1, required: true, title: Plain}
  - {id: empty, page: marked-blank, pages: 1, required: true}
  - {id: rest, page: marked-blank, pages: 1..16}
"""
TEXT_WIDTH_MM = 129 * (1 - 0.155 - 0.13)


def marks_on(page: pymupdf.Page) -> Iterator[pymupdf.Rect]:
    """The rules and dots as they are inked, in mm, however they are drawn."""
    for drawn in page.get_drawings():
        rect = drawn["rect"]
        half = (drawn["width"] or 0) / 2 if drawn["type"] == "s" else 0
        across = (0, -half, 0, half) if rect.width > rect.height else (-half, 0, half, 0)
        yield pymupdf.Rect([edge / MM for edge in (rect + across)])


@pytest.mark.parametrize("engine", ["pdflatex", "lualatex", "xelatex", "typst"])
def test_the_built_in_pages_have_one_geometry(make_markdown_book: MakeBook, engine: str) -> None:
    book = make_markdown_book(engine, lengths=(3,)).write("fillers.yaml", CATALOGUE)
    built = book.fitter("build", "--format", "json")
    assert built.status == 0, built.err + built.out
    at = {filler["id"]: filler["first_page"] for filler in built.report["plan"]["fillers"]}
    with pymupdf.open(book.folder / "build/book.pdf") as pdf:
        ruled, dotted, plain, empty = (pdf[at[name] - 1] for name in list(at)[:4])
        check_rules(ruled)
        check_dots(dotted)
        assert not list(marks_on(plain))
        for page, title in ((ruled, "Ruled"), (dotted, "Dotted"), (plain, "Plain")):
            words = page.get_text().split()
            assert words[0] == title or words[-1] == title
            assert len(words) == 2, "title and folio"
        check_mark(empty)


def check_rules(page: pymupdf.Page) -> None:
    rules = sorted(marks_on(page), key=lambda rule: rule.y0)
    assert 14 <= len(rules) <= 18
    for rule in rules:
        assert rule.width == pytest.approx(TEXT_WIDTH_MM, abs=0.3)
        assert rule.height == pytest.approx(0.1, abs=0.02)
    steps = [below.y1 - above.y1 for above, below in pairwise(rules)]
    assert steps == pytest.approx([8] * len(steps), abs=0.02)


def check_dots(page: pymupdf.Page) -> None:
    dots = list(marks_on(page))
    columns = sorted({round(dot.x0, 1) for dot in dots})
    rows = sorted({round(dot.y0, 1) for dot in dots})
    assert len(dots) == len(columns) * len(rows) > 300
    assert {round(dot.width, 1) for dot in dots} == {0.3}
    assert {round(dot.height, 1) for dot in dots} == {0.3}
    for steps in (columns, rows):
        apart = [after - before for before, after in pairwise(steps)]
        assert apart == pytest.approx([5] * len(apart), abs=0.15)


def check_mark(page: pymupdf.Page) -> None:
    (found,) = page.search_for("This page is intentionally left blank.")
    assert len(page.get_text().split()) == 6, "no head, no folio"
    middle = (found.y0 + found.y1) / 2 / MM
    assert middle == pytest.approx(198 / 2, abs=6)


def test_the_pages_are_found_where_the_plan_says(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book("typst", lengths=(3,)).write("fillers.yaml", CATALOGUE)
    report = book.fitter("build", "--format", "json").report
    verdicts = {page["page"]: page["verdict"] for page in report["check"]["pages"]}
    said = {filler["id"]: verdicts[filler["first_page"]] for filler in report["plan"]["fillers"]}
    assert said == {
        "ruled": "printed",
        "dotted": "printed",
        "plain": "printed",
        "empty": "marked",
        "rest": "marked",
    }
    assert Path(book.folder / "build/book.pages").is_file()
