"""From the Markdown files of a book to one LaTeX or Typst file in the build folder, by pandoc."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from fitter.book.loader import Book
from fitter.engines.fresh import begin, is_fresh, keep, state_of
from fitter.engines.own_places import make_own, workshop
from fitter.engines.pandoc import find_pandoc, run_pandoc
from fitter.engines.shipped import Say
from fitter.errors import BadInput
from fitter.inserts.markdown import markdown_text
from fitter.package import data_file
from fitter.trade.size import Size
from fitter.writing import write_whole

SUFFIX = {"latex": ".tex", "typst": ".typ"}
_WRITER = {"latex": "latex", "typst": "typst-smart"}  # with smart, Typst would guess each quote
OURS = ("fitter.lua", "bookset.typ", "fitter.typ", "book.typ")
DEFAULT_TRIM = Size(148, 210)
_READS = re.compile(r"^(?:%|//) fitter: reads (.+)$", re.MULTILINE)
_CITES = re.compile(r"^(?:bibliography|references)\s*:", re.MULTILINE)


def convert(
    book: Book, to: str, say: Say, *, also: Iterable[Path] = (), inserts: Iterable[str] = ()
) -> int:
    """Bring the generated file up to date; returns how often pandoc ran (0 or 1).

    `also` are more files that it depends on, `inserts` the lines of the inserts file that the
    filter makes something of. Raises BadInput, or ProgramFailed as pandoc fails.
    """
    made = book.output.with_suffix(SUFFIX[to])
    state_file = workshop(book) / f"{made.name}.json"
    texts = {path: utf8_text(book, path) for path in book.sources}
    arguments = _arguments(book, to, made, cites=any(map(_CITES.search, texts.values())))
    pandoc = find_pandoc(to)
    words = [pandoc, *arguments, json.dumps(_metadata(book, to)), *inserts]

    def state() -> dict[str, str]:
        ours = map(data_file, OURS)
        return state_of(words, [*texts, *also, *ours, *resources(book, made)])

    if made.is_file() and is_fresh(state_file, state()):
        return 0
    if made.is_file() and not state_file.is_file():
        raise _somebody_elses(book, made)
    make_own(book, workshop(book))
    write_whole(_metadata_file(book, made), json.dumps(_metadata(book, to), indent=1))
    begin(state_file)
    say("pandoc")
    run_pandoc(pandoc, arguments, book.home, say)
    keep(state_file, state())
    return 1


def _somebody_elses(book: Book, made: Path) -> BadInput:
    return BadInput(
        f"{book.from_source(made)}: this file is not of fitter's making, so it is not written "
        f"over. Name the command that makes it under 'build:' in {book.file.name}, or take it away."
    )


def resources(book: Book, made: Path) -> list[Path]:
    """The images and bibliographies that the generated file says it was made with."""
    if not made.is_file():
        return []
    named = _READS.findall(made.read_text(encoding="utf-8", errors="replace"))
    found = ((folder / name for folder in _folders(book)) for name in named)
    return [next((path for path in paths if path.is_file()), book.home / "-") for paths in found]


def _arguments(book: Book, to: str, made: Path, *, cites: bool) -> list[str]:
    where = book.from_source(workshop(book))
    return [
        "--standalone",
        f"--to={_WRITER[to]}",
        f"--output={book.from_source(made)}",
        f"--lua-filter={data_file('fitter.lua')}",
        *([f"--template={data_file('book.typ')}"] if to == "typst" else []),
        f"--metadata-file={book.from_source(_metadata_file(book, made))}",
        f"--extract-media={where}/media",
        f"--resource-path={':'.join(book.from_source(folder) for folder in _folders(book))}",
        "--top-level-division=chapter",
        "--toc-depth=1",
        *(["--citeproc"] if cites else []),
        *(book.from_source(path) for path in book.sources),
    ]


def _folders(book: Book) -> list[Path]:
    """Where pandoc looks for what the sources name: the book's folder first."""
    return list(dict.fromkeys([book.home, *(path.parent for path in book.sources)]))


def _metadata_file(book: Book, made: Path) -> Path:
    return workshop(book) / f"{made.name}.yaml"


def _metadata(book: Book, to: str) -> dict[str, Any]:
    """What the book gets where its own metadata block does not say otherwise."""
    settings = book.settings
    words = {
        "title": settings.title,
        "author": settings.author,
        "publisher": ", ".join(settings.imprint.publisher),
        "lang": settings.language,
    }
    return {
        **{key: markdown_text(word) for key, word in words.items() if word},
        "toc": True,
        "numbersections": True,
        **dict(_latex_page(settings.trim) if to == "latex" else _typst_page(settings.trim)),
    }


def _typst_page(trim: Size | None) -> Iterator[tuple[str, Any]]:
    size = trim or DEFAULT_TRIM
    yield "paperwidth", f"{size.width_mm:g}mm"
    yield "paperheight", f"{size.height_mm:g}mm"


def _latex_page(trim: Size | None) -> Iterator[tuple[str, Any]]:
    """The margins are those of book.typ."""
    size = trim or DEFAULT_TRIM
    width, height = size.width_mm, size.height_mm
    yield "documentclass", "book"
    yield "fontsize", "10pt" if width < 140 else "11pt"
    yield "indent", True
    yield (
        "geometry",
        [
            f"paperwidth={width:g}mm",
            f"paperheight={height:g}mm",
            f"inner={width * 0.155:.1f}mm",
            f"outer={width * 0.13:.1f}mm",
            f"top={height * 0.11:.1f}mm",
            f"bottom={height * 0.12:.1f}mm",
        ],
    )


def source_texts(book: Book) -> dict[str, str]:
    """The Markdown files of a book in reading order, by the names that the source knows them by."""
    return {book.from_source(path): path.read_text("utf-8", "replace") for path in book.sources}


def utf8_text(book: Book, path: Path) -> str:
    """A source or filler as text. Raises BadInput with the line that is not UTF-8."""
    content = path.read_bytes()
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise BadInput(
            f"{book.from_source(path)}:{line}: this is not UTF-8. Save the file as UTF-8."
        ) from None
