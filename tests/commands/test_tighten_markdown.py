"""`fitter tighten` on Markdown books, through real TeX and through Typst."""

from __future__ import annotations

import hashlib
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fitter.book.loader import load_book
from fitter.engines.engine import engine_of
from fitter.steps.trials import Wish, bench
from fitter.trade.tighten.text import Chapter
from tests.conftest import BookFolder, packaged_pandoc, paragraph, path_with
from tests.engines.test_own_build import DEFAULTS

MakeBook = Callable[..., BookFolder]
ENGINES = ("typst", "pdflatex", "lualatex", "xelatex")
TWO = ("typst", "pdflatex")
HEADER = r"""---
title: A Small Book
header-includes:
- |
  ```{=latex}
  \linespread{\bookset[1]{leading}}
  ```
- |
  ```{=typst}
  #let lead = bookset("leading", default: 1) * 13pt - 10pt
  #set par(leading: lead, spacing: lead)
  ```
---

"""
SETTINGS = """binding: {gathering: 4}
settings:
  leading: {values: [1.0, 0.95, 0.9], default: 1.0, dislike: 2}
  nowhere: {values: [0, 1], dislike: 5}
"""
SHORT_LINES = [f"Line {number} of the list." for number in range(60)]


def chapter(number: int, paragraphs: int, lines: int) -> str:
    """Paragraphs that can be cut, then paragraphs of one line each."""
    long = [paragraph(number * 100 + i) for i in range(paragraphs)]
    return "\n\n".join([f"# Crossing {number}", *long, *SHORT_LINES[:lines]]) + "\n"


def counted(make: MakeBook, engine: str) -> BookFolder:
    """Three chapters; the second ends with lines that can be taken out one by one."""
    folder = make(engine, lengths=(5, 1, 3))
    return folder.write("chapters/2.md", chapter(2, 5, 42))


def beginnings(pdf: Path) -> dict[int, int]:
    """The page on which each numbered chapter begins, as poppler reads the PDF."""
    told = subprocess.run(["pdftotext", pdf, "-"], capture_output=True, check=True, text=True)
    opening = re.compile(r"\s*(?:Chapter )?(\d)\s+Crossing \1\s")
    openings = [opening.match(page) for page in told.stdout.split("\f")]
    return {int(found[1]): page for page, found in enumerate(openings, 1) if found}


def digests(folder: BookFolder) -> dict[str, str]:
    """The author's files as they are now."""
    files = sorted([*folder.folder.rglob("*.md"), *folder.folder.glob("*.yaml")])
    return {str(file): hashlib.sha256(file.read_bytes()).hexdigest() for file in files}


def tightened(folder: BookFolder, *options: str, status: int = 0) -> tuple[Any, str]:
    ran = folder.fitter("tighten", "--format", "json", *options)
    assert ran.status == status, ran.err
    return ran.report, ran.err


@pytest.mark.parametrize("engine", ENGINES)
def test_a_chapter_is_over_by_as_many_lines_as_it_says(
    make_markdown_book: MakeBook, engine: str
) -> None:
    folder = counted(make_markdown_book, engine)
    report, _ = tightened(folder)
    over = {each["title"]: each for each in report["chapters"]}
    second = over["Crossing 2"]
    assert (second["file"], second["line"]) == ("chapters/2.md", 1)
    assert second["proved"]
    assert second["lines_over"] == second["lines_on_last_page"] > 1
    before = second["last_page"] - second["first_page"] + 2  # and the blank verso behind it
    assert pages_of_second(folder, second["lines_over"] - 1) == before
    assert pages_of_second(folder, second["lines_over"]) == before - second["wins"]


def pages_of_second(folder: BookFolder, fewer: int) -> int:
    """The pages of the second chapter and behind it, so many of its lines taken out."""
    built = folder.write("chapters/2.md", chapter(2, 5, 42 - fewer)).fitter("build")
    assert built.status == 0, built.err
    begins = beginnings(folder.folder / "build/book.pdf")
    return begins[3] - begins[2]


