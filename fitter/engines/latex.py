"""A LaTeX book: what every way of running TeX needs to know, and how its failures are told."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Callable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager
from functools import partial
from pathlib import Path

from fitter.book.loader import Book
from fitter.engines.own_places import make_own
from fitter.engines.run import Finished, clean_environment
from fitter.engines.tex_message import first_error
from fitter.errors import BadInput, ProgramFailed
from fitter.package import latex_folder
from fitter.writing import write_whole

_WHOLE_MESSAGES = {"max_print_line": "2000", "error_line": "254", "half_error_line": "238"}
_GENERATED = (".toc", ".lof", ".lot", ".out", ".fdb_latexmk", ".inputs.json", ".pages", ".bcf")
_ACTS = frozenset("%~")
_FILLER = re.compile(r"fitter: filler `([^']+)' (begins|ends)")
_INCLUDE = re.compile(r"^[^%\n]*\\include\s*\{([^}]*)\}", re.MULTILINE)


def tex_environment(book: Book) -> dict[str, str]:
    """TEXINPUTS leads to our package first, then wherever the author's own setting leads.

    Index styles and bibliographies are looked for beside the source, though their programs run in
    the folder that TeX writes to.
    """
    sources = str(book.home.resolve())
    searched = {"TEXINPUTS": latex_folder(), "INDEXSTYLE": sources}
    searched |= dict.fromkeys(("BIBINPUTS", "BSTINPUTS"), sources)
    return clean_environment(
        {
            name: f"{first}{os.pathsep}{os.environ.get(name, '')}{os.pathsep}"
            for name, first in searched.items()
        }
        | _WHOLE_MESSAGES
        | _given_date()
    )


def _given_date() -> dict[str, str]:
    """A given date is that of \\today as well."""
    return {"FORCE_SOURCE_DATE": "1"} if "SOURCE_DATE_EPOCH" in os.environ else {}


def aside(book: Book, suffix: str) -> Path:
    """A file of TeX's own, in a folder beside the PDF: nobody takes a half one for whole there."""
    stem = book.output.stem
    return book.output.parent / f"{stem}-tex" / f"{stem}{suffix}"


def bring_out(book: Book) -> None:
    """Put the finished PDF, its record and its log where the book wants them, each one whole."""
    for suffix in (".log", ".synctex.gz", ".pages"):
        _bring(book, suffix, book.output.with_suffix(suffix))
    _bring(book, ".pdf", book.output)


def _bring(book: Book, suffix: str, target: Path) -> None:
    made = aside(book, suffix)
    if made.is_file():
        write_whole(target, made.read_bytes())


def prepare_aside(book: Book) -> None:
    """Make the folder of TeX's own ready.

    Raises BadInput where it is an author's, or where TeX cannot be given a name.
    """
    _require_names(book)
    folder = aside(book, "").parent
    make_own(book, folder)
    prepare(book, folder)


def _require_names(book: Book) -> None:
    """On TeX's command line these two act as they do in a source."""
    named = {"output": book.settings.output or ""}
    if not book.markdown:
        named["source"] = book.settings.source[0]
    for key, name in named.items():
        if bad := " ".join(sorted(_ACTS & set(name))):
            at = book.book_doc.at((key,))
            raise BadInput(f"{at}: '{name}' has {bad} in it, which TeX cannot be given; rename it.")


def prepare(book: Book, folder: Path) -> None:
    """Make the folder that TeX writes to, and in it those where \\include writes its aux files."""
    folder.mkdir(parents=True, exist_ok=True)
    for name in included(book):
        below = (folder / name).parent
        if below.resolve().is_relative_to(folder.resolve()):
            below.mkdir(parents=True, exist_ok=True)


def included(book: Book) -> Iterator[str]:
    """What the sources have under \\include, for each of which TeX writes an aux file."""
    for text in _texts(book, ".tex"):
        yield from _INCLUDE.findall(text)


def tells_extent(book: Book) -> bool:
    """Whether the book prints LaTeX's own count of all pages, so that a changed count matters."""
    return any("PreviousTotalPages" in text for text in _texts(book, ".tex", ".sty", ".cls"))


def _texts(book: Book, *endings: str) -> Iterator[str]:
    for path in book.home.rglob("*"):
        if path.suffix in endings and path.is_file():
            yield path.read_text(encoding="utf-8", errors="replace")


@contextmanager
def unfinished(marker: Path, sweep: Callable[[], None]) -> Iterator[None]:
    """Around a TeX run: if it is stopped from outside, the next one starts from clean aux files.

    A killed engine leaves half a line in an aux file, and the next run would choke on it.
    """
    if marker.exists():
        sweep()
    marker.touch()
    yield
    marker.unlink(missing_ok=True)


def unfinished_aside(book: Book) -> AbstractContextManager[None]:
    """The same for a run in TeX's own folder, where all is TeX's."""
    return unfinished(aside(book, ".unfinished"), partial(_sweep, book))


def _sweep(book: Book) -> None:
    generated = (aside(book, suffix) for suffix in _GENERATED)
    for file in [*generated, *aside(book, "").parent.rglob("*.aux")]:
        file.unlink(missing_ok=True)


def has_latexmk() -> bool:
    """Whether latexmk is installed."""
    return shutil.which("latexmk") is not None


def failure(book: Book, program: str, finished: Finished) -> ProgramFailed:
    """What TeX said, with file and line, and the filler's name when a filler is to blame."""
    error = first_error(finished.lines)
    if error is None:
        tail = "\n".join(finished.lines[-8:])
        return ProgramFailed(f"{program} failed and gave no error line. Its last words:\n{tail}")
    blame = _blamed_filler(book, error.file, finished.lines)
    _bring(book, ".log", book.output.with_suffix(".log"))
    log = book.from_source(book.output.with_suffix(".log"))
    return ProgramFailed(f"{error}", f"{blame}{program} stopped there. The whole log is {log}.")


def _blamed_filler(book: Book, file: str | None, lines: Sequence[str]) -> str:
    for entry in book.catalogue:
        if file and entry.source and book.from_source(book.folder / entry.source) == file:
            return f"This is the filler '{entry.id}'. "
    for line in reversed(lines):
        if match := _FILLER.search(line):
            return f"This happened in the filler '{match[1]}'. " if match[2] == "begins" else ""
    return ""
