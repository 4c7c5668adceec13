"""Without latexmk: run TeX until its aux files are stable; not at all when nothing has changed."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

from fitter.book.loader import Book
from fitter.engines import latex
from fitter.engines.fresh import is_fresh, keep, state_of
from fitter.engines.run import Finished, find_program, run
from fitter.engines.shipped import Say, Shipped
from fitter.errors import ProgramFailed

MOST_RUNS = 6
_NOT_A_REFERENCE = re.compile(rb"^\\gdef ?\\@abspage@last.*$", re.MULTILINE)
_NOTHING = re.compile(rb"(?!)")
_ASKS_BIBTEX = re.compile(rb"\\(?:citation|bibdata|bibstyle)\{")
_AUX = (".aux", ".toc", ".lof", ".lot", ".out", ".idx", ".ind", ".bbl")


def build(book: Book, say: Say, *, force: bool = False) -> int:
    """Bring the PDF up to date; returns how often the engine ran. Raises ProgramFailed."""
    find_program(book.engine)
    state_file = latex.aside(book, ".inputs.json")
    if not force and book.output.is_file() and is_fresh(state_file, _state(book)):
        return 0
    latex.prepare_aside(book)
    if not state_file.is_file():
        _helped(book, {})  # what a first rough run has asked for
    shipped = Shipped(book.engine, say)
    ignored = _NOTHING if latex.tells_extent(book) else _NOT_A_REFERENCE
    for _ in range(MOST_RUNS):
        before, asked = _aux_state(book, ignored), _asked(book)
        _run_once(book, shipped)
        if not _helped(book, asked) and _aux_state(book, ignored) == before:
            break
    else:
        raise ProgramFailed(
            f"{book.engine}: the references are still moving after {MOST_RUNS} runs. "
            "Look for a reference that moves its own page."
        )
    latex.bring_out(book)
    keep(state_file, _state(book))
    return shipped.runs


def once(book: Book, say: Say) -> int:
    """One run and no more, with the references of the run before. Raises ProgramFailed.

    The next build may not take what this leaves for a finished book, though its sources be the
    same as those of the last one.
    """
    for remembered in (".inputs.json", ".fdb_latexmk"):
        latex.aside(book, remembered).unlink(missing_ok=True)
    shipped = Shipped(book.engine, say)
    _run_once(book, shipped)
    latex.bring_out(book)
    return shipped.runs


def _run_once(book: Book, shipped: Shipped) -> None:
    finished = one_run(book, shipped)
    if finished.status != 0:
        raise latex.failure(book, book.engine, finished)


def one_run(book: Book, shipped: Shipped, *options: str) -> Finished:
    """One run of the engine, failed or not, of which nothing is brought out."""
    arguments = [
        find_program(book.engine),
        *options,
        "-recorder",
        "-interaction=nonstopmode",
        "-halt-on-error",
        "-file-line-error",
        f"-output-directory={book.from_source(latex.aside(book, '').parent)}",
        f"-jobname={book.output.stem}",
        book.from_source(book.typeset),
    ]
    with latex.unfinished_aside(book):
        return run(arguments, book.home, latex.tex_environment(book), shipped.line)


def _asked(book: Book) -> dict[str, bytes]:
    """What the last run asked of makeindex, biber and bibtex, by the program's name."""
    index, control, aux = (latex.aside(book, suffix) for suffix in (".idx", ".bcf", ".aux"))
    lines = aux.read_bytes().splitlines() if aux.is_file() else []
    wishes = b"\n".join(line for line in lines if _ASKS_BIBTEX.match(line))
    return {
        "makeindex": index.read_bytes() if index.is_file() else b"",
        "biber": control.read_bytes() if control.is_file() else b"",
        "bibtex": wishes if b"\\bibdata" in wishes and not control.is_file() else b"",
    }


def _helped(book: Book, before: dict[str, bytes]) -> bool:
    """Run the helpers that were asked for something new; returns whether any ran."""
    stem, sources = book.output.stem, str(book.home.resolve())
    commands = {
        "makeindex": ["makeindex", f"{stem}.idx"],
        "biber": ["biber", "--input-directory", sources, stem],
        "bibtex": ["bibtex", stem],
    }
    new = [name for name, asked in _asked(book).items() if asked and asked != before.get(name)]
    for name in new:
        _helper(book, commands[name], latex.aside(book, "").parent)
    return bool(new)


def _helper(book: Book, arguments: list[str], folder: Path) -> None:
    program = find_program(arguments[0])
    finished = run([program, *arguments[1:]], folder, latex.tex_environment(book))
    if finished.status != 0:
        tail = "\n".join(finished.lines[-6:])
        raise ProgramFailed(f"{arguments[0]} failed. Its last words:\n{tail}")


def _aux_state(book: Book, ignored: re.Pattern[bytes]) -> dict[str, str]:
    files = (latex.aside(book, suffix) for suffix in _AUX)
    return {file.suffix: _hash(file, ignored) for file in files if file.is_file()}


def _hash(file: Path, ignored: re.Pattern[bytes]) -> str:
    return hashlib.sha256(ignored.sub(b"", file.read_bytes())).hexdigest()


def _state(book: Book) -> dict[str, str]:
    """The engine, and every file that it read and did not write itself."""
    told: dict[str, set[Path]] = {"INPUT": set(), "OUTPUT": set()}
    recorded = latex.aside(book, ".fls")
    lines = recorded.read_text("utf-8", "replace").splitlines() if recorded.is_file() else ()
    for line in lines:
        kind, _, name = line.partition(" ")
        if kind in told:
            told[kind].add(Path(book.home, name).resolve())
    return state_of([book.engine], told["INPUT"] - told["OUTPUT"] | {book.inserts.resolve()})
