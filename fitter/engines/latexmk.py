"""latexmk: runs TeX, the index and the bibliography as often as they need, and no more."""

from __future__ import annotations

import re
from collections.abc import Callable

from fitter.book.loader import Book
from fitter.engines import latex
from fitter.engines.run import find_program, run
from fitter.package import data_file

_MODE = {"pdflatex": "-pdf", "lualatex": "-lualatex", "xelatex": "-xelatex"}
_TEX_RUN = re.compile(r"^Run number \d+ of rule '(pdflatex|lualatex|xelatex)'")


def build(book: Book, say: Callable[[str], None], *, force: bool = False) -> int:
    """Bring the PDF up to date; returns how often a TeX engine ran. Raises ProgramFailed."""
    latex.require_engine(book)
    latex.prepare_output(book)
    runs = 0

    def on_line(line: str) -> None:
        nonlocal runs
        if _TEX_RUN.match(line):
            runs += 1
            say(f"{latex.engine_name(book)}, run {runs}")

    arguments, folder = _arguments(book, force), latex.working_folder(book)
    with latex.unfinished(book):
        finished = run(arguments, folder, latex.tex_environment(book), on_line)
    if finished.status != 0 and runs == 0 and not force:
        return build(book, say, force=True)  # it only remembered an error that may be mended
    if finished.status != 0:
        raise latex.failure(book, latex.engine_name(book), finished)
    return runs


def _arguments(book: Book, force: bool) -> list[str]:
    return [
        find_program("latexmk"),
        "-r",
        str(data_file("latexmkrc")),
        _MODE[latex.engine_name(book)],
        "-interaction=nonstopmode",
        "-halt-on-error",
        "-file-line-error",
        f"-outdir={book.from_source(book.output.parent)}",
        f"-jobname={book.output.stem}",
        *(["-g"] if force else []),
        book.from_source(book.source),
    ]
