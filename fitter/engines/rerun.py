"""Without latexmk: run TeX until its aux files are stable; not at all when nothing has changed."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable
from pathlib import Path

from fitter.book.loader import Book
from fitter.engines import latex
from fitter.engines.run import find_program, run
from fitter.errors import ProgramFailed
from fitter.inserts.writing import write_whole

MOST_RUNS = 6
_NOT_A_REFERENCE = re.compile(rb"^\\gdef ?\\@abspage@last.*$", re.MULTILINE)
_AUX = (".aux", ".toc", ".lof", ".lot", ".out", ".idx", ".ind", ".bbl")


def build(book: Book, say: Callable[[str], None], *, force: bool = False) -> int:
    """Bring the PDF up to date; returns how often the engine ran. Raises ProgramFailed."""
    program = latex.require_engine(book)
    state_file = book.output.with_suffix(".inputs.json")
    if not force and book.output.is_file() and _unchanged(book, state_file):
        return 0
    book.output.parent.mkdir(parents=True, exist_ok=True)
    for runs in range(1, MOST_RUNS + 1):
        before = _aux_state(book)
        say(f"{latex.engine_name(book)}, run {runs}")
        _run_once(book, program)
        helped = _index_and_bibliography(book, before)
        if _aux_state(book) == before and not helped:
            break
    else:
        raise ProgramFailed(
            f"{latex.engine_name(book)}: the references are still moving after {MOST_RUNS} runs. "
            "Look for a reference that moves its own page."
        )
    write_whole(state_file, json.dumps(_inputs(book), indent=0))
    return runs


def _run_once(book: Book, program: str) -> None:
    arguments = [
        program,
        "-recorder",
        "-interaction=nonstopmode",
        "-halt-on-error",
        "-file-line-error",
        f"-output-directory={book.from_source(book.output.parent)}",
        f"-jobname={book.output.stem}",
        book.from_source(book.source),
    ]
    finished = run(arguments, latex.working_folder(book), latex.tex_environment())
    if finished.status != 0:
        raise latex.failure(book, latex.engine_name(book), finished)


def _index_and_bibliography(book: Book, before: dict[str, str]) -> bool:
    """Run makeindex, biber or bibtex where the aux files ask for them anew."""
    now, stem, folder = _aux_state(book), book.output.stem, book.output.parent
    helped = False
    if now.get(".idx") and now.get(".idx") != before.get(".idx"):
        _helper(book, ["makeindex", f"{stem}.idx"], folder)
        helped = True
    control = folder / f"{stem}.bcf"
    aux = (folder / f"{stem}.aux").read_bytes()
    if not (folder / f"{stem}.bbl").exists():
        if control.is_file():
            _helper(book, ["biber", "--input-directory", str(book.source.parent), stem], folder)
            helped = True
        elif b"\\bibdata" in aux:
            _helper(book, ["bibtex", stem], folder)
            helped = True
    return helped


def _helper(book: Book, arguments: list[str], folder: Path) -> None:
    environment = latex.tex_environment()
    sources = str(book.source.parent.resolve())
    environment |= {"BIBINPUTS": f"{sources}:", "BSTINPUTS": f"{sources}:"}
    finished = run([find_program(arguments[0]), *arguments[1:]], folder, environment)
    if finished.status != 0:
        tail = "\n".join(finished.lines[-6:])
        raise ProgramFailed(f"{arguments[0]} failed. Its last words:\n{tail}")


def _aux_state(book: Book) -> dict[str, str]:
    files = (book.output.with_suffix(suffix) for suffix in _AUX)
    return {file.suffix: _hash(file) for file in files if file.is_file()}


def _hash(file: Path) -> str:
    return hashlib.sha256(_NOT_A_REFERENCE.sub(b"", file.read_bytes())).hexdigest()


def _inputs(book: Book) -> dict[str, str]:
    """Every file TeX read and did not write itself, with its content's hash."""
    reads: set[Path] = set()
    writes: set[Path] = set()
    lines = book.output.with_suffix(".fls").read_text(encoding="utf-8", errors="replace")
    for line in lines.splitlines():
        kind, _, name = line.partition(" ")
        path = Path(latex.working_folder(book), name)
        (reads if kind == "INPUT" else writes if kind == "OUTPUT" else set()).add(path.resolve())
    inserts = {book.inserts.resolve()}
    return {str(file): _hash(file) for file in sorted(reads - writes | inserts) if file.is_file()}


def _unchanged(book: Book, state_file: Path) -> bool:
    try:
        known = json.loads(state_file.read_text(encoding="utf-8"))
        return bool(known) and known == _inputs(book)
    except (OSError, ValueError):
        return False
