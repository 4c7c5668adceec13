"""The very first run of a LaTeX book: rough counts, early enough to choose fillers by."""

from __future__ import annotations

import shutil

from fitter.book.loader import Book
from fitter.engines import latex
from fitter.engines.record import Record, read_record
from fitter.engines.rerun import one_run
from fitter.engines.shipped import Say, Shipped

# LuaTeX writes a PDF in draft mode too.
_WITHOUT_PDF = {"pdflatex": "-draftmode", "lualatex": "--draftmode", "xelatex": "-no-pdf"}
_OWN_SETTINGS = (".latexmkrc", "latexmkrc")


def sketch(book: Book, say: Say) -> Record | None:
    """The record of one run without a PDF; None for a book that has been typeset before.

    None as well where the run fails: the real build has the author's settings for latexmk, and
    tells what is wrong if it fails too. A run that leaves no record gives one that did not finish,
    unless such settings may load the package.
    """
    folder = latex.aside(book, "").parent
    if folder.exists():
        return None
    latex.prepare_aside(book)
    finished = one_run(book, Shipped(book.engine, say), _WITHOUT_PDF[book.engine])
    latex.aside(book, ".pdf").unlink(missing_ok=True)
    if finished.status != 0:
        shutil.rmtree(folder)
        return None
    record = read_record(latex.aside(book, ".pages"))
    if record is None:
        shutil.rmtree(folder)
        return None if any((book.home / name).exists() for name in _OWN_SETTINGS) else Record()
    return record
