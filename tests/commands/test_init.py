"""`fitter init` in a folder it has never seen."""

from __future__ import annotations

import re

import yaml

from fitter.book.loader import load_book
from fitter.book.models import PrintingEntry
from tests.conftest import SENTENCE, BookFolder

FOREIGN = (
    r"""\documentclass[a5paper,openright]{memoir}
\usepackage[T1]{fontenc}
\title{Rivers \& Roads}
\author{A. Nemo}
\begin{document}
\maketitle
\clearpage
Imprint
\tableofcontents
\chapter{One}
"""
    + SENTENCE * 200
    + r"""
\chapter{Two}
Short.
\end{document}
"""
)


def test_a_title_that_looks_like_a_blank_to_fill(book_folder: BookFolder) -> None:
    book_folder.write(
        "book.tex",
        "\\documentclass{book}\\title{@author@ and @mark@}\\author{N. N.}\n"
        "\\begin{document}x\\end{document}",
    )
    assert book_folder.fitter("init").status == 0
    settings = load_book(book_folder.folder).settings
    assert (settings.title, settings.author) == ("@author@ and @mark@", "N. N.")


def test_init_then_two_lines_then_build(book_folder: BookFolder) -> None:
    book_folder.write("rivers.tex", FOREIGN)
    begun = book_folder.fitter("init")
    assert begun.status == 0
    advice = [line for line in begun.err.splitlines() if line.startswith("Add")]
    assert len(advice) == 2
    source = FOREIGN.replace("\\title", "\\usepackage{fitter}\n\\title").replace(
        "Imprint", "\\imprintkey"
    )
    book_folder.write("rivers.tex", source)
    built = book_folder.fitter("build", "--format", "json")
    assert built.status == 0, built.err + built.out
    assert built.report["plan"]["extent"] % 16 == 0
    assert built.report["check"]["passed"]


def test_the_three_files_are_commented_and_say_what_was_found(book_folder: BookFolder) -> None:
    book_folder.write("rivers.tex", FOREIGN)
    book_folder.fitter("init", SOURCE_DATE_EPOCH="1800000000")
    for name in ("book.yaml", "fillers.yaml", "printings.yaml"):
        assert "#" in (book_folder.folder / name).read_text()
    book = yaml.safe_load((book_folder.folder / "book.yaml").read_text())
    assert book["title"] == "Rivers & Roads"
    assert book["source"] == "rivers.tex"
    assert book["trim"] == "148 x 210 mm"
    assert book["engine"] == "pdflatex"
    assert book["imprint"]["year"] == 2027


def test_the_files_show_what_else_an_entry_may_say(book_folder: BookFolder) -> None:
    book_folder.write("rivers.tex", FOREIGN).fitter("init")
    fillers = (book_folder.folder / "fillers.yaml").read_text()
    assert all(f"#   {key}:" in fillers for key in ("required", "needs", "excludes"))
    printings = (book_folder.folder / "printings.yaml").read_text()
    assert all(f"{key}:" in printings for key in PrintingEntry.model_fields)


def test_a_date_that_is_none_is_told(book_folder: BookFolder) -> None:
    begun = book_folder.write("rivers.tex", FOREIGN).fitter("init", SOURCE_DATE_EPOCH="abc")
    assert begun.status == 2
    assert "SOURCE_DATE_EPOCH: 'abc' is no moment" in begun.err
    assert "Traceback" not in begun.err


def test_init_never_overwrites(book_folder: BookFolder) -> None:
    book_folder.write("rivers.tex", FOREIGN).write("fillers.yaml", "fillers: []  # mine\n")
    begun = book_folder.fitter("init")
    assert (book_folder.folder / "fillers.yaml").read_text() == "fillers: []  # mine\n"
    assert re.search(r"fillers\.yaml is there already", begun.err)


def test_init_in_an_empty_folder_is_exit_2(book_folder: BookFolder) -> None:
    begun = book_folder.fitter("init")
    assert begun.status == 2
    assert list(book_folder.folder.iterdir()) == []
