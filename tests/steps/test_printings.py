"""A real book built again with small changes: what is found is what poppler sees, and no more."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from fitter.steps.printings import Compared, compare_pdfs
from fitter.trade.printing.limits import EditionLimits
from tests.conftest import ROOT, BookFolder

CHAPTER = "chapters/05-mrs-tollivers-back-room.md"
PARAGRAPH = (
    "The clerk counted the hooks along the wall, as she counted everything that stood in a row, "
    "and found one more than there were aprons. Nobody had ever seen an apron on it. It had been "
    "put up, they said, for whoever came next, and whoever came next had always brought a nail."
)


def built(folder: BookFolder) -> Path:
    """The sample book's PDF, built where it lies."""
    ran = folder.fitter("build")
    assert ran.status == 0, ran.err
    return folder.folder / "build" / "book.pdf"


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> BookFolder:
    """A copy of the sample book with its first printing beside it, as first.pdf."""
    folder = tmp_path_factory.mktemp("sample") / "book"
    shutil.copytree(ROOT / "sample_book", folder)
    book = BookFolder(folder)
    shutil.copy(built(book), folder / "first.pdf")
    return book


def changed(sample: BookFolder, old: str, new: str) -> tuple[Compared, list[int]]:
    """The book built with a change, compared with the first; the pages poppler finds changed."""
    source = sample.folder / CHAPTER
    before = source.read_text(encoding="utf-8")
    assert before.count(old) == 1
    source.write_text(before.replace(old, new), encoding="utf-8")
    try:
        first, second = sample.folder / "first.pdf", built(sample)
        seen = [
            n
            for n, pair in enumerate(zip(pages(first), pages(second), strict=True), 1)
            if pair[0] != pair[1]
        ]
        return compare_pdfs(first, second, EditionLimits()), seen
    finally:
        source.write_text(before, encoding="utf-8")


def pages(pdf: Path) -> list[str]:
    """The text of each page as poppler reads it."""
    done = subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, check=True)
    return done.stdout.decode().split("\f")[:-1]


def a_word(sample: BookFolder) -> str:
    """Five words in a row from the middle of the chapter."""
    words = (sample.folder / CHAPTER).read_text(encoding="utf-8").split("\n\n")
    line = words[len(words) // 2].splitlines()[0]
    return " ".join(line.split()[1:6])


def test_the_same_source_is_a_new_printing(sample: BookFolder) -> None:
    first = sample.folder / "first.pdf"
    compared = compare_pdfs(first, first, EditionLimits())
    assert compared.advice.verdict == "new printing"


def test_one_word_changed_is_found_on_exactly_its_page(sample: BookFolder) -> None:
    words = a_word(sample).split()
    compared, seen = changed(sample, " ".join(words), " ".join([*words[:2], "ropes", *words[3:]]))
    found = [page for page in compared.comparison.pages if page.kind != "same"]
    assert [page.page for page in found] == seen
    assert {page.kind for page in found} == {"corrected"}
    assert sum(page.changed_words for page in found) == 1
    assert compared.advice.verdict == "corrected printing"


def test_a_paragraph_put_in_moves_text_and_it_says_where_it_settles(sample: BookFolder) -> None:
    paragraphs = (sample.folder / CHAPTER).read_text(encoding="utf-8").split("\n\n")
    compared, seen = changed(sample, paragraphs[2], f"{paragraphs[2]}\n\n{PARAGRAPH}")
    found = [page.page for page in compared.comparison.pages if page.kind != "same"]
    assert found == seen
    (moved,) = compared.comparison.movements
    assert (moved.first, moved.settled) == (seen[1], seen[-1] + 1)
    assert 30 <= moved.words <= 80
    assert 3 <= moved.lines <= 9
    assert compared.advice.verdict == "corrected printing"
