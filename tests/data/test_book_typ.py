"""A Typst book is a real book: measured on its pages."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pymupdf
import pytest
from pypdf import PdfReader

from tests.conftest import FRONT, BookFolder

MakeBook = Callable[..., BookFolder]
MM = 72 / 25.4


@pytest.fixture
def pdf(make_markdown_book: MakeBook) -> Path:
    """A small book, set."""
    book = make_markdown_book(lengths=(30, 8, 1, 40, 6))
    built = book.fitter("build")
    assert built.status == 0, built.err + built.out
    return book.folder / "build/book.pdf"


def text_pages(pdf: Path) -> list[str]:
    """The text of every page as poppler reads it."""
    done = subprocess.run(
        ["pdftotext", "-layout", pdf, "-"], capture_output=True, text=True, check=True
    )
    return done.stdout.split("\f")[:-1]


def lines_of(page: pymupdf.Page) -> list[pymupdf.Rect]:
    """The lines of running text, top to bottom."""
    found = [
        pymupdf.Rect(line["bbox"])
        for block in page.get_text("dict")["blocks"]
        for line in block.get("lines", [])
    ]
    return sorted(found, key=lambda line: line.y0)


def full_page(document: pymupdf.Document) -> pymupdf.Page:
    """A verso in the middle of the long last but one chapter."""
    return max(document, key=lambda page: (page.number % 2, len(page.get_text())))


def test_the_page_is_the_trim(pdf: Path) -> None:
    told = subprocess.run(["pdfinfo", "-l", "99", pdf], capture_output=True, text=True, check=True)
    sizes = set(re.findall(r"size:\s+([\d.]+) x ([\d.]+) pts", told.stdout))
    assert len(sizes) == 1
    width, height = (float(side) / MM for side in sizes.pop())
    assert (width, height) == pytest.approx((129, 198), abs=0.1)


def test_the_text_is_justified_and_hyphenated(pdf: Path) -> None:
    with pymupdf.open(pdf) as document:
        lines = lines_of(full_page(document))[2:]
        rights = [round(line.x1, 0) for line in lines]
        assert max(map(rights.count, rights)) > len(lines) * 0.6
        breaks = sum(text.get_text().count("\xad\n") + text.get_text().count("-\n")
                     for text in document)  # fmt: skip
    assert breaks > 3


def test_lines_stand_on_one_grid_and_a_measure_is_readable(pdf: Path) -> None:
    with pymupdf.open(pdf) as document:
        page = full_page(document)
        lines = lines_of(page)[2:]
        steps = [below.y0 - above.y0 for above, below in pairwise(lines)]
        assert steps == pytest.approx([13] * len(steps), abs=0.05)
        words = max(page.get_text().splitlines(), key=len)
    assert 50 <= len(words) <= 75, "common practice, no source: about 65 signs to the line"


def test_folios_are_roman_then_arabic_from_one_on_a_recto(pdf: Path) -> None:
    labels = PdfReader(pdf).page_labels
    first = labels.index("1")
    assert labels[:4] == ["i", "ii", "iii", "iv"]
    assert labels[first:] == [str(number) for number in range(1, len(labels) - first + 1)]
    assert first % 2 == 0, "sheet position odd: a recto"
    printed = text_pages(pdf)
    assert printed[first].split()[-1] == "1"
    assert printed[2].split()[-1] == "iii"


def test_running_heads_name_the_book_and_the_chapter(pdf: Path) -> None:
    pages = [page.strip().splitlines() for page in text_pages(pdf)]
    heads = {number: page[0].split() for number, page in enumerate(pages, 1) if page}
    opens = (n for n, page in enumerate(pages, 1) if "Crossing 1" in " ".join(page[:4]))
    first = next(page for page in opens if page > 5)
    assert heads[first + 1] == ["2", "A", "Small", "Book"]
    assert heads[first + 2] == ["Crossing", "1", "3"]
    assert heads[first][0] == "1" and "Small" not in " ".join(pages[first - 1])


def test_openers_stand_on_rectos_and_blank_versos_are_marked(pdf: Path) -> None:
    pages = text_pages(pdf)
    openers = [n for n, page in enumerate(pages, 1) if re.match(r"\s*\d\s+Crossing \d\n", page)]
    assert len(openers) == 5
    assert all(page % 2 == 1 for page in openers)
    marked = [n for n, page in enumerate(pages, 1) if "intentionally left blank" in page]
    assert marked and all(" ".join(pages[n - 1].split()) ==
                          "This page is intentionally left blank." for n in marked)  # fmt: skip


def test_contents_give_the_pages_where_the_chapters_stand(pdf: Path) -> None:
    contents = next(page for page in text_pages(pdf) if "Contents" in page)
    said = dict(re.findall(r"(Crossing \d|Preface)\W+(\w+)$", contents, re.MULTILINE))
    reader = PdfReader(pdf)
    labels = reader.page_labels
    stands = {}
    for item in reader.outline:
        number = reader.get_destination_page_number(item)  # type: ignore[arg-type]
        stands[str(item.title).lstrip("0123456789 ")] = labels[number or 0]  # type: ignore[union-attr]
    assert said == {name: stands[name] for name in said}
    assert len(said) == 6


def test_headings_are_named_destinations(pdf: Path) -> None:
    assert {"crossing-1", "crossing-5", "preface"} <= set(PdfReader(pdf).named_destinations)


def test_all_type_is_embedded(pdf: Path) -> None:
    told = subprocess.run(["pdffonts", pdf], capture_output=True, text=True, check=True).stdout
    rows = [line.split() for line in told.splitlines()[2:]]
    assert rows and all(row[-5] == "yes" for row in rows)
    assert any("Libertinus" in row[0] for row in rows)


def test_title_and_author_are_in_the_documents_metadata(pdf: Path) -> None:
    metadata = PdfReader(pdf).metadata
    assert metadata
    assert (metadata.title, metadata.author) == ("A Small Book", "N. N.")


def test_the_books_metadata_changes_the_design(make_markdown_book: MakeBook) -> None:
    block = "---\nclassoption: [openany]\ntoc: false\nnumbersections: false\n---\n\n"
    book = make_markdown_book(front=block + FRONT, lengths=(2, 2, 2, 2))
    built = book.fitter("build", "--format", "json")
    assert built.status == 0, built.err + built.out
    pages = text_pages(book.folder / "build/book.pdf")
    openers = [n for n, page in enumerate(pages, 1) if re.match(r"\s*Crossing \d\n", page)]
    assert {page % 2 for page in openers} == {0, 1}, "openany: rectos and versos"
    assert not any("Contents" in page for page in pages)


def test_no_trim_gives_a_page_all_the_same(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book(lengths=(3,))
    settings = (book.folder / "book.yaml").read_text().replace("trim: 129 x 198 mm\n", "")
    assert book.write("book.yaml", settings).fitter("build").status == 0
    with pymupdf.open(book.folder / "build/book.pdf") as document:
        size = document[0].rect
    assert (size.width / MM, size.height / MM) == pytest.approx((148, 210), abs=0.1)
