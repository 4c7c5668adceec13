"""Small real books, made in a fresh folder; commands run as a user would run them."""

from __future__ import annotations

import importlib.util
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parent.parent
SENTENCE = (
    "The ferry went over at six and came back at seven, and nobody in the village could say "
    "who had been on it. "
)


@dataclass(frozen=True, slots=True)
class Ran:
    """How a command ended."""

    status: int
    out: str
    err: str

    @property
    def report(self) -> Any:
        """Standard output as JSON."""
        return json.loads(self.out)


def fitter(*arguments: str | Path, cwd: Path, **environment: str) -> Ran:
    """Run the command in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "fitter", *map(str, arguments)],
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    return Ran(done.returncode, done.stdout, done.stderr)


@dataclass(frozen=True, slots=True)
class BookFolder:
    """A book in a folder of its own."""

    folder: Path

    def write(self, name: str, text: str) -> BookFolder:
        """Write one of its files."""
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return self

    def fitter(self, *arguments: str | Path, **environment: str) -> Ran:
        """Run a command in the folder."""
        return fitter(*arguments, cwd=self.folder, **environment)


@pytest.fixture
def book_folder(tmp_path: Path) -> BookFolder:
    """An empty folder for a book."""
    return BookFolder(tmp_path)


def chapters(lengths: tuple[int, ...]) -> str:
    """Chapters of so many paragraphs each, three sentences a paragraph."""
    return "\n".join(
        f"\\chapter{{Crossing {number}}}\n" + "\n\n".join([SENTENCE * 3] * length)
        for number, length in enumerate(lengths, 1)
    )


def latex_source(
    cls: str = "book",
    options: str = "",
    packages: str = "",
    lengths: tuple[int, ...] = (30, 8, 1, 40),
    end: str = "",
) -> str:
    """A LaTeX book with front matter, contents, and recto openers that leave blank versos."""
    front, main = ("\\frontmatter", "\\mainmatter") if cls != "report" else ("", "")
    return "\n".join(
        [
            f"\\documentclass[{options}]{{{cls}}}",
            packages,
            "\\usepackage{fitter}",
            "\\title{A Small Book}\\author{N. N.}\\date{}",
            "\\begin{document}",
            front,
            "\\maketitle",
            "\\imprintkey",
            "\\fillerslot{front}",
            "\\tableofcontents",
            main,
            chapters(lengths),
            end,
            "\\end{document}",
        ]
    )


@pytest.fixture
def make_latex_book(book_folder: BookFolder) -> Callable[..., BookFolder]:
    """Make a small LaTeX book with a catalogue; keywords as for `latex_source`, and `settings`."""

    def make(engine: str = "pdflatex", settings: str = "", **source: Any) -> BookFolder:
        book_folder.write("book.tex", latex_source(**source))
        book_folder.write(
            "book.yaml",
            f"title: A Small Book\nsource: book.tex\nengine: {engine}\n"
            + (settings or "binding: {gathering: 16}\n")
            + "imprint: {year: 2026, key: {scheme: ascending, years: 5, printer: QX}}\n",
        )
        book_folder.write("fillers/bio.tex", "\\chapter*{About the Author}\nBorn by the river.\n")
        book_folder.write("fillers/tables.tex", f"\\chapter*{{Tables}}\n{SENTENCE * 60}\n")
        book_folder.write(
            "fillers.yaml",
            """fillers:
  - {id: praise, page: notes, place: front, pages: 2, priority: 7}
  - {id: lead, page: marked-blank, pages: 1, priority: 8}
  - {id: bio, source: fillers/bio.tex, priority: 1, starts: recto}
  - {id: tables, source: fillers/tables.tex, priority: 2}
  - {id: notes, page: notes, lines: dotted, pages: 1..8, priority: 5}
  - {id: empty, page: marked-blank, pages: 1..4, priority: 9}
""",
        )
        return book_folder

    return make


FRONT = """::: {.imprint-page}
Published by nobody.

::: {.imprint-key}
:::
:::

# Preface {.unnumbered}

Why this book was written.

::: {.filler-slot place=front}
:::
"""
MARKDOWN_FILLERS = """fillers:
  - {id: praise, page: notes, place: front, pages: 2, priority: 7}
  - {id: lead, page: marked-blank, pages: 1, priority: 8}
  - {id: bio, source: fillers/bio.md, priority: 1, starts: recto}
  - {id: tables, source: fillers/tables.md, priority: 2}
  - {id: notes, page: notes, lines: dotted, pages: 1..8, priority: 5}
  - {id: empty, page: marked-blank, pages: 1..4, priority: 9}
