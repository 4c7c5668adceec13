"""The whole job with every class, engine and class option the package promises, in real TeX."""

from __future__ import annotations

import itertools
import re
import subprocess
from collections.abc import Callable
from typing import Any

import pytest

from tests.conftest import BookFolder

ENGINES = ("pdflatex", "lualatex", "xelatex")
CLASSES = ("book", "report", "memoir", "scrbook")
SIDES = ("twoside,openright", "twoside,openany", "oneside")


def pages_of(pdf: str) -> int:
    """The page count as poppler reads it."""
    told = subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout
    return int(next(line.split()[1] for line in told.splitlines() if line.startswith("Pages:")))


def fits(book: BookFolder) -> dict[str, Any]:
    built = book.fitter("build", "--format", "json")
    assert built.status == 0, built.err + built.out
    report = built.report
    assert report["check"]["passed"]
    assert report["plan"]["extent"] % 16 == 0
    assert pages_of(str(book.folder / "build/book.pdf")) == report["plan"]["extent"]
    again = book.fitter("build", "--format", "json").report
    assert again["engine_runs"] == 0
    assert again["plan"] == report["plan"]
    return report


@pytest.mark.parametrize(("engine", "cls"), [*itertools.product(ENGINES, CLASSES)])
def test_every_engine_fits_every_class(
    make_latex_book: Callable[..., BookFolder], engine: str, cls: str
) -> None:
    book = make_latex_book(
        engine, cls=cls, options="twoside,openright", packages="\\usepackage{hyperref}"
    )
    report = fits(book)
    record = (book.folder / "build/book.pages").read_text()
    openers = {int(page) for page in re.findall(r"^opener\{(\d+)\}", record, re.MULTILINE)}
    assert openers
    verdicts = {page["page"]: page["verdict"] for page in report["check"]["pages"]}
    assert {verdicts[page] for page in openers} == {"marked"}


@pytest.mark.parametrize(("sides", "cls"), [*itertools.product(SIDES, CLASSES)])
def test_every_class_fits_with_one_side_or_two(
    make_latex_book: Callable[..., BookFolder], sides: str, cls: str
) -> None:
    report = fits(make_latex_book("pdflatex", cls=cls, options=sides))
    text = range(7, report["plan"]["text_pages"] + 1)
    marked = [page for page in report["check"]["pages"] if page["verdict"] == "marked"]
    openers = [page for page in marked if page["page"] in text]
    assert bool(openers) == (sides == "twoside,openright")
