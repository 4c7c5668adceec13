"""SyncTeX as the engines write it."""

from __future__ import annotations

import gzip
import subprocess
from pathlib import Path

import pytest

from fitter.engines.synctex import read_synctex

BOOK = r"""\documentclass{book}
\begin{document}
\chapter{One}
Text of one.

\input{two}
\cleardoublepage
Text behind an explicit break.
\end{document}
"""
TWO = "\\chapter{Two}\nText of two.\n"


@pytest.fixture(params=["pdflatex", "lualatex", "xelatex"])
def pdf(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A book of five pages; the second and the fourth are blank versos."""
    (tmp_path / "book.tex").write_text(BOOK)
    (tmp_path / "two.tex").write_text(TWO)
    command = [request.param, "-synctex=1", "-interaction=batchmode", "book.tex"]
    subprocess.run(command, cwd=tmp_path, check=True, stdout=subprocess.DEVNULL)
    return tmp_path / "book.pdf"


def test_a_blank_verso_points_at_what_asked_for_it(pdf: Path) -> None:
    found = read_synctex(pdf)
    assert (Path(found[2].file).name, found[2].line) == ("two.tex", 1)
    assert (Path(found[4].file).name, found[4].line) == ("book.tex", 7)
    assert set(found) == {1, 2, 3, 4, 5}


def test_no_file_is_no_source(tmp_path: Path) -> None:
    assert read_synctex(tmp_path / "book.pdf") == {}


def test_a_file_that_is_cut_gives_what_it_has(tmp_path: Path) -> None:
    whole = gzip.compress(b"SyncTeX Version:1\nInput:1:./a.tex\nContent:\n{1\n[1,5:0,0:1,1,0\n}1\n")
    (tmp_path / "book.synctex.gz").write_bytes(whole[:-6])
    assert read_synctex(tmp_path / "book.pdf")[1].line == 5
    (tmp_path / "book.synctex.gz").write_bytes(b"no gzip")
    assert read_synctex(tmp_path / "book.pdf") == {}


def test_nonsense_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "book.synctex").write_text("Input:x\n{one\n[1\n{1\n[9,9:\n[1,:\nInput:1:a.tex\n")
    assert read_synctex(tmp_path / "book.pdf") == {}
