"""The author's own build command: run as it stands, in the book's folder."""

from __future__ import annotations

import re

from fitter.book.loader import Book
from fitter.engines import latex, typst
from fitter.engines.run import find_program, run
from fitter.engines.shipped import Say, Shipped
from fitter.package import data_file

_SAFE = re.compile(r"[\w./:+-]+", re.ASCII)


def build(book: Book, say: Say, *, force: bool = False) -> int:
    """Run the command of `build:`; returns how many TeX runs announced themselves."""
    command = list(book.settings.build or ())
    say(" ".join(command))
    environment = latex.tex_environment(book) | _for_the_filter(book)
    arguments = [find_program(command[0]), *command[1:]]
    latex.prepare(book, book.output.parent)
    shipped = Shipped(book.engine, say)
    with latex.unfinished(book.output.parent, book.output.stem):
        finished = run(arguments, book.folder, environment, shipped.line)
    if finished.status != 0:
        raise latex.failure(book, command[0], finished)
    return shipped.runs


def _for_the_filter(book: Book) -> dict[str, str]:
    """The filter's place, for an author's defaults file, and the record's.

    Where pandoc runs TeX itself it does so in a folder that it takes away, record and all. The
    filter then has the record written where it belongs, which TeX must be allowed to do.
    """
    if not book.markdown:
        return {}
    record = book.record.resolve().as_posix()
    written = {"FITTER_RECORD": record, "openout_any": "a"} if _SAFE.fullmatch(record) else {}
    return {"FITTER_FILTER": str(data_file("fitter.lua")), **written}


def build_typst(book: Book, say: Say, *, force: bool = False) -> int:
    """The same for Typst: the command must leave the `.typ` file beside the PDF it makes of it.

    Returns how often Typst ran here, to ask for the record.
    """
    build(book, say, force=force)
    return typst.record_of_own_build(book, say)
