"""Paragraphs set a line shorter, known by their text, in three engines: made and taken back."""

from __future__ import annotations

import os
import re
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest

from fitter.engines.text_record import ParagraphSeen, read_text_record
from fitter.inserts.blocks import blocks
from tests.conftest import ROOT

ENGINES = ("pdflatex", "lualatex", "xelatex")
# Set in ten-point type to 300pt these can lose their last line, in all three engines.
PLAIN = (
    "The ferry went over at six and came back at seven, and nobody in the village could say who "
    "had been on it. The boat carried letters which were never sent, because the postmaster "
    "counted them twice before he wrote anything down. Under a low ceiling of smoke the lantern "
    "swung, and the river went by the harbour wall without a word about the morning. They were "
    "told that it would end, and it ended."
)
LONGER = PLAIN[:-1] + (" when the bell was taken down and the stones of the wall were carried up.")
MARKED = r"Prices: 5\,\% \& more, ``quoted'', $x_1^2 < y$, caf\'e, na\"\i ve, a~tie, \#1."
SOURCE = rf"""\documentclass{{book}}
\usepackage{{fitter}}
\textwidth 300pt
\begin{{document}}
\chapter{{One}}
{{\itshape A group that ends}} before the paragraph does. {PLAIN}

{LONGER}

\parbox{{200pt}}{{{PLAIN}

{PLAIN}}}

{{\small A group around a whole paragraph. {PLAIN}\par}}

{MARKED}
Then a footnote.\footnote{{{PLAIN}

{PLAIN}}} {PLAIN}

\begin{{itemize}}
\item {PLAIN}
\item {PLAIN}
\end{{itemize}}

\input{{part/two}}
\end{{document}}
"""


@dataclass(frozen=True, slots=True)
class Set:
    """What TeX made of the source."""

    paragraphs: list[ParagraphSeen]
    lost: list[str]
    text: str

    @property
    def lines(self) -> list[int]:
        return [each.lines for each in self.paragraphs]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A folder with the source and the inserts that the test writes."""

    folder: Path
    engine: str

    def typeset(self, *inserts: str) -> Set:
        lines = [
            "\\RequirePackage{fitter-tighten}",
            "\\fitterMainFile{book.tex}",
            "\\fitterRecordText",
            *inserts,
        ]
        (self.folder / "book-inserts.tex").write_text("\n".join(lines) + "\n")
        arguments = [self.engine, "-interaction=batchmode", "-halt-on-error", "book.tex"]
        inputs = {"TEXINPUTS": f"{ROOT / 'latex'}:"}
        subprocess.run(
            arguments, cwd=self.folder, env=os.environ | inputs, check=True, capture_output=True
        )
        record, log = self.folder / "book.pages", self.folder / "book.log"
        told = read_text_record(record, log)
        words = re.findall(r"which is left out|is left as it is", log.read_text("utf-8", "replace"))
        return Set(
            list(told.paragraphs),
            [file for _, file, _, _ in told.lost],
            f"{len(words)}",
        )

    def shorter(self, file: str, words: str, number: int = 1) -> str:
        """The line of the inserts that names a paragraph by words in its block."""
        found = [
            each
            for each in blocks((self.folder / file).read_bytes())
            if words in each.text.decode()
        ]
        return f"\\fitterShorter{{{file}}}{{{found[0].digest}}}{{{number}}}"


@pytest.fixture(params=ENGINES)
def sheet(request: pytest.FixtureRequest, tmp_path: Path) -> Sheet:
    (tmp_path / "book.tex").write_text(SOURCE, encoding="utf-8")
    (tmp_path / "part").mkdir()
    (tmp_path / "part/two.tex").write_text(
        f"\\chapter{{Two}}\nFirst.\n\n  {PLAIN}\n\nÉtrange: {PLAIN}\n"
    )
    return Sheet(tmp_path, request.param)


def test_what_stands_on_the_page_itself_is_recorded(sheet: Sheet) -> None:
    told = sheet.typeset()
    places = [(each.file, each.line) for each in told.paragraphs if each.lines > 1]
    assert places == [
        ("book.tex", 6),
        ("book.tex", 8),
        ("book.tex", 14),
        ("book.tex", 16),
        ("book.tex", 22),
        ("book.tex", 23),
        ("part/two.tex", 4),
        ("part/two.tex", 6),
    ], "the paragraphs in the box and in the note are not"


def test_a_paragraph_loses_a_line_and_takes_it_back(sheet: Sheet) -> None:
    plain = sheet.typeset()
    names = [
        sheet.shorter("book.tex", "A group that ends"),
        sheet.shorter("book.tex", "carried up"),
        sheet.shorter("book.tex", "A group around"),
        sheet.shorter("book.tex", "Prices"),
        sheet.shorter("book.tex", "itemize", 2),
        sheet.shorter("part/two.tex", "The ferry"),
        sheet.shorter("part/two.tex", "Étrange"),
    ]
    shorter = sheet.typeset(*names)
    assert shorter.lost == []
    won = {
        (before.file, before.line)
        for before, after in zip(plain.paragraphs, shorter.paragraphs, strict=True)
        if after.lines == before.lines - 1
    }
    assert won >= {("book.tex", 8), ("part/two.tex", 4)}
    assert ("book.tex", 22) not in won, "only its neighbour in the list was named"
    assert sheet.typeset().lines == plain.lines


def test_each_name_reaches_its_own_paragraph_and_no_other(sheet: Sheet) -> None:
    plain = sheet.typeset()
    for name, file, line in (
        (sheet.shorter("book.tex", "carried up"), "book.tex", 8),
        (sheet.shorter("part/two.tex", "The ferry"), "part/two.tex", 4),
    ):
        told = sheet.typeset(name)
        changed = [
            (before.file, before.line)
            for before, after in zip(plain.paragraphs, told.paragraphs, strict=True)
            if before.lines != after.lines
        ]
        assert changed == [(file, line)]
        assert told.lost == []


def test_an_edited_paragraph_is_never_tightened_and_is_told(sheet: Sheet) -> None:
    name = sheet.shorter("part/two.tex", "The ferry")
    won = sheet.typeset(name)
    file = sheet.folder / "part/two.tex"
    file.write_text(file.read_text().replace("at six", "at six o'clock", 1))
    edited, plain = sheet.typeset(name), sheet.typeset()
    assert edited.lines == plain.lines
    assert edited.lost == ["part/two.tex"]
    assert edited.text == "1", "the log warns as well"
    assert won.lost == []
    assert won.lines != plain.lines


def test_lines_added_above_or_broken_otherwise_do_not_lose_it(sheet: Sheet) -> None:
    name = sheet.shorter("part/two.tex", "The ferry")
    before = sheet.typeset(name)
    file = sheet.folder / "part/two.tex"
    file.write_text("% a remark\n\n\n" + file.read_text().replace("nobody in", "nobody\n    in", 1))
    after = sheet.typeset(name)
    assert after.lost == []
    assert after.lines == before.lines
