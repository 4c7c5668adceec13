"""Where files of our making may lie: folders of our own beside the PDF, and no author's file."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from fitter.book.loader import Book
from fitter.errors import BadInput

_TAG = "CACHEDIR.TAG"
# What such a file begins with: Cache Directory Tagging Specification, bford.info/cachedir.
_SIGNATURE = "Signature: 8a477f597d28d172789f06886806bc55\n"
_SAID = f"{_SIGNATURE}# Made by fitter, which writes what is missing here anew.\n"
_RECORD = b"record{"


def workshop(book: Book) -> Path:
    """The folder beside the PDF for what pandoc makes, and for what is remembered of it."""
    return book.output.parent / f"{book.output.stem}-fitter"


def make_own(book: Book, folder: Path) -> None:
    """Make a folder of our own. Raises BadInput where an author's has the name, or a link leads on.

    It carries the mark of a cache, by which it is known as ours, and which keeps it out of backups.
    """
    _refuse_links(book, (folder, *folder.rglob("*")))
    if folder.is_dir() and not _is_ours(folder):
        raise BadInput(
            f"{book.from_source(folder)}: this folder is not of fitter's making, so nothing is "
            f"written into it. Rename it, or name another 'output' in {book.file.name}."
        )
    folder.mkdir(parents=True, exist_ok=True)
    if not (folder / _TAG).is_file():
        (folder / _TAG).write_text(_SAID, encoding="ascii")


def _is_ours(folder: Path) -> bool:
    """Whether it has the mark, or nothing yet because a run ended there."""
    names = {path.name for path in folder.iterdir()}
    return _TAG in names or not names


def require_free(book: Book) -> None:
    """Raise BadInput where the build would write over a file of the author's, or through a link."""
    endings = (".log", ".synctex.gz", *((".tex", ".typ") if book.markdown else ()))
    made = (book.output.with_suffix(ending) for ending in endings)
    _refuse_links(book, (book.record, *made))
    if book.record.is_file() and not _may_be_record(book.record):
        raise BadInput(
            f"{book.from_source(book.record)}: what is known of the pages is written to a file of "
            "this name, and this one is not of fitter's making. Rename it, or name another "
            f"'output' in {book.file.name}; it was left as it is."
        )


def _refuse_links(book: Book, paths: Iterable[Path]) -> None:
    for path in paths:
        if path.is_symlink():
            raise BadInput(
                f"{book.from_source(path)}: this is a link, and what is built would be written "
                "through it. Take it away."
            )


def _may_be_record(path: Path) -> bool:
    with path.open("rb") as file:
        beginning = file.read(len(_RECORD))
    return _RECORD.startswith(beginning)
