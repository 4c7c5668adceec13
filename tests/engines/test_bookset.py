"""A source that uses its settings, in real TeX: with the tool and without it."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

from fitter.writing import write_whole
from tests.conftest import ROOT, BookFolder

ENGINES = ("pdflatex", "lualatex", "xelatex")
SOURCE = r"""\documentclass{book}
\usepackage{fitter}
\usepackage[a5paper, textheight={\dimexpr 30\baselineskip
  + \bookset[0]{text-height}\baselineskip\relax}]{geometry}
\linespread{\bookset[1]{leading}}
\begin{document}
\edef\both{\bookset[3]{leading}, \bookset[7]{nowhere}}
\typeout{SEEN \the\textheight, \the\baselineskip, \both}
One line.
\end{document}
"""
SETTINGS = """source: book.tex
engine: {}
binding: {{gathering: 4}}
settings:
  leading:     {{values: [1.00, 0.9], dislike: 2}}
  text-height: {{values: [0, 1], unit: lines}}
"""
NOTES = "fillers:\n  - {id: notes, page: notes, pages: 1..8}\n"


def seen(log: Path) -> str:
    found = re.findall(r"^SEEN (.*)$", log.read_text("utf-8", "replace"), re.MULTILINE)
    return str(found[-1])


def write(book: BookFolder, engine: str) -> BookFolder:
    return (
        book.write("book.tex", SOURCE)
        .write("book.yaml", SETTINGS.format(engine))
        .write("fillers.yaml", NOTES)
    )


@pytest.mark.parametrize("engine", ENGINES)
def test_without_the_tool_the_default_in_the_source_holds(
    book_folder: BookFolder, engine: str
) -> None:
    write(book_folder, engine)
    subprocess.run(
        [engine, "-interaction=batchmode", "-halt-on-error", "book.tex"],
        cwd=book_folder.folder,
        env={"PATH": "/usr/bin:/bin", "TEXINPUTS": f"{ROOT / 'latex'}:"},
        check=True,
        capture_output=True,
    )
    assert seen(book_folder.folder / "book.log") == "360.0pt, 12.0pt, 3, 7"


@pytest.mark.parametrize("engine", ENGINES)
def test_a_chosen_value_stays_through_later_builds(book_folder: BookFolder, engine: str) -> None:
    write(book_folder, engine)
    assert book_folder.fitter("build").status == 0
    log = book_folder.folder / "build/book.log"
    assert seen(log) == "360.0pt, 12.0pt, 1, 7"
    inserts = book_folder.folder / "book-inserts.tex"
    said = inserts.read_text()
    assert "\\fitterSetting{leading}{1}\n\\fitterSetting{text-height}{0}\n" in said
    write_whole(inserts, said.replace("{text-height}{0}", "{text-height}{1}"))
    assert book_folder.fitter("build").status == 0
    assert seen(log) == "372.0pt, 12.0pt, 1, 7"
    assert "{text-height}{1}" in inserts.read_text()


def test_a_value_no_longer_allowed_is_left_out_and_told(book_folder: BookFolder) -> None:
    book = write(book_folder, "pdflatex")
    book.fitter("build", "-q")
    inserts = book_folder.folder / "book-inserts.tex"
    book.write("book-inserts.tex", inserts.read_text() + "\\fitterSetting{leading}{0.8}\n")
    built = book_folder.fitter("build", "-q")
    assert built.status == 0
    assert "0.8 of 'leading' is none of its values any more" in built.err
    assert "{leading}{1}" in (book_folder.folder / "book-inserts.tex").read_text()
    assert book_folder.fitter("build", "-q").err == ""


def test_a_setting_nobody_gave_a_value_is_an_error_that_says_so(book_folder: BookFolder) -> None:
    write(book_folder, "pdflatex")
    book_folder.write("book.tex", SOURCE.replace("One line.", "\\bookset{nowhere}"))
    built = book_folder.fitter("build")
    assert built.status == 3
    assert "nowhere" in (book_folder.folder / "build/book.log").read_text()
