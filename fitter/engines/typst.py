"""Typst, in this process: the generated file set as a PDF, and its record asked for."""

from __future__ import annotations

import json
import re
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from typing import Any, cast

from fitter.book.kinds import names_pdf
from fitter.book.loader import Book
from fitter.engines.fresh import begin, is_fresh, keep, state_of
from fitter.engines.markdown import convert, resources, utf8_text
from fitter.engines.own_places import workshop
from fitter.engines.run import beginning
from fitter.engines.shipped import Say
from fitter.engines.typst_record import record_text
from fitter.errors import BadInput, ProgramFailed
from fitter.inserts.typst import for_pandoc
from fitter.writing import write_whole

OLDEST = (0, 15)
TEXT_TYPE = "Libertinus Serif"
_VIRTUAL = "__typst_py_bytes__.typ"
_FILLER = re.compile(rb'^#fitter-bodies\.insert\("([^"]+)"')
_ERROR_AT = re.compile(rf"{re.escape(_VIRTUAL)}:(\d+):\d+")


def build(book: Book, say: Say, *, force: bool = False) -> int:
    """Bring the PDF and its record up to date; returns how often Typst ran.

    Raises BadInput, or ProgramFailed with pandoc's or Typst's own message.
    """
    fillers = [book.folder / entry.source for entry in book.catalogue if entry.source]
    for filler in fillers:
        if not names_pdf(filler):
            utf8_text(book, filler)
    installed = require_typst()
    inserts = _inserts(book)
    convert(book, "typst", say, also=fillers, inserts=for_pandoc(inserts))
    made = book.output.with_suffix(".typ")
    state_file = workshop(book) / "typeset.json"
    state = state_of([installed, inserts], [made, *fillers, *resources(book, made)])
    made_all = book.output.is_file() and book.record.is_file()
    if made_all and not force and is_fresh(state_file, state):
        return 0
    begin(state_file)
    runs = _typeset(book, made.read_bytes(), inserts, say)
    keep(state_file, state)
    return runs


def _inserts(book: Book) -> str:
    return book.inserts.read_text(encoding="utf-8") if book.inserts.is_file() else ""


def require_typst() -> str:
    """The version of the Typst package. Raises ProgramFailed when it is missing or too old."""
    remedy = "pip install 'book-fitter[embedded]'"
    try:
        installed = version("typst")
    except PackageNotFoundError:
        raise ProgramFailed(f"Typst is not installed. Install it: {remedy}") from None
    if tuple(int(part) for part in re.findall(r"\d+", installed)[:2]) < OLDEST:
        raise ProgramFailed(
            f"The installed Typst is {installed}, and 0.15 or newer is needed. Renew it: {remedy}"
        )
    return installed


def record_of_own_build(book: Book, say: Say) -> int:
    """Ask the `.typ` beside an author's own PDF for its record; returns how often Typst ran."""
    require_typst()
    made = book.output.with_suffix(".typ")
    if not made.is_file():
        raise BadInput(
            f"{book.from_source(made)}: the build left no Typst source beside the PDF, so nothing "
            "is known of its pages. Have pandoc write this file, and Typst make the PDF of it."
        )
    return _note_record(_Layout(book, made.read_bytes(), _inserts(book)), say)


def _typeset(book: Book, source: bytes, inserts: str, say: Say) -> int:
    layout = _Layout(book, source, inserts)
    runs = _note_record(layout, say)
    write_whole(book.output, layout.pdf())
    return runs


def _note_record(layout: _Layout, say: Say) -> int:
    """Set the candidates alone to count their pages, then the book; returns the layouts made."""
    book, measured = layout.book, None
    if layout.has_fillers:
        say("Typst: the fillers")
        measured = layout.of_fillers().record()
    say("Typst: the book")
    write_whole(book.record, record_text(book, layout.record(), measured or {"notes": []}))
    return 1 if measured is None else 2


@cache
def _text_type_differs() -> bool:
    """Whether this machine has its own copy of the text type, which might break lines elsewhere.

    The book then keeps to the fonts that come with Typst; else the machine's serve where the text
    type has no sign, or where the author names one.
    """
    import typst

    return any(font.family == TEXT_TYPE and font.path for font in typst.Fonts().fonts())


class _Layout:
    """One layout of a document, from which both the record and the PDF come."""

    def __init__(self, book: Book, source: bytes, inserts: str, *, fillers: bool = False) -> None:
        import typst

        self.book, self.source, self.inserts = book, source, inserts
        self.error = typst.TypstError
        self.compiler = typst.Compiler(
            source,
            root=str(book.folder),
            sys_inputs={
                **({"fitter-inserts": inserts} if inserts else {}),
                **({"fitter-measure": "yes"} if fillers else {}),
            },
            ignore_system_fonts=_text_type_differs(),
        )

    def of_fillers(self) -> _Layout:
        """The candidates alone, in the same typography."""
        return _Layout(self.book, self.source, self.inserts, fillers=True)

    @property
    def has_fillers(self) -> bool:
        """Whether fillers are set in it whose length is not known."""
        return any(map(_FILLER.match, self.source.splitlines()))

    def record(self) -> dict[str, Any]:
        """What the document tells of its pages."""
        try:
            told = json.loads(self.compiler.query("<fitter-record>"))
        except RuntimeError as error:
            self.pdf()  # a query says less of what went wrong than this does
            raise _failure(self.book, self.source, str(error)) from None
        return dict(told[0]["value"])

    def pdf(self) -> bytes:
        """The same layout as a PDF: Typst remembers it."""
        try:
            return cast(bytes, self.compiler.compile(input=self.source))
        except self.error as error:
            raise _failure(self.book, self.source, error.diagnostic or str(error)) from None


def _failure(book: Book, source: bytes, diagnostic: str) -> ProgramFailed:
    """What Typst said, with the file it was given, and the filler's name if one is to blame."""
    made = book.from_source(book.output.with_suffix(".typ"))
    words = diagnostic.replace(_VIRTUAL, made).strip()
    blame = ""
    if match := _ERROR_AT.search(diagnostic):
        before = source.splitlines()[: int(match[1])]
        fillers = [found[1].decode() for line in before if (found := _FILLER.match(line))]
        inside = fillers and not any(line.startswith(b"#show: fitter-draft") for line in before)
        blame = f"This is the filler '{fillers[-1]}'. " if inside else ""
    return ProgramFailed(f"{blame}Typst stopped: {beginning(words.splitlines())}")
