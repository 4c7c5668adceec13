"""The author's own build command: run as it stands, in the book's folder."""

from __future__ import annotations

import re
from functools import partial
from pathlib import Path

from fitter.book.loader import Book
from fitter.engines import latex, typst
from fitter.engines.own_places import make_own, workshop
from fitter.engines.run import find_program, run
from fitter.engines.shipped import Say, Shipped
from fitter.package import data_file

_TEX_BEGINS = {
    ".aux": b"\\relax",
    ".toc": b"\\",
    ".lof": b"\\",
    ".lot": b"\\",
    ".out": b"\\BOOKMARK",
    ".bcf": b"<?xml",
    ".fdb_latexmk": b"# Fdb",
}
_SAFE = re.compile(r"[\w./:+-]+", re.ASCII)


def build(book: Book, say: Say, *, force: bool = False) -> int:
    """Run the command of `build:`; returns how many TeX runs announced themselves."""
    command = list(book.settings.build or ())
    say(" ".join(command))
    environment = latex.tex_environment(book) | _for_the_filter(book)
    arguments = [find_program(command[0]), *command[1:]]
    latex.prepare(book, book.output.parent)
    make_own(book, workshop(book))
    shipped = Shipped(book.engine, say)
    with latex.unfinished(workshop(book) / "unfinished", partial(_sweep, book)):
        finished = run(arguments, book.folder, environment, shipped.line)
    if finished.status != 0:
        raise latex.failure(book, command[0], finished)
    return shipped.runs


def _sweep(book: Book) -> None:
    """Take away what TeX may have left half written, among files that are the author's."""
    made = [book.output.with_suffix(ending) for ending in _TEX_BEGINS]
    made += (book.output.parent / f"{name}.aux" for name in latex.included(book))
    for file in made:
        if file.is_file() and _is_tex(file):
            file.unlink()


def _is_tex(file: Path) -> bool:
    """Whether it begins as TeX begins such a file, or is empty."""
    begins = _TEX_BEGINS[file.suffix]
    with file.open("rb") as content:
        return begins.startswith(content.read(len(begins)))


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
