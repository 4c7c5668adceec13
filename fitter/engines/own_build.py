"""The author's own build command: run as it stands, in the book's folder."""

from __future__ import annotations

from fitter.book.loader import Book
from fitter.engines import latex
from fitter.engines.run import find_program, run
from fitter.engines.shipped import Say, Shipped


def build(book: Book, say: Say, *, force: bool = False) -> int:
    """Run the command of `build:`; returns how many TeX runs announced themselves."""
    command = list(book.settings.build or ())
    say(" ".join(command))
    environment = latex.tex_environment(book)
    arguments = [find_program(command[0]), *command[1:]]
    latex.prepare_output(book)
    shipped = Shipped(latex.engine_name(book), say)
    with latex.unfinished(book):
        finished = run(arguments, book.folder, environment, shipped.line)
    if finished.status != 0:
        raise latex.failure(book, command[0], finished)
    return shipped.runs
