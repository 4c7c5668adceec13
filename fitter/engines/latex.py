"""A LaTeX book: what every way of running TeX needs to know, and how its failures are told."""

from __future__ import annotations

import os
import re
import shutil
from pathlib import Path

from fitter.book.loader import Book
from fitter.engines.record import read_record
from fitter.engines.run import Finished, clean_environment, find_program
from fitter.engines.tex_message import first_error
from fitter.errors import BadInput, ProgramFailed
from fitter.package import latex_folder

DEFAULT_ENGINE = "lualatex"
TEMPORARY_PAGE = re.compile(r"Temporary extra page added at the end")


def engine_name(book: Book) -> str:
    """The TeX engine of a book."""
    return book.settings.engine or DEFAULT_ENGINE


def tex_environment() -> dict[str, str]:
    """TEXINPUTS leads to our package first, then wherever the author's own setting leads."""
    own = os.environ.get("TEXINPUTS", "")
    return clean_environment({"TEXINPUTS": f"{latex_folder()}{os.pathsep}{own}{os.pathsep}"})


def working_folder(book: Book) -> Path:
    """TeX runs where the source lies, as it does for the author."""
    return book.source.parent


def require_engine(book: Book) -> str:
    """The engine's program, which must be there."""
    return find_program(engine_name(book))


def has_latexmk() -> bool:
    """Whether latexmk is installed."""
    return shutil.which("latexmk") is not None


def failure(book: Book, program: str, finished: Finished) -> ProgramFailed:
    """What TeX said, with file and line, and the filler's name when a filler is to blame."""
    error = first_error(finished.lines)
    if error is None:
        tail = "\n".join(finished.lines[-8:])
        return ProgramFailed(f"{program} failed and gave no error line. Its last words:\n{tail}")
    blame = _blamed_filler(book, error.file)
    log = book.from_source(book.output.with_suffix(".log"))
    return ProgramFailed(f"{error}", f"{blame}{program} stopped there. The whole log is {log}.")


def _blamed_filler(book: Book, file: str | None) -> str:
    for entry in book.catalogue:
        if file and entry.source and book.from_source(book.folder / entry.source) == file:
            return f"This is the filler '{entry.id}'. "
    record = read_record(book.record)
    if record and record.working_on:
        return f"This happened in the filler '{record.working_on}'. "
    return ""


def package_not_loaded(book: Book) -> BadInput:
    """The fault of a source that builds but leaves no record."""
    return BadInput(
        f"{book.settings.source[0]}: the source does not load the package, so nothing can be "
        "placed in it. Add \\usepackage{fitter} to the preamble."
    )
