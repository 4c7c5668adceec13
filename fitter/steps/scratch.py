"""Copies of a book in a temporary folder, where drafts can be tried and nothing of the author's
is touched."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from fitter.book.loader import Book
from fitter.errors import BadInput

NEVER_COPIED = (".git", ".hg", ".svn", "__pycache__", "node_modules", ".venv")
MOST_SIBLINGS = 200


@contextmanager
def scratch_copy(book: Book) -> Iterator[Book]:
    """A copy of the book that is gone at the end, and with it all that was copied from it.

    Raises BadInput for a book that its own build command writes outside its folder.
    """
    with tempfile.TemporaryDirectory(prefix="fitter-") as root:
        yield _first(book, Path(root) / "0")


def another_copy(copy: Book, number: int) -> Book:
    """A copy of a scratch copy beside it, with all that was built in it."""
    root = copy.folder.parent
    new = root.parent / str(number)
    shutil.copytree(root, new, symlinks=True)
    folder = new / copy.folder.name
    return replace(copy, folder=folder, file=folder / copy.file.name)


def _first(book: Book, root: Path) -> Book:
    original = book.folder.resolve()
    folder = root / original.name
    try:
        shutil.copytree(original, folder, ignore=_not_copied)
    except (OSError, shutil.Error) as error:
        raise BadInput(f"{book.folder}: cannot be copied to try drafts: {error}") from None
    if not book.settings.build:
        _link_siblings(original, root)
    copy = replace(book, folder=folder, file=folder / book.file.name)
    return copy if _inside(copy.output, folder) else _with_output_inside(copy)


def _not_copied(folder: str, names: list[str]) -> list[str]:
    """What no draft needs, what is no file or folder, links to nowhere, and links in a ring."""
    here = Path(folder)
    above = {each.resolve() for each in (here, *here.parents)}
    return [name for name in names if name in NEVER_COPIED or not _copied(here / name, above)]


def _copied(path: Path, above: Collection[Path]) -> bool:
    return path.resolve() not in above if path.is_dir() else path.is_file()


def _link_siblings(original: Path, root: Path) -> None:
    """A source may read `../common/preamble.tex`: what lies beside the book is linked in."""
    siblings = [path for path in original.parent.iterdir() if path != original]
    for path in siblings if len(siblings) <= MOST_SIBLINGS else []:
        (root / path.name).symlink_to(path)


def _inside(path: Path, folder: Path) -> bool:
    return path.resolve().is_relative_to(folder.resolve())


def _with_output_inside(book: Book) -> Book:
    if book.settings.build:
        raise BadInput(
            f"{book.file.name}: 'output' lies outside the book's folder, so drafts cannot be tried "
            "without touching it. Have 'build' write inside the folder."
        )
    output = f"build/{book.output.name}"
    return replace(book, settings=book.settings.model_copy(update={"output": output}))
