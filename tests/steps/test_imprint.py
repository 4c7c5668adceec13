"""The imprint page in real books: every line in its place, in LaTeX and in Markdown."""

from __future__ import annotations

import subprocess

import pytest

from fitter.book.loader import load_book
from fitter.steps.imprint import language_told
from tests.conftest import BookFolder
from tests.poppler import words_by_poppler

NOTES = "fillers:\n  - {id: notes, page: notes, pages: 1..15}\n"

IMPRINT = """imprint:
  publisher: [Wetherlode Press, "4 Rope & Walk_, Ansey 100%"]
  year: 2026
  rights: All rights reserved.
  edition: First edition
  printed: Printed in Ruritania
  isbn: "9781234567897"
  paper: Printed on paper.
  key: {scheme: centred, years: 5, printer: QX, words: First edition}
"""
LATEX = """\\documentclass[twoside]{book}
\\usepackage{fitter}
\\begin{document}
\\frontmatter
\\title{A Small Book}\\author{N. N.}\\maketitle
\\imprintpage
\\tableofcontents
\\mainmatter
\\chapter{One} It rained.
\\end{document}
"""
MARKDOWN = """---
title: A Small Book
---

::: {.imprint-page}
:::

# One

It rained.
"""
WANTED = [
    "Wetherlode Press",
    "4 Rope & Walk_, Ansey 100%",
    "© 2026 N. N.",
    "All rights reserved.",
    "First edition 2026",
    "Printed in Ruritania",
    "First edition",
    "3 5 7 9 10 8 6 4 2 QX 30 29 28 27 26",
    "ISBN 978-1-234-56789-7",
    "Printed on paper.",
]


def book_in(folder: BookFolder, engine: str) -> BookFolder:
    markdown = engine == "typst" or engine.startswith("markdown")
    name = "book.md" if markdown else "book.tex"
    folder.write(name, MARKDOWN if markdown else LATEX)
    folder.write(
        "book.yaml",
        f"title: A Small Book\nauthor: N. N.\nsource: {name}\n"
        f"engine: {engine.removeprefix('markdown-')}\n"
        f"output: build/book.pdf\nbinding: {{gathering: 8}}\n{IMPRINT}",
    )
    folder.write("fillers.yaml", "fillers:\n  - {id: notes, page: notes, pages: 1..8}\n")
    return folder


def imprint_lines(book: BookFolder, page: int) -> list[str]:
    """The imprint page as poppler reads it."""
    command = ["pdftotext", "-layout", "-f", str(page), "-l", str(page), "build/book.pdf", "-"]
    done = subprocess.run(command, cwd=book.folder, capture_output=True, text=True, check=True)
    lines = [" ".join(line.split()).replace("Walk ,", "Walk_,") for line in done.stdout.split("\n")]
    return [line for line in lines if line]


@pytest.mark.parametrize(
    "engine", ["pdflatex", "lualatex", "xelatex", "markdown-pdflatex", "typst"]
)
def test_the_whole_imprint_page_stands_in_its_order(book_folder: BookFolder, engine: str) -> None:
    """Order: The Chicago Manual of Style, 17th ed., copyright page (publisher; ©; rights; edition
    history; Printed in; impression line; ISBN). The ISBN on the verso of the title page: U.S. ISBN
    Agency, "major" page."""
    book = book_in(book_folder, engine)
    built = book.fitter("build", "--format", "json")
    assert built.status == 0, built.err
    assert imprint_lines(book, 2) == WANTED


def test_the_second_printing_drops_the_words_and_keeps_the_numbers(
    book_folder: BookFolder,
) -> None:
    """Source: C. Stark, BookThink 91, answer 1."""
    book = book_in(book_folder, "pdflatex")
    book.write(
        "printings.yaml", "printings:\n- {printing: 1, year: 2026}\n- {printing: 2, year: 2027}\n"
    )
    assert book.fitter("build").status == 0
    lines = imprint_lines(book, 2)
    assert "3 5 7 9 10 8 6 4 2 QX 30 29 28 27" in lines
    assert "First published 2026" in lines
    assert "Second printing 2027" in lines
    assert not any("First edition" in line for line in lines)


