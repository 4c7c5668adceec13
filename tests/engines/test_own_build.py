"""An author's own pandoc line, Makefile-like steps, own Typst: with the filter they all fit."""

from __future__ import annotations

import itertools
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from fitter.package import data_file
from tests.conftest import BookFolder, both_pandocs, packaged_pandoc, path_with

MakeBook = Callable[..., BookFolder]
ENDED = """printf '\\\\relax \\n\\\\@writefile{to' > book.aux
cp book.aux last.aux
cp book.aux book.toc
kill -9 $PPID
"""
DEFAULTS = """input-files: [front.md, chapters/1.md, chapters/2.md, chapters/3.md, chapters/4.md]
output-file: build/book.pdf
standalone: true
filters: [{type: lua, path: "${FITTER_FILTER}"}]
pdf-engine: ENGINE
top-level-division: chapter
table-of-contents: true
metadata:
  title: A Small Book
  documentclass: book
  geometry: [paperwidth=129mm, paperheight=198mm, margin=20mm]
"""


@pytest.mark.parametrize(
    ("engine", "pandoc"),
    [("pdflatex", "system"), ("lualatex", "packaged"), ("xelatex", "system")],
)
def test_one_pandoc_line_that_makes_the_pdf(
    make_markdown_book: MakeBook, tmp_path: Path, engine: str, pandoc: str
) -> None:
    book = make_markdown_book(
        engine, settings="binding: {gathering: 16}\nbuild: [pandoc, -d, own.yaml]\n"
    )
    book.write("own.yaml", DEFAULTS.replace("ENGINE", engine))
    catalogue = (book.folder / "fillers.yaml").read_text()
    book.write("fillers.yaml", catalogue.replace("bio.md, priority: 1", "bio.md, required: true"))
    path = path_with(tmp_path / "bin", pandoc=both_pandocs()[pandoc])
    built = book.fitter("build", "--format", "json", PATH=path)
    assert built.status == 0, built.err + built.out
    plan = built.report["plan"]
    assert plan["extent"] % 16 == 0
    assert "bio" in {filler["id"] for filler in plan["fillers"]}
    assert sum(filler["pages"] for filler in plan["fillers"]) == plan["left_over"]


def test_pandoc_to_typst_and_typst_of_ones_own(
    make_markdown_book: MakeBook, tmp_path: Path
) -> None:
    script = (
        "mkdir -p build && pandoc front.md chapters/*.md --standalone --toc "
        '--lua-filter="$FITTER_FILTER" --metadata title=Own '
        "--variable margin.x=20mm --output=build/book.typ && "
        f"{sys.executable} -c 'import typst; "
        'typst.compile("build/book.typ", output="build/book.pdf", root=".")\''
    )
    settings = "binding: {gathering: 16}\nbuild: [sh, own.sh]\n"
    book = make_markdown_book(settings=settings).write("own.sh", script)
    yaml = (book.folder / "book.yaml").read_text().replace("trim: 129 x 198 mm\n", "")
    book.write("book.yaml", yaml)
    path = path_with(tmp_path / "bin", pandoc=packaged_pandoc())
    built = book.fitter("build", "--format", "json", PATH=path)
    assert built.status == 0, built.err + built.out
    assert built.report["plan"]["extent"] % 16 == 0


def test_a_build_that_leaves_no_typst_source_is_told_so(make_markdown_book: MakeBook) -> None:
    settings = "binding: {gathering: 16}\nbuild: [sh, -c, 'mkdir -p build']\n"
    built = make_markdown_book(settings=settings).fitter("build")
    assert built.status == 2
    assert "build/book.typ: the build left no Typst source" in built.err


def test_a_build_without_the_filter_is_told_so(make_markdown_book: MakeBook) -> None:
    settings = "binding: {gathering: 16}\nbuild: [sh, own.sh]\n"
    book = make_markdown_book("pdflatex", settings=settings)
    book.write("own.sh", "mkdir -p build && pandoc front.md --output=build/book.pdf\n")
    built = book.fitter("build")
    assert built.status == 2
    assert "pandoc ran without the filter" in built.err
    assert "fitter path pandoc" in built.err


def test_the_filters_path_is_printed(book_folder: BookFolder) -> None:
    printed = book_folder.fitter("path", "pandoc")
    assert printed.status == 0
    assert Path(printed.out.strip()) == data_file("fitter.lua")
    beside = Path(printed.out.strip()).with_name("fitter.typ")
    assert beside.is_file()


@pytest.mark.parametrize(
    ("name", "to"), [*itertools.product(("system", "packaged"), ("epub", "html", "docx"))]
)
def test_the_same_source_makes_an_electronic_edition(
    make_markdown_book: MakeBook, tmp_path: Path, name: str, to: str
) -> None:
    book = make_markdown_book()
    assert book.fitter("build").status == 0
    script = (
        f'{both_pandocs()[name]} --lua-filter="{data_file("fitter.lua")}" --standalone '
        f"front.md chapters/*.md --output=book.{to} --metadata title=T && "
        f"{both_pandocs()['system']} book.{to} --to=plain --wrap=none"
    )
    done = subprocess.run(
        ["sh", "-c", script], cwd=book.folder, capture_output=True, text=True, check=True
    )
    assert "1 2 3 4 5 6 7 8 9 10" in done.stdout
    assert "intentionally left blank" not in done.stdout


def test_after_an_ended_run_only_what_tex_wrote_is_swept(make_latex_book: MakeBook) -> None:
    book = make_latex_book(
        settings="binding: {gathering: 16}\noutput: book.pdf\nbuild: [sh, own.sh]\n",
        end="\\include{last}",
    )
    book.write("last.tex", "The end.").write("other.tex", "")
    book.write("own.sh", ENDED)
    kept = {"book.out": "my own", "other.aux": "\\relax", "notes/some.aux": "my own"}
    for name, text in kept.items():
        book.write(name, text)
    assert book.fitter("build").status == -9
    assert not (book.folder / "book.pdf").exists()
    book.write("own.sh", "pdflatex book\n")
    built = book.fitter("build")
    assert built.status == 0, built.err
    assert {name: (book.folder / name).read_text() for name in kept} == kept
