"""Markdown fillers in LaTeX books."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.conftest import ROOT, BookFolder, both_pandocs, path_with

MakeBook = Callable[..., BookFolder]
FILLER = """---
title: Not this title
author: Nor this author
lang: de
header-includes: \\undefinedcommand
---

# About *the* Author {#one}

Born by the river, see [elsewhere](#one) and [a page](https://example.org/x_y).^[A note.]

- one thing
- another

```
code % { \\end{document}
\\end{filecontents*}
\\fitterSetting{leading}{7}
```

é ß — “quoted”
"""
CATALOGUE = """fillers:
  - {id: bio, source: fillers/bio.md, required: true}
  - {id: notes, page: notes, pages: 1..16}
"""


def text_of(pdf: Path) -> str:
    """The PDF's text as poppler reads it."""
    done = subprocess.run(["pdftotext", pdf, "-"], capture_output=True, text=True, check=True)
    return done.stdout


@pytest.fixture
def book(make_latex_book: MakeBook) -> MakeBook:
    def make(engine: str = "pdflatex", filler: str = FILLER, **source: str) -> BookFolder:
        packages = "\\usepackage{lmodern}\\usepackage[T1]{fontenc}" if engine == "pdflatex" else ""
        made = make_latex_book(engine, packages=packages, **source)
        return made.write("fillers/bio.md", filler).write("fillers.yaml", CATALOGUE)

    return make


@pytest.mark.parametrize("engine", ["pdflatex", "lualatex", "xelatex"])
def test_a_markdown_filler_is_set_in_a_latex_book(book: MakeBook, engine: str) -> None:
    made = book(engine)
    built = made.fitter("build", "--format", "json")
    assert built.status == 0, built.err + built.out
    text = text_of(made.folder / "build/book.pdf")
    for words in ("About the Author", "Born by the river", "A note.", "one thing", "another"):
        assert words in text
    assert "code % { \\end{document}" in text
    assert "\\end{filecontents*}" in text
    assert "é ß — “quoted”" in text
    assert "Not this title" not in text
    assert "Chapter 5" not in text


@pytest.mark.parametrize("name", ["bio.MD", "bio.markdown"])
def test_markdown_has_more_than_one_ending(book: MakeBook, name: str) -> None:
    made = book().write(f"fillers/{name}", "# About *the* Author\n\nBy 100 % & more.\n")
    made.write("fillers.yaml", CATALOGUE.replace("bio.md", name))
    built = made.fitter("build")
    assert built.status == 0, built.err + built.out
    assert "By 100 % & more." in text_of(made.folder / "build/book.pdf")


def test_the_book_builds_elsewhere_with_the_inserts_alone(book: MakeBook) -> None:
    made = book()
    assert made.fitter("build").status == 0
    before = text_of(made.folder / "build/book.pdf")
    subprocess.run(["rm", "-r", made.folder / "build", made.folder / "fillers"], check=True)
    subprocess.run(
        ["latexmk", "-pdf", "-outdir=build", "-interaction=nonstopmode", "book.tex"],
        cwd=made.folder,
        env={**os.environ, "TEXINPUTS": f"{ROOT / 'latex'}:"},
        capture_output=True,
        check=True,
    )
    assert text_of(made.folder / "build/book.pdf") == before


@pytest.mark.parametrize(
    "said", ["", "output: book.pdf\nbuild: [pdflatex, book.tex]\n"], ids=["build", "own"]
)
def test_a_chapter_may_be_named_after_book_and_filler(book: MakeBook, said: str) -> None:
    chapter = "\\chapter{The Sea}\nBy the author of the book.\n"
    made = book(end="\\input{book-bio}").write("book-bio.tex", chapter)
    made.write("book.yaml", (made.folder / "book.yaml").read_text() + said)
    built = made.fitter("build")
    assert built.status == 0, built.err + built.out
    text = text_of(next(made.folder.rglob("book.pdf")))
    assert "By the author of the book." in text
    assert "Born by the river" in text
    assert (made.folder / "book-bio.tex").read_text() == chapter


def test_a_page_of_a_filler_is_placed_where_the_book_was_read(book: MakeBook) -> None:
    made = book(filler="# About\n\nBorn.\n\n`\\newpage\\null\\newpage`{=latex}\n\nEnd.\n")
    assert made.fitter("build").status == 1
    (found,) = made.fitter("check", "--format", "json").report["findings"]
    source = (made.folder / "book.tex").read_text().splitlines()
    assert found["rule"] == "furniture-only"
    assert source[found["line"] - 1] == "\\end{document}"


def test_a_filler_may_be_named_as_the_inserts_are(book: MakeBook) -> None:
    made = book().write("fillers.yaml", CATALOGUE.replace("bio,", "inserts,"))
    built = made.fitter("build")
    assert built.status == 0, built.err + built.out
    assert "Born by the river" in text_of(made.folder / "build/book.pdf")


def test_code_with_a_language_wants_no_definitions(book: MakeBook) -> None:
    filler = "# About\n\n```python\nprint(1)\n```\n\nThe word `x`{.python}.\n"
    built = book(filler=filler).fitter("build")
    assert built.status == 0, built.err


def test_a_filler_that_pandoc_warns_of_is_named(book: MakeBook) -> None:
    built = book(filler="# About\n\n![Gone](gone.png)\n").fitter("build")
    assert built.status == 2
    assert "The filler 'bio': gone.png: the image is not there" in built.err


@pytest.mark.parametrize("command", [("build",), ("tighten", "--take-back")])
def test_what_pandoc_warns_of_in_a_filler_is_told_once(
    book: MakeBook, command: tuple[str, ...]
) -> None:
    made = book()
    with_settings = (made.folder / "book.yaml").read_text() + "settings: {x: {values: [1, 2]}}\n"
    assert made.write("book.yaml", with_settings).fitter("build").status == 0
    inserts = (made.folder / "book-inserts.tex").read_text()
    made.write("book-inserts.tex", inserts.replace("{x}{1}", "{x}{2}"))
    made.write("fillers/bio.md", "# About\n\nSee [it][a].\n\n[a]: https://one.example\n[a]: 2\n")
    built = made.fitter(*command)
    assert built.status == 0, built.err
    said = built.err.splitlines()
    at = said.index("fillers: pandoc: the filler 'bio'")
    assert said[at + 1].startswith("fillers: pandoc: [WARNING] Duplicate link reference")
    assert "pandoc" not in made.fitter("build").err


def test_a_filler_that_tex_stops_at_is_named(book: MakeBook) -> None:
    built = book(filler="# About\n\n`\\nonsense`{=latex}\n").fitter("build")
    assert built.status == 3
    assert "Undefined control sequence" in built.err
    assert "'bio'" in built.err


def test_a_filler_that_is_not_utf8_is_named_with_its_line(book: MakeBook) -> None:
    made = book()
    (made.folder / "fillers/bio.md").write_bytes(b"# About\n\nCaf\xe9\n")
    built = made.fitter("build")
    assert built.status == 2
    assert "fillers/bio.md:3: this is not UTF-8" in built.err


def test_without_any_pandoc_the_remedy_is_told(book: MakeBook, tmp_path: Path) -> None:
    made = book()
    programs = path_with(tmp_path / "bin", pdflatex="/usr/bin/pdflatex").split(":")[0]
    hidden = "import sys; sys.modules['pypandoc'] = None"
    made.write("sitecustomize.py", hidden)
    built = made.fitter("build", PATH=programs, PYTHONPATH=f"{made.folder}:{ROOT}")
    assert built.status == 3
    assert "pandoc is not installed" in built.err


@pytest.mark.parametrize("name", ["system", "packaged"])
def test_both_pandocs_make_a_filler(book: MakeBook, tmp_path: Path, name: str) -> None:
    path = path_with(tmp_path / "bin", pandoc=both_pandocs()[name])
    built = book().fitter("build", PATH=path)
    assert built.status == 0, built.err