"""


def paragraph(number: int) -> str:
    """Three sentences that no other paragraph has, so that no two pages begin alike."""
    who = ("ferryman", "baker", "postmistress", "harbour master", "schoolmaster", "vet", "widow")
    when = ("at six", "before noon", "after the bell", "with the tide", "late", "in the rain")
    what = ("a crate of lemons", "two letters", "the bread", "nothing at all", "a lame dog")
    said = ("said so twice", "kept quiet", "counted the oars", "looked at the far bank", "laughed")
    words = [column[number // step % len(column)] for step, column in
             ((1, who), (2, when), (3, what), (5, said), (7, who))]  # fmt: skip
    return (
        f"The {words[0]} came over {words[1]} and brought {words[2]}. On the landing the "
        f"{words[4]} {words[3]}, as one does when the river is high and there is nobody to ask. "
        f"Nobody in the village could say {words[1]} who had been on the ferry but the {words[0]}."
    )


@pytest.fixture
def make_markdown_book(book_folder: BookFolder) -> Callable[..., BookFolder]:
    """Make a small Markdown book with a catalogue: front matter, then chapters of such lengths."""

    def make(
        engine: str = "typst",
        settings: str = "binding: {gathering: 16}\n",
        lengths: tuple[int, ...] = (30, 8, 1, 40),
        front: str = FRONT,
    ) -> BookFolder:
        book_folder.write("front.md", front)
        for number, length in enumerate(lengths, 1):
            text = "\n\n".join(paragraph(number * 100 + i) for i in range(length))
            book_folder.write(f"chapters/{number}.md", f"# Crossing {number}\n\n{text}\n")
        book_folder.write(
            "book.yaml",
            "title: A Small Book\nauthor: N. N.\nsource: [front.md, chapters/*.md]\n"
            f"engine: {engine}\ntrim: 129 x 198 mm\n{settings}"
            "imprint: {year: 2026, key: {scheme: ascending, years: 5, printer: QX}}\n",
        )
        book_folder.write("fillers/bio.md", "# About the Author\n\nBorn by the river.\n")
        book_folder.write("fillers/tables.md", f"# Tables\n\n{SENTENCE * 60}\n")
        book_folder.write("fillers.yaml", MARKDOWN_FILLERS)
        return book_folder

    return make


def packaged_pandoc() -> Path:
    """The pandoc that comes with the Python package."""
    package = importlib.util.find_spec("pypandoc")
    assert package and package.submodule_search_locations, "install the extra 'embedded'"
    return Path(package.submodule_search_locations[0]) / "files" / "pandoc"


def both_pandocs() -> dict[str, str]:
    """The pandoc of the system and the packaged one, by name."""
    system = shutil.which("pandoc")
    assert system, "install pandoc (Debian: apt-get install pandoc)"
    return {"system": system, "packaged": str(packaged_pandoc())}


def path_with(folder: Path, **programs: str | Path) -> str:
    """A PATH whose first folder has these programs under these names."""
    folder.mkdir(exist_ok=True)
    for name, program in programs.items():
        (folder / name).symlink_to(program)
    return f"{folder}{os.pathsep}{os.environ['PATH']}"


@pytest.fixture
def programs(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """An environment whose PATH has `fitter` and this Python with its programs."""
    folder = tmp_path_factory.mktemp("programs")
    command = folder / "fitter"
    command.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m fitter "$@"\n')
    command.chmod(0o755)
    path = os.pathsep.join([str(folder), str(Path(sys.executable).parent), os.environ["PATH"]])
    return {**os.environ, "PATH": path, "PYTHONPATH": str(ROOT)}


@pytest.fixture
def run(programs: dict[str, str]) -> Callable[..., str]:
    """Run a shell script in a folder with the command on the PATH; what it said."""

    def shell(script: str, folder: Path, **environment: str) -> str:
        done = subprocess.run(
            ["sh", "-e", "-c", script],
            cwd=folder,
            env={**programs, **environment},
            capture_output=True,
            text=True,
            timeout=300,
            check=False,
        )
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout + done.stderr

    return shell
