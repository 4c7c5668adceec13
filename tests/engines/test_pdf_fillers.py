"""Ready PDFs and pictures as fillers of Markdown books, with every engine."""

from __future__ import annotations

from collections.abc import Callable

import pymupdf
import pytest

from tests.conftest import BookFolder

MakeBook = Callable[..., BookFolder]
ENGINES = ("pdflatex", "lualatex", "xelatex", "typst")
MM = 72 / 25.4
CATALOGUE = """fillers:
  - {id: ad, source: fillers/ad.pdf, required: true}
  - {id: portrait, source: fillers/portrait.md, required: true}
  - {id: notes, page: notes, pages: 1..16}
"""


def announcement(width_mm: float) -> pymupdf.Document:
    ready = pymupdf.open()
    for words in ("Announcement one", "Announcement two"):
        ready.new_page(width=width_mm * MM, height=198 * MM).insert_text((20, 30), words)
    return ready


@pytest.fixture
def book(make_markdown_book: MakeBook) -> Callable[..., BookFolder]:
    def make(engine: str, width_mm: float = 129) -> BookFolder:
        made = make_markdown_book(engine, lengths=(3,)).write("fillers.yaml", CATALOGUE)
        announcement(width_mm).save(made.folder / "fillers/ad.pdf")
        made.write("fillers/portrait.md", "# The Author\n\n![At the river](face.pdf)\n")
        face = pymupdf.open()
        face.new_page(width=100, height=60).insert_text((20, 30), "a face")
        face.save(made.folder / "face.pdf")
        return made

    return make


@pytest.mark.parametrize("engine", ENGINES)
def test_ready_pages_are_placed_whole_and_pictures_come_along(
    book: Callable[..., BookFolder], engine: str
) -> None:
    made = book(engine)
    built = made.fitter("build", "--format", "json")
    assert built.status == 0, built.err + built.out
    at = {filler["id"]: filler["first_page"] for filler in built.report["plan"]["fillers"]}
    with pymupdf.open(made.folder / "build/book.pdf") as pdf:
        for number, words in enumerate(("Announcement one", "Announcement two")):
            page = pdf[at["ad"] - 1 + number]
            assert " ".join(page.get_text().split()) == words
            ready = announcement(129)[number].search_for("Announcement")[0]
            found = page.search_for("Announcement")[0]
            assert (found.x0, found.y0) == pytest.approx((ready.x0, ready.y0), abs=1)
        portrait = pdf[at["portrait"] - 1].get_text()
        assert "The Author" in portrait and "a face" in portrait and "At the river" in portrait


@pytest.mark.parametrize("engine", ENGINES)
@pytest.mark.parametrize("name", ["an ad#2", "a~d", "100% ad"])
def test_a_file_may_have_a_name_that_acts_in_tex(
    book: Callable[..., BookFolder], engine: str, name: str
) -> None:
    made = book(engine)
    (made.folder / "fillers/ad.pdf").rename(made.folder / f"fillers/{name}.pdf")
    ending = "md" if engine == "typst" else "tex"
    made.write(f"fillers/{name}.{ending}", "The words behind the name.\n")
    made.write(
        "fillers.yaml",
        f"fillers:\n  - {{id: ad, source: 'fillers/{name}.pdf', required: true}}\n"
        f"  - {{id: words, source: 'fillers/{name}.{ending}', required: true}}\n"
        "  - {id: notes, page: notes, pages: 1..16}\n",
    )
    built = made.fitter("build")
    assert built.status == 0, built.err
    with pymupdf.open(made.folder / "build/book.pdf") as pdf:
        text = "".join(page.get_text() for page in pdf)
    assert "Announcement two" in " ".join(text.split())
    assert "The words behind the name." in text


@pytest.mark.parametrize("engine", ENGINES)
def test_an_encrypted_pdf_is_refused(book: Callable[..., BookFolder], engine: str) -> None:
    made = book(engine)
    announcement(129).save(
        made.folder / "fillers/ad.pdf", encryption=pymupdf.PDF_ENCRYPT_AES_256, owner_pw="o"
    )
    built = made.fitter("build")
    assert built.status == 2
    assert "fillers.yaml:2: 'fillers/ad.pdf' is encrypted" in built.err
    assert "Save it without encryption" in built.err


@pytest.mark.parametrize("engine", ["pdflatex", "typst"])
def test_another_size_is_refused_with_both_sizes(
    book: Callable[..., BookFolder], engine: str
) -> None:
    built = book(engine, width_mm=148).fitter("build")
    assert built.status == 2
    assert "148 × 198 mm" in built.err and "129 × 198 mm" in built.err
