"""From Markdown to one LaTeX or Typst file: what pandoc is given, and what it may not be given."""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from pathlib import Path

import pymupdf
import pytest

from tests.conftest import FRONT, BookFolder

MakeBook = Callable[..., BookFolder]
ENGINES = ("typst", "pdflatex")


def text_of(pdf: Path) -> str:
    """The PDF's text as poppler reads it."""
    done = subprocess.run(["pdftotext", pdf, "-"], capture_output=True, text=True, check=True)
    return " ".join(done.stdout.split())


def built(book: BookFolder) -> str:
    ran = book.fitter("build")
    assert ran.status == 0, ran.err + ran.out
    return text_of(book.folder / "build/book.pdf")


@pytest.mark.parametrize("engine", ENGINES)
def test_all_of_pandocs_markdown_comes_out(make_markdown_book: MakeBook, engine: str) -> None:
    book = make_markdown_book(engine)
    picture = pymupdf.open()
    picture.new_page(width=100, height=50).insert_text((10, 30), "drawn")
    picture.save(book.folder / "picture.pdf")
    book.write(
        "refs.bib",
        "@book{rook, author={Rook, Ansel}, title={Tides}, publisher={Nobody}, year={1999}}\n",
    )
    book.write(
        "chapters/9.md",
        "---\nbibliography: refs.bib\n---\n\n# Everything\n\nA note.^[In the foot.] "
        "Cited [@rook].\n"
        "\n![A picture](picture.pdf)\n\n| Day | Tide |\n|-----|------|\n| Monday | high |\n\n"
        ": The tides\n\nA *word* and `code` and\n\n> a quotation.\n\n***\n\n1. one\n2. two\n\n"
        "```\nverbatim { % } \\\n```\n\nTerm\n:   Its meaning\n",
    )
    text = built(book)
    for words in ("In the foot.", "Rook 1999", "Tides", "drawn", "A picture", "Monday", "The tides",
                  "a quotation.", "verbatim { % } \\", "Its meaning"):  # fmt: skip
        assert words in text


@pytest.mark.parametrize("engine", ENGINES)
def test_the_books_own_metadata_goes_before_book_yaml(
    make_markdown_book: MakeBook, engine: str
) -> None:
    book = make_markdown_book(engine, front="---\ntitle: The Other Title\n---\n\n" + FRONT)
    text = built(book)
    assert "The Other Title" in text and "A Small Book" not in text
    assert "N. N." in text


@pytest.mark.parametrize("engine", ENGINES)
def test_text_from_yaml_comes_out_as_typed_and_runs_nothing(
    make_markdown_book: MakeBook, engine: str
) -> None:
    title = r"50% & $x$ #1 _a_ {b} ~c^ \write18{touch run} #panic() *d* <f> @g [h](i)"
    book = make_markdown_book(engine)
    settings = (book.folder / "book.yaml").read_text().replace("A Small Book", f"'{title}'")
    text = built(book.write("book.yaml", settings))
    assert title in text.replace("ˆ", "^")  # pdfTeX's fonts have the accent for the sign
    assert not (book.folder / "run").exists()


@pytest.mark.parametrize("engine", ENGINES)
def test_a_file_that_is_not_utf8_is_named_with_its_line(
    make_markdown_book: MakeBook, engine: str
) -> None:
    book = make_markdown_book(engine)
    (book.folder / "chapters/2.md").write_bytes("# Crossing\n\nCaf\xe9\n".encode("latin-1"))
    ran = book.fitter("build")
    assert ran.status == 2
    assert ran.err.splitlines()[-1] == (
        "fitter: chapters/2.md:3: this is not UTF-8. Save the file as UTF-8."
    )


@pytest.mark.parametrize("engine", ENGINES)
def test_a_missing_image_is_told_in_pandocs_words(
    make_markdown_book: MakeBook, engine: str
) -> None:
    book = make_markdown_book(engine)
    book.write("chapters/2.md", "# Crossing\n\n![Gone](images/gone.png)\n")
    ran = book.fitter("build")
    assert ran.status == 2
    assert "images/gone.png: the image is not there" in ran.err
    assert "[WARNING] Could not fetch resource" in ran.err
    assert not (book.folder / "build/book.pdf").exists()


def test_two_notes_with_one_name_are_no_book(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book()
    for number in (1, 2):
        book.write(f"chapters/{number}.md", f"# Crossing\n\nWord.[^1]\n\n[^1]: Note {number}.\n")
    ran = book.fitter("build")
    assert ran.status == 2
    assert "Two notes have one name" in ran.err


@pytest.mark.parametrize("engine", ENGINES)
def test_a_new_image_of_the_same_name_is_set_anew(
    make_markdown_book: MakeBook, engine: str
) -> None:
    book = make_markdown_book(engine)
    book.write("chapters/2.md", "# Crossing\n\n![Seen](images/seen.pdf)\n")
    (book.folder / "images").mkdir()
    for words in ("before", "after"):
        picture = pymupdf.open()
        picture.new_page(width=100, height=50).insert_text((10, 30), words)
        picture.save(book.folder / "images/seen.pdf")
        assert words in built(book)


def test_images_may_be_named_from_the_chapters_own_folder(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book()
    book.write("chapters/2.md", "# Crossing\n\n![Beside](beside.pdf)\n")
    picture = pymupdf.open()
    picture.new_page(width=100, height=50).insert_text((10, 30), "drawn")
    picture.save(book.folder / "chapters/beside.pdf")
    assert "drawn" in built(book)


def test_a_file_of_somebody_elses_is_not_written_over(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book("pdflatex").write("build/book.tex", "mine")
    ran = book.fitter("build")
    assert ran.status == 2
    assert "build/book.tex: this file is not of fitter's making" in ran.err
    assert (book.folder / "build/book.tex").read_text() == "mine"


@pytest.mark.parametrize("engine", ENGINES)
def test_settings_are_pandocs_variables(make_markdown_book: MakeBook, engine: str) -> None:
    book = make_markdown_book(engine, lengths=(40,))
    counts = []
    for value in ("1.0", "1.3"):
        settings = f"settings:\n  linestretch: {{values: [1.0, 1.3], default: {value}}}\n"
        text = (book.folder / "book.yaml").read_text().split("settings:")[0]
        book.write("book.yaml", text + settings)
        for inserts in book.folder.glob("*-inserts.*"):
            inserts.unlink()  # they remember the value that was chosen
        counts.append(book.fitter("build", "--format", "json").report["plan"]["text_pages"])
    assert counts[1] > counts[0]
