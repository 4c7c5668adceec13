"""`fitter init` in a folder of Markdown chapters it has never seen."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from fitter.book.found_markdown import find_markdown
from tests.conftest import SENTENCE, BookFolder

BLOCK = "---\ntitle: 'Rivers & Roads'\nauthor: [A. Nemo, {name: B. Nemo}]\nlang: en-GB\n---\n\n"


def chapter(title: str, sentences: int) -> str:
    return f"# {title}\n\n{SENTENCE * sentences}\n"


def make(book: BookFolder) -> BookFolder:
    book.write("title.md", BLOCK).write("README.md", "# How to build\n")
    book.write("part/10.md", chapter("Ten", 50)).write("part/2.md", chapter("Two", 300))
    return book.write("fillers/a.md", "# A\n").write("drafts/old.md", "# Old\n")


def test_files_beside_each_other_come_first_then_the_fullest_folder(
    book_folder: BookFolder,
) -> None:
    found = find_markdown(make(book_folder).folder)
    assert found
    assert found.sources == ("title.md", "part/*.md")
    values = found.values()
    assert yaml.safe_load(values["title"]) == "Rivers & Roads"
    assert yaml.safe_load(values["author"]) == "A. Nemo, B. Nemo"
    assert yaml.safe_load(values["language"]) == "en-GB"


def test_a_file_may_be_named(book_folder: BookFolder) -> None:
    found = find_markdown(make(book_folder).folder / "part/2.md")
    assert found and found.sources == ("2.md",)


@pytest.mark.parametrize("ending", [".markdown", ".MD"])
def test_markdown_has_more_than_one_ending(book_folder: BookFolder, ending: str) -> None:
    book_folder.write(f"title{ending}", BLOCK).write(f"part/1{ending}", chapter("One", 1))
    found = find_markdown(book_folder.folder)
    assert found and found.sources == (f"title{ending}", f"part/*{ending}")
    alone = find_markdown(book_folder.folder / f"title{ending}")
    assert alone and alone.sources == (f"title{ending}",)


def test_a_folder_without_markdown_has_no_markdown_book(tmp_path: Path) -> None:
    assert find_markdown(tmp_path) is None


def test_broken_metadata_is_passed_over(book_folder: BookFolder) -> None:
    book_folder.write("a.md", "---\ntitle: [\n---\n\n# One\n")
    found = find_markdown(book_folder.folder)
    assert found and found.values()["title"] == '""'


def test_init_then_two_lines_then_build(book_folder: BookFolder) -> None:
    begun = make(book_folder).fitter("init")
    assert begun.status == 0, begun.err
    advice = [line for line in begun.err.splitlines() if line.startswith("Add")]
    assert advice == [
        "Add on the imprint page, where the printer's key shall stand, two lines: "
        "'::: {.imprint-key}' and ':::'"
    ]
    book_folder.write("title.md", BLOCK + "::: {.imprint-key}\n:::\n")
    built = book_folder.fitter("build", "--format", "json")
    assert built.status == 0, built.err + built.out
    assert built.report["plan"]["extent"] % 16 == 0
    assert built.report["check"]["passed"]


def test_a_latex_book_in_the_folder_is_the_book(book_folder: BookFolder) -> None:
    make(book_folder).write("b.tex", "\\documentclass{book}\n\\begin{document}x\\end{document}\n")
    assert book_folder.fitter("init").status == 0
    assert yaml.safe_load((book_folder.folder / "book.yaml").read_text())["source"] == "b.tex"


def test_an_empty_folder_is_input_to_mend(book_folder: BookFolder) -> None:
    begun = book_folder.fitter("init")
    assert begun.status == 2
    assert "no LaTeX file here has a \\documentclass, and there is no Markdown" in begun.err
