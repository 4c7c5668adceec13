"""What init sees in a LaTeX folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitter.book.found import find_book, loads_package
from fitter.errors import BadInput
from tests.conftest import BookFolder

SOURCE = r"""% !TEX program = xelatex
\documentclass[11pt,a5paper,twoside]{book}
\usepackage[ngerman]{babel}
\title{Von Fischen \& Fl\"ussen\\ {\large Ein Buch}\thanks{Danke}}
\author{A. Nemo}
\begin{document}
\maketitle
\end{document}
"""


def test_the_preamble_gives_title_language_engine_and_trim(book_folder: BookFolder) -> None:
    book_folder.write("thesis.tex", SOURCE).write("chapter.tex", "\\chapter{One}")
    found = find_book(book_folder.folder)
    values = found.values()
    assert found.source.name == "thesis.tex"
    assert values["language"] == "de"
    assert values["engine"] == "xelatex"
    assert values["trim"] == "trim: 148 x 210 mm"
    assert values["author"] == '"A. Nemo"'
    assert values["title"].startswith('"Von Fischen & Fl')


def test_the_two_missing_lines_are_named(book_folder: BookFolder) -> None:
    book_folder.write("thesis.tex", SOURCE)
    advice = find_book(book_folder.folder).missing_lines
    assert len(advice) == 2
    assert "\\usepackage{fitter}" in advice[0]
    assert "\\imprintkey" in advice[1]


def test_two_candidates_are_not_guessed_between(book_folder: BookFolder) -> None:
    book_folder.write("one.tex", SOURCE).write("two.tex", SOURCE)
    with pytest.raises(BadInput, match=r"one\.tex, two\.tex"):
        find_book(book_folder.folder)


def test_a_folder_without_a_book_is_told(book_folder: BookFolder) -> None:
    with pytest.raises(BadInput, match="documentclass"):
        find_book(book_folder.folder)


def test_several_authors_are_parted_by_commas(tmp_path: Path) -> None:
    (tmp_path / "book.tex").write_text(
        "\\documentclass{book}\n\\author{A. Nemo \\and B. Nemo\\thanks{C.}}\n\\begin{document}\n"
    )
    assert find_book(tmp_path).values()["author"] == '"A. Nemo, B. Nemo"'


def test_a_line_that_names_many_packages_is_read_once() -> None:
    assert not loads_package("\\usepackage " * 500_000)
    assert loads_package("\\usepackage{array} \\RequirePackage[x]{fitter}")
    assert not loads_package("% \\usepackage{fitter}")
    assert not loads_package("\\usepackage{fittery}")
