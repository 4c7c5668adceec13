"""Books of any length, made for measuring."""

from __future__ import annotations

import subprocess
from pathlib import Path

from fitter.trade.fill.choose import Filler
from tests.benchmarks.verdicts import PARAGRAPH

PARAGRAPHS_A_PAGE = 4  # on the page below
PAGES_A_CHAPTER = 10


def book(folder: Path, pages: int) -> Path:
    """A LaTeX book of about so many pages, with chapters, contents and a catalogue."""
    folder.mkdir()
    each = PARAGRAPHS_A_PAGE * PAGES_A_CHAPTER
    chapters = "\n".join(
        f"\\chapter{{Of Boats {chapter}}}\n"
        + "\n\n".join(PARAGRAPH.format(chapter * 100 + number) for number in range(each))
        for chapter in range(max(1, pages // PAGES_A_CHAPTER))
    )
    (folder / "book.tex").write_text(
        "\\documentclass[11pt]{book}\n\\usepackage{fitter}\n"
        "\\usepackage[paperwidth=129mm,paperheight=198mm,margin=18mm]{geometry}\n"
        "\\begin{document}\\frontmatter\\null\\newpage\\imprintkey\\tableofcontents\n"
        f"\\mainmatter\n{chapters}\n\\end{{document}}\n"
    )
    (folder / "book.yaml").write_text(
        "title: Of Boats\nsource: book.tex\nengine: pdflatex\nbinding: {gathering: 16}\n"
        "imprint: {year: 2026, key: {years: 5}}\n"
    )
    (folder / "fillers.yaml").write_text(
        "fillers:\n"
        "  - {id: more, source: more.tex, priority: 1}\n"
        "  - {id: notes, page: notes, pages: 1..16, priority: 5}\n"
    )
    (folder / "more.tex").write_text(f"\\chapter*{{Of more boats}}\n{PARAGRAPH.format('all')}\n")
    return folder


def typeset(book: Path, environment: dict[str, str]) -> Path:
    """The PDF of the book, by one run of TeX."""
    run = ["pdflatex", "-interaction=batchmode", "book.tex"]
    subprocess.run(run, cwd=book, env=environment, check=True, stdout=subprocess.DEVNULL)
    return book / "book.pdf"


def fillers(entries: int) -> list[Filler]:
    """A catalogue of so many entries, as in the YAML file made by `job.catalogue`."""
    return [
        Filler(f"f{i}", counts=tuple(range(1 + i % 3, 5 + i % 5)), priority=1 + i % 9)
        for i in range(entries)
    ]
