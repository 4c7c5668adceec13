"""The engine of a book: how it is built, how its record is read, how its inserts are written."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from fitter.book.loader import Book
from fitter.engines import latex, latexmk, markdown_latex, own_build, rerun, typst, typst_text
from fitter.engines.fillers import latex_bodies
from fitter.engines.record import Record, read_record
from fitter.engines.shipped import Say
from fitter.engines.sketch import sketch
from fitter.engines.text_record import TextRecord, read_text_record
from fitter.errors import BadInput
from fitter.inserts import latex as latex_inserts
from fitter.inserts import typst as typst_inserts
from fitter.inserts.content import Inserts
from fitter.trade.tighten.lines import Sheet


class Build(Protocol):
    """Bring the PDF and its record up to date; returns the number of engine runs."""

    def __call__(self, book: Book, say: Say, *, force: bool = False) -> int: ...


Sketch = Callable[[Book, Say], Record | None]


@dataclass(frozen=True, slots=True)
class Engine:
    """`settings` renders the part of the inserts that holds before anything is chosen.

    `once` is a single run where only the places of lines matter, and references may be old.
    `text` reads what a trial recorded of the running text, with the help of the PDF's pages.
    `sketch` has rough counts from a first run of a book never typeset, where such a run is cheap.
    """

    name: str
    build: Build
    record: Callable[[Book], Record | None]
    render: Callable[[Inserts], str]
    settings: Callable[[Inserts], str]
    once: Callable[[Book, Say], int]
    text: Callable[[Book, Sequence[Sheet]], TextRecord]
    sketch: Sketch


def engine_of(book: Book) -> Engine:
    """Choose how this book is built. Raises BadInput for an engine that cannot read the source."""
    name = book.engine
    if name == "typst" and not book.markdown:
        raise BadInput(
            f"{book.file.name}: Typst sets Markdown books only, and {book.settings.source[0]} is "
            "LaTeX. Mend 'engine'."
        )
    return _typst(book) if name == "typst" else _latex(book, name)


def _typst(book: Book) -> Engine:
    build = own_build.build_typst if book.settings.build else typst.build
    return Engine(
        "typst",
        build,
        lambda book: read_record(book.record),
        typst_inserts.render,
        typst_inserts.settings,
        build,
        typst_text.read,
        _no_sketch,
    )


def _latex(book: Book, name: str) -> Engine:
    return Engine(
        name,
        _latex_build(book),
        markdown_latex.record if book.markdown else lambda book: read_record(book.record),
        lambda inserts: latex_inserts.render(_with_bodies(inserts)),
        lambda inserts: latex_inserts.settings(_with_bodies(inserts)),
        _latex_once(book),
        markdown_latex.text if book.markdown else _latex_text,
        _latex_sketch(book),
    )


def _latex_text(book: Book, _: Sequence[Sheet]) -> TextRecord:
    return read_text_record(book.record, book.output.with_suffix(".log"))


def _latex_sketch(book: Book) -> Sketch:
    if book.settings.build:
        return _no_sketch
    return markdown_latex.sketch if book.markdown else sketch


def _no_sketch(_book: Book, _say: Say) -> None:
    """A run of this engine is a whole build."""


def _with_bodies(inserts: Inserts) -> Inserts:
    return replace(inserts, bodies=latex_bodies(inserts.book))


def _latex_build(book: Book) -> Build:
    if book.settings.build:
        return own_build.build
    if book.markdown:
        return markdown_latex.build
    return latexmk.build if latex.has_latexmk() else rerun.build


def _latex_once(book: Book) -> Callable[[Book, Say], int]:
    return _latex_build(book) if book.settings.build or book.markdown else rerun.once
