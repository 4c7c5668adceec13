"""The embedded default: a real book from Python packages alone."""

from __future__ import annotations

import importlib.metadata
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pymupdf
import pytest
from pypdf import PdfReader

from fitter.book.loader import load_book
from fitter.engines import typst
from fitter.engines.engine import engine_of
from fitter.errors import ProgramFailed
from tests.conftest import ROOT, BookFolder, packaged_pandoc, path_with

MakeBook = Callable[..., BookFolder]


def pages_by_qpdf(pdf: Path) -> int:
    """The page count as qpdf reads it."""
    done = subprocess.run(["qpdf", "--show-npages", pdf], capture_output=True, check=True)
    return int(done.stdout)


@pytest.fixture
def python_alone(tmp_path: Path) -> str:
    """A PATH with nothing on it but Python."""
    return path_with(tmp_path / "bin", python3=sys.executable).split(":")[0]


def test_the_whole_job_needs_nothing_but_python(
    make_markdown_book: MakeBook, python_alone: str
) -> None:
    book = make_markdown_book()
    settings = (book.folder / "book.yaml").read_text().replace("engine: typst\n", "")
    built = book.write("book.yaml", settings).fitter("build", "--format", "json", PATH=python_alone)
    assert built.status == 0, built.err + built.out
    report = built.report
    plan = report["plan"]
    assert report["check"]["passed"]
    assert plan["extent"] % 16 == 0
    assert sum(f["pages"] for f in plan["fillers"]) + plan["end_blanks"] == plan["left_over"]
    assert pages_by_qpdf(book.folder / "build/book.pdf") == plan["extent"]
    assert built.err.splitlines().count("draft: pandoc") == 1
    assert "final: pandoc" not in built.err, "the choice of fillers is handed to Typst itself"
    assert report["engine_runs"] == 4, "the book and its fillers, as a draft and as the final"


