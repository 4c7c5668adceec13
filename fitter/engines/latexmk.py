"""latexmk: runs TeX, the index and the bibliography as often as they need, and no more."""

from __future__ import annotations

from fitter.book.loader import Book
from fitter.engines import latex
from fitter.engines.run import find_program, run
from fitter.engines.shipped import Say, Shipped
from fitter.package import data_file

_MODE = {"pdflatex": "-pdf", "lualatex": "-lualatex", "xelatex": "-xelatex"}


def build(book: Book, say: Say, *, force: bool = False) -> int:
    """Bring the PDF up to date; returns how often a TeX engine ran. Raises ProgramFailed."""
    find_program(book.engine)
    latex.prepare_aside(book)
    shipped = Shipped(book.engine, say)
    arguments = _arguments(book, force)
    with latex.unfinished_aside(book):
        finished = run(arguments, book.home, latex.tex_environment(book), shipped.line)
    if finished.status != 0 and shipped.runs == 0 and not force:
        return build(book, say, force=True)  # it only remembered an error that may be mended
    if finished.status != 0:
        raise latex.failure(book, book.engine, finished)
    latex.bring_out(book)
    return shipped.runs


def _arguments(book: Book, force: bool) -> list[str]:
    folder = book.from_source(latex.aside(book, "").parent)
    return [
        find_program("latexmk"),
        *([] if latex.tells_extent(book) else ["-r", str(data_file("latexmkrc"))]),
        _MODE[book.engine],
        "-pv-",
        "-pvc-",  # whatever somebody's own settings want to look at
        "-interaction=nonstopmode",
        "-halt-on-error",
        "-file-line-error",
        f"-outdir={folder}",
        f"-auxdir={folder}",
        f"-jobname={book.output.stem}",
        *(["-g"] if force else []),
        book.from_source(book.typeset),
    ]