@pytest.mark.parametrize("engine", ["markdown-pdflatex", "typst"])
def test_an_imprint_page_of_ones_own_words_looks_the_same(
    book_folder: BookFolder, engine: str
) -> None:
    rights = "No part of this publication may be reproduced in any form, by any means, " * 6
    book = book_in(book_folder, engine)
    settings = (book.folder / "book.yaml").read_text().partition("imprint:")[0]
    settings += f"imprint: {{year: 2026, order: [rights], rights: '{rights}'}}\n"
    pages = []
    for held in ("", rights):
        div = MARKDOWN.replace(":::\n\n#", f"{held}\n:::\n\n#")
        book.write("book.md", div).write("book.yaml", settings)
        built = book.fitter("build")
        assert (book.folder / "build/book.pdf").is_file(), built.err
        pages.append(words_by_poppler(book.folder / "build/book.pdf")[1])
    assert len(pages[0]) > 4
    assert pages[0] == pages[1]


def test_a_book_without_a_record_builds_with_an_imprint_page_of_its_own(
    book_folder: BookFolder,
) -> None:
    """The source builds without the tool, and then the page is there and empty."""
    book = book_in(book_folder, "pdflatex")
    package = book.fitter("path", "latex").out.strip()
    done = subprocess.run(
        ["pdflatex", "-interaction=nonstopmode", "book.tex"],
        cwd=book.folder,
        env={"PATH": "/usr/bin:/bin", "TEXINPUTS": f"{package}:", "HOME": str(book.folder)},
        capture_output=True,
        check=False,
    )
    assert done.returncode == 0
    assert (book.folder / "book.pdf").is_file()


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("order: britsh", "book.yaml:2: 'britsh' is no order of lines; say american or european"),
        ("order: [isbn, kee]", "book.yaml:2: 'kee' is no order of lines"),
        ("publsher: X", "book.yaml:2: unknown key 'publsher'. Did you mean 'publisher'?"),
        ("wording: {printings: x}", "unknown key 'printings'. Did you mean 'printing'?"),
    ],
)
def test_mistakes_have_their_line(book_folder: BookFolder, line: str, said: str) -> None:
    book_folder.write("book.tex", LATEX)
    book_folder.write("book.yaml", f"source: book.tex\nimprint: {{{line}}}\n")
    ran = book_folder.fitter("check")
    assert ran.status == 2
    assert said in ran.err


@pytest.mark.parametrize(
    ("settings", "told"),
    [
        ("language: pl\nimprint: {year: 2026}\n", True),
        ("language: pl\nimprint: {year: 2026, edition: Wydanie I}\n", False),
        ("language: de-AT\nimprint: {year: 2026}\n", False),
        ("language: pl\nimprint: {year: 2026, wording: {published: 'Wydano {year}'}}\n", False),
        ("language: pl\n", False),
    ],
)
def test_a_history_in_another_language_than_the_book_is_told(
    book_folder: BookFolder, settings: str, told: bool
) -> None:
    book_folder.write("book.tex", "").write("book.yaml", f"source: book.tex\n{settings}")
    said = language_told(load_book(book_folder.folder))
    assert bool(said) == told
    if told:
        assert said[0].startswith("book.yaml:2: the history of the printings is in English")
        assert "only in en, de, fr, es, it, pt, nl, sv" in said[0]


def test_a_build_tells_that_the_history_is_in_english(book_folder: BookFolder) -> None:
    book_folder.write("book.tex", LATEX).write("fillers.yaml", NOTES)
    book_folder.write("book.yaml", "source: book.tex\nlanguage: pl\nimprint: {year: 2026}\n")
    built = book_folder.fitter("build")
    assert built.status == 0, built.err
    assert "the history of the printings is in English" in built.err