def test_an_unchanged_book_runs_nothing(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book()
    first = book.fitter("build", "--format", "json").report
    again = book.fitter("build", "--format", "json")
    assert again.report["engine_runs"] == 0
    assert again.report["plan"] == first["plan"]
    assert "pandoc" not in again.err


def test_the_same_book_gives_the_same_pdf(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book()
    pdf = book.folder / "build/book.pdf"
    assert book.fitter("build").status == 0
    first = pdf.read_bytes()
    shutil.rmtree(book.folder / "build")
    assert book.fitter("build").status == 0
    assert pdf.read_bytes() == first


def test_the_record_agrees_with_the_pdf(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book(lengths=(30, 8, 1, 40, 3))
    report = book.fitter("build", "--format", "json").report
    loaded = load_book(book.folder)
    record = engine_of(loaded).record(loaded)
    assert record and record.finished
    assert record.extent == report["plan"]["extent"]
    assert record.text_pages == report["plan"]["text_pages"]
    with pymupdf.open(book.folder / "build/book.pdf") as pdf:
        for opener in record.openers:
            assert "intentionally left blank" in pdf[opener - 1].get_text()
    assert PdfReader(book.folder / "build/book.pdf").page_labels == [
        page.folio for page in record.pages
    ]
    assert record.openers
    assert {span.id: span.pages for span in record.fillers} == {
        filler["id"]: filler["pages"] for filler in report["plan"]["fillers"]
    }


def test_candidates_are_measured_as_long_as_they_become(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book()
    book.write(
        "fillers.yaml",
        "fillers:\n  - {id: tables, source: fillers/tables.md, required: true}\n"
        "  - {id: bio, source: fillers/bio.md, required: true}\n"
        "  - {id: notes, page: notes, pages: 1..16}\n",
    )
    assert book.fitter("build").status == 0
    loaded = load_book(book.folder)
    record = engine_of(loaded).record(loaded)
    assert record
    stand = {span.id: span.pages for span in record.fillers}
    assert record.takes == {"tables": stand["tables"], "bio": stand["bio"]}
    assert record.takes["tables"] > 1


def test_a_front_filler_stands_at_its_slot(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book()
    book.write(
        "fillers.yaml",
        "fillers:\n  - {id: praise, source: fillers/bio.md, place: front, required: true}\n"
        "  - {id: blank, page: marked-blank, place: front, pages: 1..3}\n"
        "  - {id: notes, page: notes, pages: 1..16}\n",
    )
    report = book.fitter("build", "--format", "json").report
    assert report["check"]["passed"]
    with pymupdf.open(book.folder / "build/book.pdf") as pdf:
        praise = report["plan"]["fillers"][0]
        assert "Born by the river" in pdf[praise["first_page"] - 1].get_text()
        assert "Why this book" in pdf[praise["first_page"] - 2].get_text()


def test_ready_pdf_pages_are_placed_whole(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book()
    announcement = pymupdf.open()
    for words in ("Announcement one", "Announcement two"):
        page = announcement.new_page(width=129 / 25.4 * 72, height=198 / 25.4 * 72)
        page.insert_text((20, 30), words)
        page.draw_rect(page.rect)
    announcement.save(book.folder / "fillers/ad.pdf")
    book.write(
        "fillers.yaml",
        "fillers:\n  - {id: ad, source: fillers/ad.pdf, required: true}\n"
        "  - {id: notes, page: notes, pages: 1..16}\n",
    )
    report = book.fitter("build", "--format", "json").report
    assert report["check"]["passed"]
    first = report["plan"]["fillers"][0]["first_page"]
    with pymupdf.open(book.folder / "build/book.pdf") as pdf:
        placed = pdf[first]
        assert placed.get_text().split() == ["Announcement", "two"]
        ready = announcement[1].search_for("Announcement")[0]
        found = placed.search_for("Announcement")[0]
        assert (found.x0, found.y0) == pytest.approx((ready.x0, ready.y0), abs=0.5)


def test_a_missing_or_old_typst_is_told_with_the_remedy(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(typst, "version", lambda name: "0.13.7")
    with pytest.raises(ProgramFailed, match=r"0\.13\.7, and 0\.15 or newer.*pip install"):
        typst.require_typst()

    def absent(name: str) -> str:
        raise importlib.metadata.PackageNotFoundError(name)

    monkeypatch.setattr(typst, "version", absent)
    with pytest.raises(ProgramFailed, match=r"not installed.*book-fitter\[embedded\]"):
        typst.require_typst()


def test_typst_shows_its_own_message_with_the_line(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book()
    book.write("chapters/2.md", "# Crossing\n\n`#nonsense()`{=typst}\n")
    built = book.fitter("build")
    assert built.status == 3
    assert "unknown variable: nonsense" in built.err
    assert "build/book.typ:" in built.err
    assert "filler" not in built.err.splitlines()[-1]


def test_a_filler_that_does_not_compile_is_named(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book()
    book.write("fillers/bio.md", "# About\n\n`#nonsense()`{=typst}\n")
    built = book.fitter("build")
    assert built.status == 3
    assert "This is the filler 'bio'" in built.err


def test_a_latex_book_is_no_book_for_typst(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", "").write("book.yaml", "source: book.tex\nengine: typst\n")
    built = book_folder.fitter("build")
    assert built.status == 2
    assert "Typst sets Markdown books only" in built.err


def test_a_filler_cannot_read_outside_the_folder(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book()
    (book.folder.parent / "secret.txt").write_text("secret")
    book.write("fillers/bio.md", '# About\n\n`#read("../secret.txt")`{=typst}\n')
    built = book.fitter("build")
    assert built.status == 3
    assert "secret.txt" in built.err and "would escape the project root" in built.err


def test_a_newer_pandoc_on_the_path_is_used(make_markdown_book: MakeBook, tmp_path: Path) -> None:
    path = path_with(tmp_path / "bin", pandoc=packaged_pandoc())
    assert make_markdown_book().fitter("build", PATH=path).status == 0


def test_the_text_type_is_the_one_that_comes_with_typst(make_markdown_book: MakeBook) -> None:
    assert make_markdown_book(lengths=(2,)).fitter("build").status == 0
    import typst as compiler

    families = {
        font.family: font.path
        for font in compiler.Fonts(include_system_fonts=False).fonts()
        if font.family == typst.TEXT_TYPE
    }
    assert families == {typst.TEXT_TYPE: None}


def test_a_build_stopped_at_any_moment_can_be_repeated(make_markdown_book: MakeBook) -> None:
    book = make_markdown_book()
    before = {path: path.read_bytes() for path in book.folder.rglob("*") if path.is_file()}
    for wait in (0.3, 0.6, 0.9, 1.3):
        process = subprocess.Popen(
            [sys.executable, "-m", "fitter", "build"],
            cwd=book.folder,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stderr=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
        )
        time.sleep(wait)
        process.kill()
        process.wait()
    assert all(path.read_bytes() == content for path, content in before.items())
    assert book.fitter("build").status == 0
