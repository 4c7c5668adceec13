"""The engine of a book: how it is built, how its record is read, how its inserts are written."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from fitter.book.loader import Book
from fitter.engines import latex, latexmk, own_build, rerun
from fitter.engines.record import Record, read_record
from fitter.engines.shipped import Say
from fitter.inserts import latex as latex_inserts
from fitter.inserts.content import Inserts


class Build(Protocol):
    """Bring the PDF and its record up to date; returns the number of engine runs."""

    def __call__(self, book: Book, say: Say, *, force: bool = False) -> int: ...


@dataclass(frozen=True, slots=True)
class Engine:
    """`settings` renders the part of the inserts that holds before anything is chosen."""

    name: str
    build: Build
    record: Callable[[Book], Record | None]
    render: Callable[[Inserts], str]
    settings: Callable[[Inserts], str]


def engine_of(book: Book) -> Engine:
    """Choose how this book is built."""
    return Engine(
        latex.engine_name(book),
        _latex_build(book),
        lambda book: read_record(book.record),
        latex_inserts.render,
        latex_inserts.settings,
    )


def _latex_build(book: Book) -> Build:
    if book.settings.build:
        return own_build.build
    return latexmk.build if latex.has_latexmk() else rerun.build
