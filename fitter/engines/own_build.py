"""The author's own build command: run as it stands, in the book's folder."""

from __future__ import annotations

import re
from collections.abc import Callable

from fitter.book.loader import Book
from fitter.engines import latex
from fitter.engines.run import find_program, run

_TEX_BANNER = re.compile(r"^This is (pdfTeX|LuaHBTeX|LuaTeX|XeTeX|LuaJITTeX)")


def build(book: Book, say: Callable[[str], None], *, force: bool = False) -> int:
    """Run the command of `build:`; returns how many TeX runs announced themselves."""
    command = list(book.settings.build or ())
    say(" ".join(command))
    environment = latex.tex_environment(book)
    arguments = [find_program(command[0]), *command[1:]]
    latex.prepare_output(book)
    with latex.unfinished(book):
        finished = run(arguments, book.folder, environment)
    if finished.status != 0:
        raise latex.failure(book, command[0], finished)
    return sum(1 for line in finished.lines if _TEX_BANNER.match(line))