@pytest.mark.parametrize("engine", ENGINES)
def test_short_last_lines_lead_to_the_markdown(make_markdown_book: MakeBook, engine: str) -> None:
    folder = make_markdown_book(engine)
    report, _ = tightened(folder, "--quick")
    assert report["short_last_lines"]
    for each in report["short_last_lines"]:
        line = (folder.folder / each["file"]).read_text().splitlines()[each["line"] - 1]
        assert line.endswith(each["ending"].split()[-1])
        assert each["fill"] < 0.2 and each["lines"] > 1


@pytest.mark.parametrize("engine", TWO)
def test_settings_are_tried_applied_and_taken_back(
    make_markdown_book: MakeBook, engine: str
) -> None:
    folder = make_markdown_book(engine, SETTINGS, lengths=(28, 22), front=HEADER)
    before = digests(folder)
    report, said = tightened(folder, "--try", "--apply")
    told = said.index("'nowhere' changes nothing")
    assert "bookset" in said[told:].splitlines()[0]
    best = report["settings"]["winners"][0]
    assert all(set(each["values"]) == {"leading"} for each in report["settings"]["winners"])
    assert report["settings"]["unused"] == ["nowhere"]
    built = folder.fitter("build", "--format", "json").report
    assert built["plan"]["text_pages"] == best["text_pages"] < report["text_pages"]
    assert built["plan"]["extent"] <= report["aim"] < report["extent"]
    assert digests(folder) == before
    assert folder.fitter("tighten", "--take-back").status == 0
    built = folder.fitter("build", "--format", "json").report
    assert built["plan"]["text_pages"] == report["text_pages"]


@pytest.mark.parametrize("engine", TWO)
def test_an_edit_list_counts_characters_in_the_markdown(
    make_markdown_book: MakeBook, engine: str
) -> None:
    folder = make_markdown_book(engine, lengths=(9, 5))
    said = [f"{paragraph(i)} \"It isn't so -- not yet,\" he said, 'or never'.\n" for i in range(5)]
    folder.write("chapters/2 überfahrt.md", "\n".join(["# Crossing 2\n", *said]))
    (folder.folder / "chapters/2.md").unlink()
    before = digests(folder)
    report, _ = tightened(folder, "--chapter", "Crossing 2")
    edits = report["edits"]
    assert len(edits["edits"]) == 5
    assert {each["file"] for each in edits["edits"]} == {"chapters/2 überfahrt.md"}
    assert [each["holds"] for each in edits["checked"]] == [True, True]
    assert {"cut", "add"} <= {key for each in edits["checked"] for key in each}
    assert digests(folder) == before


def test_typst_says_that_it_sets_no_paragraph_shorter(make_markdown_book: MakeBook) -> None:
    ran = make_markdown_book(lengths=(3,)).fitter("tighten", "--apply")
    assert ran.status == 2
    assert re.search(r"through LaTeX only\. Give 'settings' in book\.yaml", ran.err)


@pytest.mark.parametrize("engine", TWO)
def test_every_fault_is_seen_where_it_is(make_markdown_book: MakeBook, engine: str) -> None:
    folder = counted(make_markdown_book, engine)
    folder.write("chapters/1.md", chapter(1, 9, 14) + "\n" + "It was so long ago that he " * 2)
    report, _ = tightened(folder, "--quick", "--last-page", "40")
    kinds = {each["kind"] for each in report["faults"]}
    assert "short last page" in kinds
    for each in report["faults"]:
        assert each["file"].endswith(".md") and each["line"] > 0


