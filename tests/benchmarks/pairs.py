"""What the program does beside what others take for as much or less."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

from fitter.trade.fill.choose import choose
from tests.benchmarks.books import book, fillers, typeset
from tests.benchmarks.job import ENVIRONMENT, FITTER, LATEXMK, PDFLATEX, catalogue, fresh_book
from tests.benchmarks.measure import Pair, Run, command, in_turn
from tests.trade.fill.solver import Solver

QUESTION = {"front_at": None, "back_at": 195, "end_at_most": 2}
LEFT_OVER = 63


def pairs(folder: Path, *, quick: bool) -> Iterator[Pair]:
    """All of them; `quick` on small input and once, to see that they run."""
    rounds = 1 if quick else 5
    if not quick:
        yield from jobs(fresh_book(folder), "the sample book", rounds)
    pages = 20 if quick else 400
    yield from jobs(book(folder / "large", pages), f"{pages} pages", rounds)
    yield from verdicts(folder, 40 if quick else 2000, min(rounds, 3))
    yield choice(20 if quick else 100, min(rounds, 3))
    yield from starts(folder, rounds)


def _in(folder: Path, *words: object) -> Run:
    return command(*words, folder=folder, environment=ENVIRONMENT)


def jobs(place: Path, name: str, rounds: int) -> Iterator[Pair]:
    """The whole job beside plain latexmk on the same source."""

    def swept() -> None:
        shutil.rmtree(place / "build", ignore_errors=True)
        for made in place.glob("*-inserts*"):
            made.unlink()

    ours, latexmk = _in(place, *FITTER, "build"), _in(place, *LATEXMK)
    one_more = _in(place, *PDFLATEX)
    both = lambda: (latexmk(), one_more())  # noqa: E731
    clean = "`fitter build` from clean : latexmk from clean and one run more"
    yield in_turn(f"{clean}, {name}", ours, both, rounds, swept)
    swept()
    ours()
    again = place.with_name(f"{place.name}-latexmk")
    shutil.copytree(place, again, ignore=shutil.ignore_patterns("build"))
    _in(again, *LATEXMK)()
    unchanged = "`fitter build` : latexmk, nothing changed"
    yield in_turn(f"{unchanged}, {name}", ours, _in(again, *LATEXMK), rounds)


def verdicts(folder: Path, pages: int, rounds: int) -> Iterator[Pair]:
    """The gate on a PDF beside programs that only render its pages or measure their ink."""
    pdf = typeset(book(folder / "novel", pages), ENVIRONMENT)
    ours = _in(folder, *FITTER, "check", pdf, "--format", "json")
    (folder / "grey").mkdir()
    poppler = _in(folder, "pdftoppm", "-r", "36", "-gray", pdf, folder / "grey" / "page")
    ink = _in(folder, "gs", "-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=inkcov", "-o", "-", pdf)
    name = f"`fitter check` : {{}}, {pages:,} pages"
    yield in_turn(name.format("`pdftoppm -r 36 -gray`"), ours, poppler, rounds)
    yield in_turn(name.format("Ghostscript's `inkcov`"), ours, ink, 1)


def choice(entries: int, rounds: int) -> Pair:
    """The choice of fillers beside CP-SAT, which is given the same aims one after the other."""
    catalogue = fillers(entries)
    return in_turn(
        f"the choice : CP-SAT, {entries} fillers for {LEFT_OVER} pages",
        lambda: choose(catalogue, LEFT_OVER, **QUESTION),
        lambda: Solver(catalogue, LEFT_OVER, **QUESTION).best(),
        rounds,
    )


def starts(folder: Path, rounds: int) -> Iterator[Pair]:
    """What starting takes, and planning without a PDF."""
    click = _in(folder, sys.executable, "-c", "import click")
    many = catalogue(folder, 1000)
    yield in_turn(
        "`fitter --version` : `import click`", _in(folder, *FITTER, "--version"), click, 2 * rounds
    )
    plan = _in(many, *FITTER, "plan", "--pages", "257")
    yield in_turn("`fitter plan` with 1,000 fillers : `import click`", plan, click, rounds)
