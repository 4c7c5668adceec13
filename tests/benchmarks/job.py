"""Ratios of the whole job, each pair measured in turn in one run: python tests/benchmarks/job.py

Nothing here is asserted. The figures depend on the machine; the ratios hardly do.
"""

from __future__ import annotations

import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parents[2]
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT), "TEXINPUTS": f"{ROOT / 'latex'}:"}
FITTER = [sys.executable, "-m", "fitter"]
LATEXMK = ["latexmk", "-pdf", "-interaction=batchmode", "-outdir=build", "book.tex"]
PDFLATEX = ["pdflatex", "-interaction=batchmode", "-output-directory=build", "book.tex"]
ROUNDS = 7


def seconds(run: Callable[[], None]) -> float:
    """How long one run takes."""
    started = time.perf_counter()
    run()
    return time.perf_counter() - started


def shell(folder: Path, *commands: list[str]) -> Callable[[], None]:
    """Run commands in a folder, silently."""

    def run() -> None:
        for command in commands:
            subprocess.run(
                command,
                cwd=folder,
                env=ENVIRONMENT,
                check=True,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )

    return run


def fresh_book(folder: Path) -> Path:
    """The sample book, never built; without inserts both sides typeset the same pages."""
    book = folder / "book"
    shutil.rmtree(book, ignore_errors=True)
    shutil.copytree(
        ROOT / "sample_book", book, ignore=shutil.ignore_patterns("build", "*-inserts*")
    )
    return book


def pairs(ours: Callable[[], float], theirs: Callable[[], float]) -> tuple[float, float, float]:
    """Medians of both and of the ratio pair by pair."""
    measured = [(ours(), theirs()) for _ in range(ROUNDS)]
    left, right = ([pair[i] for pair in measured] for i in (0, 1))
    ratios = [a / b for a, b in measured]
    return statistics.median(left), statistics.median(right), statistics.median(ratios)


def catalogue(folder: Path, entries: int) -> Path:
    """A book of YAML alone with so many fillers."""
    book = folder / f"catalogue-{entries}"
    book.mkdir()
    (book / "book.tex").write_text("")
    (book / "book.yaml").write_text("source: book.tex\nbinding: {gathering: 64}\n")
    lines = [
        f"  - {{id: f{i}, page: notes, pages: {1 + i % 3}..{4 + i % 5}, priority: {1 + i % 9}}}"
        for i in range(entries)
    ]
    (book / "fillers.yaml").write_text("fillers:\n" + "\n".join(lines) + "\n")
    return book


def main() -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        rows = {
            "build from clean : latexmk from clean + 1 run": pairs(
                lambda: seconds(shell(fresh_book(folder), [*FITTER, "build"])),
                lambda: seconds(shell(fresh_book(folder), LATEXMK, PDFLATEX)),
            ),
            "build, nothing changed : latexmk, nothing changed": pairs(
                lambda: seconds(shell(folder / "book", [*FITTER, "build"])),
                lambda: seconds(shell(folder / "book", LATEXMK)),
            ),
            "fitter --version : python -c 'import click'": pairs(
                lambda: seconds(shell(folder, [*FITTER, "--version"])),
                lambda: seconds(shell(folder, [sys.executable, "-c", "import click"])),
            ),
        }
        many = catalogue(folder, 1000)
        plan = shell(many, [*FITTER, "plan", "--pages", "257"])
        rows["plan of 1,000 fillers, 63 left over : import click"] = pairs(
            lambda: seconds(plan),
            lambda: seconds(shell(folder, [sys.executable, "-c", "import click"])),
        )
    print(f"{'pair':52} {'first s':>8} {'second s':>9} {'ratio':>6}")
    for row, (ours, theirs, ratio) in rows.items():
        print(f"{row:52} {ours:8.3f} {theirs:9.3f} {ratio:6.2f}")


if __name__ == "__main__":
    main()
