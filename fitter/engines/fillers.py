"""Markdown fillers as LaTeX, made by pandoc and kept until they change."""

from __future__ import annotations

from pathlib import Path

from fitter.book.kinds import names_markdown
from fitter.book.loader import Book
from fitter.book.models import FillerEntry
from fitter.engines.fresh import begin, is_fresh, keep, state_of
from fitter.engines.markdown import utf8_text
from fitter.engines.own_places import make_own, workshop
from fitter.engines.pandoc import find_pandoc, run_pandoc
from fitter.engines.shipped import Say
from fitter.errors import BadInput, ProgramFailed
from fitter.package import data_file

# What pandoc's LaTeX takes for granted and a book of one's own need not define.
PREAMBLE = r"""\providecommand\tightlist{\itemsep0pt\parskip0pt}
\providecommand\pandocbounded[1]{#1}
\providecommand\href[2]{#2}
\providecommand\texorpdfstring[2]{#1}
\providecommand\url[1]{\texttt{#1}}
"""


def latex_bodies(book: Book, say: Say) -> dict[str, str]:
    """The LaTeX of every Markdown filler by its id. Raises ProgramFailed, naming the filler."""
    entries = [entry for entry in book.catalogue if names_markdown(entry.source)]
    return {entry.id: PREAMBLE + _body(book, entry, say) for entry in entries}


def _body(book: Book, entry: FillerEntry, say: Say) -> str:
    source = book.folder / (entry.source or "")
    utf8_text(book, source)
    made = workshop(book) / f"{entry.id}.tex"
    pandoc = find_pandoc("latex")
    arguments = _arguments(book, source, made)
    state_file = made.with_suffix(".json")
    state = state_of([pandoc, *arguments], [source, data_file("fitter.lua")])
    if not (made.is_file() and is_fresh(state_file, state)):
        make_own(book, made.parent)
        begin(state_file)
        say(f"pandoc: the filler '{entry.id}'")
        _convert(book, entry, pandoc, arguments, say)
        keep(state_file, state)
    return made.read_text(encoding="utf-8")


def _convert(
    book: Book,
    entry: FillerEntry,
    pandoc: str,
    arguments: list[str],
    say: Say,
) -> None:
    try:
        run_pandoc(pandoc, arguments, book.home, say)
    except (BadInput, ProgramFailed) as fault:
        named = (f"The filler '{entry.id}': {words}" for words in fault.sentences)
        raise type(fault)(*named) from None


def _arguments(book: Book, source: Path, made: Path) -> list[str]:
    return [
        "--to=latex",
        f"--output={book.from_source(made)}",
        f"--lua-filter={data_file('fitter.lua')}",
        "--metadata=fitter-filler",
        "--top-level-division=chapter",
        f"--resource-path={book.from_source(book.home)}:{book.from_source(source.parent)}",
        f"--extract-media={book.from_source(made.parent)}/media",
        book.from_source(source),
    ]
