"""Titles, names and labels that are HTML: the folding dummy shows them and none of it is live."""

from __future__ import annotations

from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path

import pymupdf
import pytest

from tests.conftest import BookFolder
from tests.drawn import drawn, furnished, nothing, text

SAID = [
    "<script>alert(1)</script>",
    "\"><img src=x onerror='alert(1)'>",
    "'--></style></title><svg onload=alert(1)>",
    "{{ 7*7 }}{% raw %}<a href='javascript:alert(1)'>x</a>&lt;b&gt;",
]
FOR_NAMES = str.maketrans("/()", "|``")  # what no name of a file and no label of a page takes
PLAIN = [f"A plain title {number}" for number in range(4)]


class Seen(HTMLParser):
    """The elements with their attributes as a browser would make them, and the text."""

    def __init__(self, page: Path) -> None:
        super().__init__()
        self.elements: list[tuple[str, tuple[str, ...]]] = []
        self.said = ""
        self.feed(page.read_text("utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, tuple(sorted(name for name, _ in attrs))))
        self.said += " ".join(value or "" for _, value in attrs)

    def handle_data(self, data: str) -> None:
        self.said += data


def quoted(said: str) -> str:
    """As YAML has it in single quotes."""
    return "'" + said.replace("'", "''") + "'"


def of_a_book(book: BookFolder, said: list[str]) -> Path:
    """The dummy of a built book that says it in its title, author, fillers and mark."""
    book.write("book.md", "# One\n\nText.\n")
    book.write(
        "book.yaml",
        f"title: {quoted(said[0])}\nauthor: {quoted(said[1])}\nsource: book.md\nengine: typst\n"
        f"binding: {{gathering: 8}}\nblanks: {{mark: {quoted(said[2])}}}\n"
        f"imprint: {{publisher: {quoted(said[3])}, year: 2026, edition: {quoted(said[0])}}}\n",
    )
    book.write(
        "fillers.yaml",
        f"fillers:\n  - {{id: n, page: notes, pages: 1..3, title: {quoted(said[3])}}}\n",
    )
    assert book.fitter("build", "-q").status in (0, 1)
    assert book.fitter("dummy", "--output", "x.html").status == 0
    return book.folder / "x.html"


def of_a_pdf(book: BookFolder, said: list[str]) -> Path:
    """The dummy of a PDF that says it in its name, its metadata and its page labels."""
    said = [one.translate(FOR_NAMES) for one in said]
    file = drawn(
        book.folder / "drawn.pdf", *[furnished(n, text) for n in range(1, 6)], nothing, text
    )
    with pymupdf.open(file) as document:
        document.set_metadata({"title": said[0], "author": said[1]})
        document.set_page_labels(
            [
                {"startpage": at, "prefix": label, "style": "D"}
                for at, label in enumerate([*said, "", ""])
            ]
        )
        named = book.folder / f"{said[1]}.pdf"
        document.save(named)
    ran = book.fitter("dummy", named, "--gathering", "8", "--output", "x.html")
    assert ran.status == 0, ran.err
    return book.folder / "x.html"


@pytest.mark.parametrize("make", [of_a_book, of_a_pdf])
def test_html_is_shown_and_not_live(
    tmp_path: Path, make: Callable[[BookFolder, list[str]], Path]
) -> None:
    folders = {"plain": tmp_path / "plain", "hostile": tmp_path / "hostile"}
    for folder in folders.values():
        folder.mkdir()
    plain = Seen(make(BookFolder(folders["plain"]), PLAIN))
    hostile = Seen(make(BookFolder(folders["hostile"]), SAID))
    assert hostile.elements == plain.elements
    for one, other in zip(PLAIN, SAID, strict=True):
        assert (one in plain.said) == (
            other in hostile.said or other.translate(FOR_NAMES) in hostile.said
        )
    assert all(one in plain.said for one in PLAIN[:2])
