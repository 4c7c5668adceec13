"""How time grows with the pages of a book and with the entries of its catalogue."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from fitter.trade.fill.choose import choose
from tests.benchmarks.books import book, fillers, typeset
from tests.benchmarks.job import ENVIRONMENT, FITTER, LATEXMK, catalogue
from tests.benchmarks.measure import Growth, Run, command, grown
from tests.benchmarks.pairs import LEFT_OVER, QUESTION

PAGES = (50, 200, 800, 3200)
ENTRIES = (10, 100, 1000)


def growths(folder: Path, *, quick: bool) -> Iterator[Growth]:
    """All of them; `quick` with sizes that only show that they run."""
    pages, entries = ((20, 40), (10, 40)) if quick else (PAGES, ENTRIES)
    books = {size: book(folder / f"book-{size}", size) for size in pages}
    rounds = 1 if quick else 2
    builds = {} if quick else {"latexmk": LATEXMK, "`fitter build`": (*FITTER, "build")}
    for name, words in builds.items():
        runs = {size: from_clean(at, *words) for size, at in books.items()}
        yield grown(f"{name} from clean", "pages", runs, 1)
    pdfs = {size: typeset(at, ENVIRONMENT) for size, at in books.items()}
    for words in (("check", "--format", "json"), ("dummy", "-q", "--output", folder / "x.html")):
        name = f"`fitter {words[0]}`"
        runs = {n: _in(folder, *FITTER, words[0], pdf, *words[1:]) for n, pdf in pdfs.items()}
        yield grown(name, "pages", runs, rounds)
    plans = {n: _in(catalogue(folder, n), *FITTER, "plan", "--pages", "257") for n in entries}
    yield grown("`fitter plan`", "entries", plans, rounds)
    choices: dict[int, Run] = {
        n: partial(choose, fillers(n), LEFT_OVER, **QUESTION) for n in entries
    }
    yield grown("the choice alone", "entries", choices, rounds)


def from_clean(book: Path, *words: object) -> Run:
    """A build with nothing there from an earlier one."""
    build = _in(book, *words)

    def run() -> None:
        shutil.rmtree(book / "build", ignore_errors=True)
        for made in book.glob("*-inserts*"):
            made.unlink()
        build()

    return run


def _in(folder: Path, *words: object) -> Run:
    return command(*words, folder=folder, environment=ENVIRONMENT)
