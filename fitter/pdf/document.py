"""Opens a PDF for reading; a file that is none, or is beyond reading, becomes a sentence."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from os import PathLike, fspath
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fitter.errors import BadInput

if TYPE_CHECKING:
    import pymupdf

StrPath = str | PathLike[str]


def load_library() -> None:
    """Load the PDF library, ahead of its first use."""
    import pymupdf  # noqa: F401


def faults() -> tuple[type[Exception], ...]:
    """What the library raises for a file or page it cannot read."""
    import pymupdf

    return RuntimeError, ValueError, pymupdf.mupdf.FzErrorBase


def said(fault: object) -> str:
    """What the library says of a fault, without halves of characters out of a damaged file."""
    return str(fault).encode("utf-8", "replace").decode()


@contextmanager
def opened(path: StrPath) -> Iterator[pymupdf.Document]:
    """Open a PDF of at least one page; an encrypted one opens with the empty user password.

    Raises `BadInput` for a file that is missing, empty, no PDF, locked, or has no page.
    """
    import pymupdf

    pymupdf.TOOLS.mupdf_display_errors(False)
    pymupdf.TOOLS.mupdf_display_warnings(False)
    name = fspath(path)
    document = _open(pymupdf, name)
    try:
        _readable(document, name)
        yield document
    finally:
        document.close()


def _open(pymupdf: Any, name: str) -> pymupdf.Document:
    if not Path(name).is_file():
        raise BadInput(f"{name}: there is no such file. Name one that is there.")
    try:
        stream = None if _is_utf8(name) else Path(name).read_bytes()  # pymupdf knows no other names
        return pymupdf.open(None if stream else name, stream=stream, filetype="pdf")
    except pymupdf.EmptyFileError:
        raise BadInput(f"{name}: the file is empty. Make the PDF again.") from None
    except faults():
        raise BadInput(
            f"{name}: this is no PDF, or it is damaged beyond reading. Make it again, or name "
            "another file."
        ) from None


def _is_utf8(name: str) -> bool:
    try:
        return bool(name.encode("utf-8"))
    except UnicodeEncodeError:
        return False


def _readable(document: pymupdf.Document, name: str) -> None:
    if not document.is_pdf:
        raise BadInput(f"{name}: this is no PDF. Name one, or make one of it.")
    if document.needs_pass:
        raise BadInput(f"{name}: the PDF asks for a password. Save it without one.")
    if not len(document):
        raise BadInput(f"{name}: the PDF has no pages. Make it again.")
