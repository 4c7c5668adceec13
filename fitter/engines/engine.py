"""The engine of a book: how it is built, how its record is read, how its inserts are written."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Protocol

from fitter.book.loader import Book
from fitter.engines import latex, latexmk, rerun
from fitter.engines.fillers import latex_bodies
from fitter.engines.own_places import require_free
from fitter.engines.record import Record, read_record
from fitter.engines.shipped import Say
from fitter.engines.sketch import sketch
from fitter.errors import BadInput
from fitter.inserts import latex as latex_inserts
from fitter.inserts.content import Inserts

if TYPE_CHECKING:
    from fitter.engines.text_record import TextRecord
    from fitter.trade.tighten.lines import Sheet


class Build(Protocol):
    """Bring the PDF and its record up to date; returns the number of engine runs."""

    def __call__(self, book: Book, say: Say, *, force: bool = False) -> int: ...


_VARIABLE = "the variable '{0}' or "
Sketch = Callable[[Book, Say], Record | None]


@dataclass(frozen=True, slots=True)
class Engine:
    """`before_choice` renders the part of the inserts that holds before anything is chosen.

    `once` is a single run where only the places of lines matter, and references may be old.
    `text` reads what a trial recorded of the running text, with the help of the PDF's pages.
    `shortens` tells whether a paragraph can be set a line shorter without an edit.
    `use` is how a source uses the setting `{0}`.
    `sketch` has rough counts from a first run of a book never typeset, where such a run is cheap.
    """

    name: str
    build: Build
    record: Callable[[Book], Record | None]
    render: Callable[[Inserts], str]
    before_choice: Callable[[Inserts], str]
    once: Callable[[Book, Say], int]
    text: Callable[[Book, Sequence[Sheet]], TextRecord]
    use: str
    shortens: bool
    sketch: Sketch


def silent(_text: str, _page: int = 0, /) -> None:
    """Where nobody listens, or drafts at the same time would talk over each other."""


def engine_of(book: Book, say: Say = silent) -> Engine:
    """Choose how this book is built. Raises BadInput for an engine that cannot read the source.

    `say` is told what becomes of the fillers while the inserts are written.
    """
    name = book.engine
    if name == "typst" and not book.markdown:
        raise BadInput(
            f"{book.file.name}: Typst sets Markdown books only, and {book.settings.source[0]} is "
            "LaTeX. Mend 'engine'."
        )
    engine = _typst(book) if name == "typst" else _latex(book, name, say)
    return _with_care(engine)


def _with_care(engine: Engine) -> Engine:
    """Whatever it builds, no file of an author's is written over."""

    def build(book: Book, say: Say, *, force: bool = False) -> int:
        require_free(book)
        return engine.build(book, say, force=force)

    def sketch(book: Book, say: Say) -> Record | None:
        require_free(book)
        return engine.sketch(book, say)

    return replace(engine, build=build, sketch=sketch)


def _typst(book: Book) -> Engine:
    from fitter.engines import own_build, typst, typst_text
    from fitter.inserts import typst as typst_inserts

    build = own_build.build_typst if book.settings.build else typst.build
    return Engine(
        "typst",
        build,
        lambda book: read_record(book.record),
        typst_inserts.render,
        typst_inserts.before_choice,
        build,
        typst_text.read,
        _VARIABLE + 'bookset("{0}")',
        False,
        _no_sketch,
    )


def _latex(book: Book, name: str, say: Say) -> Engine:
    engine = Engine(
        name,
        latexmk.build if latex.has_latexmk() else rerun.build,
        lambda book: read_record(book.record),
        lambda inserts: latex_inserts.render(_with_bodies(inserts, say)),
        lambda inserts: latex_inserts.before_choice(_with_bodies(inserts, say)),
        rerun.once,
        _latex_text,
        r"\bookset{{{0}}}",
        True,
        sketch,
    )
    if book.markdown:
        engine = _from_markdown(engine)
    return _by_the_author(engine) if book.settings.build else engine


def _from_markdown(engine: Engine) -> Engine:
    from fitter.engines import markdown_latex as through

    return replace(
        engine,
        build=through.build,
        record=through.record,
        once=through.build,
        text=through.text,
        use=_VARIABLE + engine.use,
        sketch=through.sketch,
    )


def _by_the_author(engine: Engine) -> Engine:
    from fitter.engines import own_build

    return replace(engine, build=own_build.build, once=own_build.build, sketch=_no_sketch)


def _latex_text(book: Book, _: Sequence[Sheet]) -> TextRecord:
    from fitter.engines.text_record import read_text_record

    return read_text_record(book.record, book.output.with_suffix(".log"))


def _no_sketch(_book: Book, _say: Say) -> None:
    """A run of this engine is a whole build."""


def _with_bodies(inserts: Inserts, say: Say) -> Inserts:
    return replace(inserts, bodies=latex_bodies(inserts.book, say))
