"""Nothing of an author's is written over, and nothing outside through a link."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pymupdf
import pytest

from tests.conftest import BookFolder

MakeBook = Callable[..., BookFolder]
BESIDE = "binding: {gathering: 16}\noutput: book.pdf\n"


def files(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, with its bytes."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def untouched(book: BookFolder) -> None:
    """Build; every file that was there is as it was."""
    before = files(book.folder)
    built = book.fitter("build")
    assert built.status in (0, 1), built.err
    after = files(book.folder)
    assert {name: after.get(name) for name in before} == before


def test_a_filler_in_latex_beside_the_one_in_markdown_stays(make_latex_book: MakeBook) -> None:
    book = make_latex_book(settings=BESIDE)
    book.write("fillers/bio.md", "Born *by* the river.\n").write("fillers/bio.json", "{}")
    catalogue = (book.folder / "fillers.yaml").read_text()
    untouched(book.write("fillers.yaml", catalogue.replace("bio.tex", "bio.md")))


@pytest.mark.parametrize("engine", ["pdflatex", "typst"])
def test_images_and_metadata_of_the_author_stay(make_markdown_book: MakeBook, engine: str) -> None:
    book = make_markdown_book(engine, settings=BESIDE)
    (book.folder / "media").mkdir()
    for name, grey in (("cover.png", 0), ("media/cover.png", 200)):
        pixels = pymupdf.Pixmap(pymupdf.csGRAY, (0, 0, 8, 8), False)
        pixels.clear_with(grey)
        pixels.save(book.folder / name)
    for name in ("book.tex.yaml", "book.tex.json", "book.typ.yaml", "book.typeset.json"):
        book.write(name, "my own")
    untouched(book.write("chapters/1.md", "# One\n\nText.\n\n![](cover.png)\n"))


@pytest.mark.parametrize(
    ("engine", "folder"),
    [("pdflatex", "book-tex"), ("pdflatex", "book-fitter"), ("typst", "book-fitter")],
)
def test_a_folder_of_the_author_stays_as_it_is(
    make_markdown_book: MakeBook, engine: str, folder: str
) -> None:
    book = make_markdown_book(engine, settings=BESIDE).write(f"{folder}/book.aux", "my own")
    built = book.fitter("build")
    assert built.status == 2
    assert f"{folder}: this folder is not of fitter's making" in built.err
    assert files(book.folder / folder) == {"book.aux": b"my own"}


@pytest.mark.parametrize("own", ["", "build: [pdflatex, book.tex]\n"])
def test_pages_of_a_word_processor_are_no_record(make_latex_book: MakeBook, own: str) -> None:
    book = make_latex_book(settings=BESIDE + own).write("book.pages", "PK\x03\x04 my own")
    built = book.fitter("build")
    assert built.status == 2
    assert "book.pages: what is known of the pages is written to a file of this name" in built.err
    assert (book.folder / "book.pages").read_text() == "PK\x03\x04 my own"


@pytest.mark.parametrize(
    ("engine", "link"),
    [
        ("pdflatex", "build/book-fitter"),
        ("pdflatex", "build/book-fitter/bio.tex"),
        ("pdflatex", "build/book-tex"),
        ("pdflatex", "build/book-tex/book.aux"),
        ("pdflatex", "build/book.pages"),
        ("pdflatex", "build/book.log"),
        ("pdflatex", "build/book.tex"),
        ("typst", "build/book.typ"),
        ("typst", "build/book-fitter/media"),
    ],
)
def test_nothing_is_written_through_a_link(
    make_markdown_book: MakeBook, tmp_path_factory: pytest.TempPathFactory, engine: str, link: str
) -> None:
    outside = tmp_path_factory.mktemp("outside")
    book = make_markdown_book(engine)
    (book.folder / link).parent.mkdir(parents=True)
    (book.folder / link).symlink_to(outside / "x" if "." in Path(link).name else outside)
    built = book.fitter("build")
    assert built.status == 2, built.err
    assert f"{link}: this is a link" in built.err
    assert list(outside.iterdir()) == []


def test_a_folder_left_empty_by_an_ended_run_is_taken(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    (book.folder / "build/book-tex").mkdir(parents=True)
    assert book.fitter("build").status == 0
    tag = (book.folder / "build/book-tex/CACHEDIR.TAG").read_text()
    # Source: Cache Directory Tagging Specification, bford.info/cachedir, "The Cache Directory Tag".
    assert tag.startswith("Signature: 8a477f597d28d172789f06886806bc55")
