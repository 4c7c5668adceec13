"""The pages of one chapter a line longer, in three engines and four classes; poppler counts."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

import pytest

from fitter.inserts.blocks import blocks
from tests.conftest import ROOT
from tests.poppler import lines_by_poppler

LINES = "\n\n".join(f"Line {n}." for n in range(1, 100))
SOURCE = rf"""\documentclass[CLASS_OPTIONS]{{CLASS}}
\usepackage{{fitter}}
\begin{{document}}
\chapter{{One}}
{LINES}

\chapter{{Two}}
{LINES}

\chapter{{Three}}
{LINES}
\end{{document}}
"""


def typeset(folder: Path, engine: str, *inserts: str) -> list[list[float]]:
    """The feet of the lines on each page."""
    needed = ("\\RequirePackage{fitter-tighten}", "\\fitterMainFile{book.tex}")
    text = "\n".join((*needed, *inserts))
    (folder / "book-inserts.tex").write_text(f"\\fitterOpeners{{allow}}\n{text}\n")
    subprocess.run(
        [engine, "-interaction=batchmode", "-halt-on-error", "book.tex"],
        cwd=folder,
        env=os.environ | {"TEXINPUTS": f"{ROOT / 'latex'}:"},
        check=True,
        capture_output=True,
    )
    return lines_by_poppler(folder / "book.pdf")


def name_of(folder: Path, words: str) -> str:
    digest = next(
        each.digest
        for each in blocks((folder / "book.tex").read_bytes())
        if words in each.text.decode()
    )
    return f"\\fitterLonger{{book.tex}}{{{digest}}}{{1}}"


def source(cls: str, options: str = "openany") -> str:
    return SOURCE.replace("CLASS_OPTIONS", options).replace("{CLASS}", f"{{{cls}}}")


@pytest.mark.parametrize(
    ("engine", "cls"),
    [
        ("pdflatex", "book"), ("pdflatex", "report"), ("pdflatex", "memoir"),
        ("pdflatex", "scrbook"), ("lualatex", "book"), ("xelatex", "memoir"),
    ],
)  # fmt: skip
def test_every_page_of_the_chapter_has_a_line_more_and_no_other(
    tmp_path: Path, engine: str, cls: str
) -> None:
    (tmp_path / "book.tex").write_text(source(cls))
    plain = typeset(tmp_path, engine)
    longer = typeset(tmp_path, engine, name_of(tmp_path, "chapter{Two}"))
    assert len(plain) == len(longer) == 9, "three pages for each chapter"
    assert longer[:3] == plain[:3]
    assert longer[6:] == plain[6:]
    for number in (3, 4):
        # White space between paragraphs may stretch by a fraction of a point. The folio stands
        # where it stood, at the head of the page or at its foot.
        stand = [any(abs(foot - other) < 0.5 for other in longer[number]) for foot in plain[number]]
        assert all(stand), "every line, and the folio at head or foot"
        assert len(longer[number]) == len(plain[number]) + 1
    assert len(longer[5]) == len(plain[5]) - 2, "what the pages before it have won"


def test_before_a_recto_and_with_a_blank_verso(tmp_path: Path) -> None:
    (tmp_path / "book.tex").write_text(source("book", "openright"))
    plain = typeset(tmp_path, "pdflatex")
    longer = typeset(tmp_path, "pdflatex", name_of(tmp_path, "chapter{Two}"))
    assert [len(page) for page in plain[:4]] == [len(page) for page in longer[:4]]
    assert len(plain) == len(longer)
    assert [i for i, (one, two) in enumerate(zip(plain, longer, strict=True)) if one != two] == [
        4, 5, 6,
    ]  # fmt: skip


def test_a_chapter_that_reads_otherwise_is_left_and_told(tmp_path: Path) -> None:
    (tmp_path / "book.tex").write_text(source("book"))
    name, plain = name_of(tmp_path, "chapter{Two}"), typeset(tmp_path, "pdflatex")
    (tmp_path / "book.tex").write_text(source("book").replace("{Two}", "{Two and a half}"))
    edited = typeset(tmp_path, "pdflatex", name)
    assert list(map(len, edited)) == list(map(len, plain))
    assert "lost{chapter}{book.tex}" in (tmp_path / "book.pages").read_text()
    assert "A chapter of book.tex that was to win a line" in (tmp_path / "book.log").read_text()