def squeezable(folder: BookFolder, lines: int) -> BookFolder:
    """A book of single leaves, thirteen pages of text, whose first chapter ends with such lines."""
    pairs = [(paragraph(100 + i), paragraph(200 + i)) for i in range(24)]
    long = [" ".join(pair[: 1 + i % 2]) for i, pair in enumerate(pairs)]
    return folder.write(
        "chapters/1.md", "\n\n".join(["# Crossing 1", *long, *SHORT_LINES[:lines]]) + "\n"
    )


def test_through_latex_paragraphs_are_set_a_line_shorter(make_markdown_book: MakeBook) -> None:
    front = "---\nclassoption: [openany, oneside]\n---\n\n# Preface {.unnumbered}\n\nWhy.\n"
    folder = make_markdown_book(
        "pdflatex", "binding: {style: cut-sheet}\nrules: {key-missing: off}\n",
        lengths=(1, 12), front=front,
    )  # fmt: skip
    (folder.folder / "fillers.yaml").unlink()
    first = {each.title: each for each in tightened_text(squeezable(folder, 0))}["Crossing 1"]
    squeezable(folder, first.full - first.lines + 1)
    before = digests(folder)
    report, _ = tightened(folder, "--apply")
    assert digests(folder) == before
    chosen = report["paragraphs"]["chosen"]
    assert [each["file"] for each in chosen] == ["chapters/1.md"]
    inserts = (folder.folder / "book-inserts.tex").read_text()
    assert inserts.count("\\fitterShorter{build/book.tex}") == len(chosen)
    for _ in range(2):
        built = folder.fitter("build", "--format", "json")
        assert built.status == 0, built.err + built.out
        assert built.report["plan"]["text_pages"] == report["text_pages"] - 1
        shutil.rmtree(folder.folder / "build")  # the choice outlives what is built
    number = chosen[0]["line"] - 1
    text = (folder.folder / "chapters/1.md").read_text().splitlines()
    text[number] = "Well. " + text[number]
    folder.write("chapters/1.md", "\n".join(text) + "\n")
    assert (
        "a paragraph of the book that was tightened reads otherwise" in folder.fitter("build").err
    )


def tightened_text(folder: BookFolder) -> tuple[Chapter, ...]:
    """The chapters of a draft as the tool reads them."""
    book = load_book(folder.folder)
    engine = engine_of(book)
    with bench(book, engine, lambda text: None, 1) as drafts:
        return drafts.first(Wish()).text.chapters


def test_a_typst_book_of_ones_own_build(make_markdown_book: MakeBook, tmp_path: Path) -> None:
    script = (
        "mkdir -p build && pandoc front.md chapters/*.md --standalone --output=build/book.typ "
        '--lua-filter="$FITTER_FILTER" --variable margin.x=20mm && '
        f"{sys.executable} -c 'import typst; "
        'typst.compile("build/book.typ", output="build/book.pdf", root=".")\''
    )
    folder = make_markdown_book(settings="binding: {gathering: 16}\nbuild: [sh, own.sh]\n")
    folder.write("own.sh", script)
    yaml = (folder.folder / "book.yaml").read_text().replace("trim: 129 x 198 mm\n", "")
    folder.write("book.yaml", yaml)
    path = path_with(tmp_path / "bin", pandoc=packaged_pandoc())
    ran = folder.fitter("tighten", "--format", "json", PATH=path)
    assert ran.status == 0, ran.err
    proved = [each["title"] for each in ran.report["chapters"] if each["proved"]]
    assert {"Crossing 1", "Crossing 4"} <= set(proved)


def test_where_pandoc_hides_what_tex_tells_it_is_said(make_markdown_book: MakeBook) -> None:
    folder = make_markdown_book(
        "pdflatex", "binding: {gathering: 16}\nbuild: [pandoc, -d, own.yaml]\n"
    )
    folder.write("own.yaml", DEFAULTS.replace("ENGINE", "pdflatex")).write("build/keep", "")
    ran = folder.fitter("tighten")
    assert ran.status == 2
    assert "book.log: the draft left no such file beside the PDF" in ran.err
