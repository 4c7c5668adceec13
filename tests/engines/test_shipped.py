"""Runs and pages are counted from what a real TeX prints."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from fitter.engines.shipped import Shipped

PAGES = 131
SOURCE = r"""\documentclass{article}
\begin{document}
\pagenumbering{roman}a\newpage\pagenumbering{arabic}
\loop\ifnum\value{page}<129 \hbox to 9in{A wide box that quotes [12] and [13]}\par b\newpage\repeat
c\newpage d
\end{document}
"""


def told(lines: list[str]) -> list[tuple[str, int]]:
    said: list[tuple[str, int]] = []
    shipped = Shipped("pdflatex", lambda text, page=0, /: said.append((text, page)))
    for line in lines:
        shipped.line(line)
    return said


@pytest.mark.parametrize("engine", ["pdflatex", "lualatex", "xelatex"])
def test_the_last_page_told_is_the_last_page_of_the_run(engine: str, tmp_path: Path) -> None:
    program = shutil.which(engine)
    assert program
    (tmp_path / "long.tex").write_text(SOURCE)
    lines: list[str] = []
    for _ in range(2):
        done = subprocess.run(
            [program, "-interaction=nonstopmode", "long.tex"],
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=True,
            timeout=120,
        )
        lines += done.stdout.splitlines()
    said = told(lines)
    first, second = ([page for text, page in said if text.endswith(f"run {n}")] for n in (1, 2))
    assert first == second == list(range(PAGES + 1))


def test_pages_of_the_driver_after_a_run_are_not_counted() -> None:
    lines = ["This is XeTeX, Version 3", "[1] [2]", "Output written on a.xdv (2 pages).", "[1][2]"]
    assert told(lines)[-1] == ("pdflatex, run 1", 2)
