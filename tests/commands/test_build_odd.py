"""Books as authors write them: parts, columns, slots in the middle, code at the end."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pymupdf
import pytest

from tests.conftest import SENTENCE, BookFolder, path_with

NOTES = "fillers:\n  - {id: notes, page: notes, pages: 1..20}\n"
PROSE = SENTENCE * 30


def book_of(book: BookFolder, source: str, gathering: int, fillers: str = NOTES) -> BookFolder:
    """A book of one file."""
    book.write("book.tex", source)
    book.write(
        "book.yaml",
        f"source: book.tex\nengine: pdflatex\nbinding: {{gathering: {gathering}}}\n",
    )
    return book.write("fillers.yaml", fillers)


@pytest.mark.parametrize("gathering", [8, 16])
def test_a_back_slot_before_matter_that_opens_recto_takes_whole_leaves(
    book_folder: BookFolder, gathering: int
) -> None:
    source = rf"""\documentclass{{book}}\usepackage{{fitter}}\begin{{document}}
\chapter{{A}}{PROSE * 2}
\chapter{{B}}{PROSE * 5}
\fillerslot{{back}}
\chapter*{{Sources}}{PROSE}
\end{{document}}"""
    built = book_of(book_folder, source, gathering).fitter("build", "--format", "json")
    assert built.status == 0, built.err
    plan = built.report["plan"]
    assert sum(filler["pages"] for filler in plan["fillers"]) % 2 == 0
    assert plan["extent"] % gathering == 0


@pytest.mark.parametrize("cls", ["book", "report", "memoir", "scrbook"])
def test_the_empty_verso_of_a_part_is_marked(book_folder: BookFolder, cls: str) -> None:
    source = rf"""\documentclass[a5paper,twoside,openright]{{{cls}}}\usepackage{{fitter}}
\title{{T}}\author{{A}}\begin{{document}}\maketitle
\part{{One}}\chapter{{A}}{PROSE}\chapter{{B}}{PROSE}
\part{{Two}}\chapter{{C}}{PROSE}
\end{{document}}"""
    built = book_of(book_folder, source, 4).fitter("build", "--format", "json")
    assert built.status == 0, built.out
    book_folder.write(
        "book.yaml",
        "source: book.tex\nengine: pdflatex\nbinding: {gathering: 4}\nblanks: {openers: allow}\n",
    )
    allowed = book_folder.fitter("build", "--format", "json")
    assert allowed.status == 0, allowed.out
    assert "marked" not in {p["verdict"] for p in allowed.report["check"]["pages"][:8]}


@pytest.mark.parametrize("filler", ["page: notes, pages: 1..9", "page: marked-blank, pages: 1..9"])
def test_two_columns_make_whole_pages(book_folder: BookFolder, filler: str) -> None:
    source = rf"""\documentclass[twocolumn,a5paper]{{book}}\usepackage{{fitter}}
\begin{{document}}\chapter{{A}}{PROSE}\end{{document}}"""
    fillers = f"fillers:\n  - {{id: x, {filler}}}\n"
    built = book_of(book_folder, source, 8, fillers).fitter("build", "--format", "json")
    assert built.status == 0, built.out + built.err
    assert built.report["plan"]["extent"] == 8


def test_what_is_set_at_the_end_of_the_document_stands_before_the_fillers(
    book_folder: BookFolder,
) -> None:
    source = rf"""\documentclass{{book}}\usepackage{{fitter}}
\AtEndDocument{{\clearpage\chapter*{{Endnotes}} The last words.}}
\begin{{document}}\chapter{{A}}{PROSE}\end{{document}}"""
    built = book_of(book_folder, source, 4).fitter("build", "--format", "json")
    assert built.status == 0, built.out + built.err
    plan = built.report["plan"]
    with pymupdf.open(book_folder.folder / "build/book.pdf") as pdf:
        assert "The last words." in pdf[plan["text_pages"] - 1].get_text()


def test_a_filler_that_changes_the_columns_changes_no_other(book_folder: BookFolder) -> None:
    book_folder.write("wide.tex", rf"\onecolumn\chapter{{Wide}}{PROSE}\twocolumn {PROSE}")
    lines = "\n".join(f"line {number}" for number in range(60))
    book_folder.write("verse.tex", rf"\chapter{{Verse}}\obeylines {lines}")
    fillers = (
        "fillers:\n  - {id: wide, source: wide.tex, priority: 9, excludes: [verse]}\n"
        "  - {id: verse, source: verse.tex, priority: 1}\n"
        "  - {id: notes, page: notes, pages: 1..20}\n"
    )
    source = rf"""\documentclass[a5paper]{{book}}\usepackage{{fitter}}
\begin{{document}}\chapter{{A}}{PROSE}\end{{document}}"""
    built = book_of(book_folder, source, 8, fillers).fitter("build", "--format", "json")
    assert built.status == 0, built.out + built.err
    assert built.report["plan"]["fillers"][0]["id"] == "verse"


def test_a_filler_with_a_page_of_its_own_size_changes_no_other(book_folder: BookFolder) -> None:
    book_folder.write("broad.tex", rf"\newgeometry{{margin=5mm}}{PROSE}")
    book_folder.write("bio.tex", "".join(rf"{SENTENCE * 7}\par " for _ in range(12)))
    fillers = (
        "fillers:\n  - {id: broad, source: broad.tex, priority: 1}\n"
        "  - {id: bio, source: bio.tex, priority: 2, needs: [broad]}\n"
        "  - {id: notes, page: notes, pages: 1..20, priority: 9}\n"
    )
    source = rf"""\documentclass{{book}}\usepackage[a5paper,margin=25mm]{{geometry}}
\usepackage{{fitter}}\begin{{document}}\chapter{{A}}{PROSE}\end{{document}}"""
    built = book_of(book_folder, source, 16, fillers).fitter("build", "--format", "json")
    assert built.status == 0, built.out + built.err
    bio = next(each for each in built.report["plan"]["fillers"] if each["id"] == "bio")
    assert bio["pages"] > 2
    with pymupdf.open(book_folder.folder / "build/book.pdf") as pdf:
        pages = [pdf[bio["first_page"] + i].get_text("blocks") for i in (-1, 0)]
    first, second = [max(block[3] for block in page) for page in pages]
    assert first == pytest.approx(second, abs=20), "both pages are full, with a folio below"


@pytest.mark.parametrize("latexmk", [True, False])
def test_the_last_page_is_told_before_the_fillers_and_behind_them(
    book_folder: BookFolder, tmp_path: Path, latexmk: bool
) -> None:
    source = rf"""\documentclass[a5paper]{{book}}\usepackage{{lastpage,fitter}}\begin{{document}}
of \pageref{{LastPage}}, in all \PreviousTotalPages.\newpage {PROSE}\end{{document}}"""
    programs = path_with(tmp_path / "bin", pdflatex=str(shutil.which("pdflatex")))
    path = os.environ["PATH"] if latexmk else programs.partition(os.pathsep)[0]
    built = book_of(book_folder, source, 8).fitter("build", "--format", "json", PATH=path)
    assert built.status == 0, built.out + built.err
    plan = built.report["plan"]
    with pymupdf.open(book_folder.folder / "build/book.pdf") as pdf:
        said = pdf[0].get_text()
    assert f"of {plan['text_pages']}, in all {plan['extent']}." in said


def test_a_filler_with_folios_of_its_own_changes_no_other(book_folder: BookFolder) -> None:
    book_folder.write("maps.tex", rf"\pagenumbering{{Alph}}\setcounter{{page}}{{8}}{PROSE}")
    fillers = (
        "fillers:\n  - {id: maps, source: maps.tex, place: front, required: true}\n"
        "  - {id: notes, page: notes, pages: 1..20, priority: 9}\n"
    )
    source = rf"""\documentclass[a5paper]{{book}}\usepackage{{fitter}}
\begin{{document}}Title\newpage Imprint\fillerslot{{front}}\chapter{{A}}{PROSE}\end{{document}}"""
    built = book_of(book_folder, source, 8, fillers).fitter("build", "--format", "json")
    assert built.status == 0, built.out + built.err
    pages = range(1, built.report["plan"]["extent"] + 1)
    maps = built.report["plan"]["fillers"][0]
    at, behind = maps["first_page"], maps["first_page"] + maps["pages"]
    folios = [page["folio"] for page in built.report["check"]["pages"]]
    assert folios[at - 1] == "H"
    assert folios[behind - 1 :] == [str(page) for page in pages[behind - 1 :]]


def test_after_an_included_file_the_main_file_is_named(book_folder: BookFolder) -> None:
    book_folder.write("parts/one.tex", rf"\chapter{{One}}{PROSE}")
    source = r"""\documentclass{book}\usepackage{fitter}
\begin{document}
\include{parts/one}
\null\thispagestyle{empty}\newpage
\null\thispagestyle{empty}\newpage
Last words.
\end{document}"""
    built = book_of(book_folder, source, 4).fitter("build", "--format", "json")
    found = [f for f in built.report["check"]["findings"] if f["rule"] == "blank-unmarked"]
    assert {(finding["file"], finding["line"]) for finding in found} == {
        ("book.tex", 4),
        ("book.tex", 5),
    }


def test_a_file_of_the_author_s_own_under_that_name_is_left_alone(
    make_latex_book: Callable[..., BookFolder],
) -> None:
    book = make_latex_book()
    book.write("book-inserts.tex", "% my own inserts, a month of work\n")
    built = book.fitter("build")
    assert built.status == 2
    assert "Rename it" in built.err
    kept = (book.folder / "book-inserts.tex").read_text()
    assert kept == "% my own inserts, a month of work\n"


def test_an_editor_s_lock_file_is_no_hindrance(make_latex_book: Callable[..., BookFolder]) -> None:
    book = make_latex_book()
    (book.folder / ".#book.tex").symlink_to("somebody@nowhere.1234")
    (book.folder / "old.tex").mkdir()
    assert book.fitter("build").status == 0


def test_a_long_message_of_tex_comes_whole(make_latex_book: Callable[..., BookFolder]) -> None:
    path = "chapters/the-first-part-of-the-book-about-ropes/drafts-and-corrections/one-hemp"
    book = make_latex_book(end=rf"\input{{{path}}}")
    book.write(f"{path}.tex", "\\nosuch\n")
    assert f"{path}.tex:1: Undefined control sequence." in book.fitter("build").err


def test_a_key_is_not_broken_over_two_lines(book_folder: BookFolder) -> None:
    source = rf"""\documentclass[a5paper]{{book}}\usepackage{{fitter}}\begin{{document}}
All rights reserved. Set in Latin Modern and printed on paper from good woods by the author.
Printing: \imprintkey
\chapter{{A}}{PROSE}\end{{document}}"""
    book = book_of(book_folder, source, 4)
    book.write(
        "book.yaml",
        "source: book.tex\nengine: pdflatex\nbinding: {gathering: 4}\n"
        "imprint: {year: 2026, key: {years: 5, printer: QX}}\n",
    )
    built = book.fitter("build", "--format", "json")
    assert built.status == 0, built.out


def test_a_slot_given_twice_counts_once(book_folder: BookFolder) -> None:
    source = rf"""\documentclass{{book}}\usepackage{{fitter}}\begin{{document}}
Title\newpage\fillerslot{{front}}
Half title\newpage\null\newpage\fillerslot{{front}}
\chapter{{A}}{PROSE}\end{{document}}"""
    fillers = (
        "fillers:\n  - {id: praise, page: notes, pages: 2, place: front, required: true, "
        "starts: verso}\n  - {id: notes, page: notes, pages: 1..9}\n"
    )
    book = book_of(book_folder, source, 4, fillers)
    book.write(
        "book.yaml",
        "source: book.tex\nengine: pdflatex\nbinding: {gathering: 4}\n"
        "rules: {blank-unmarked: warning}\n",
    )
    built = book.fitter("build", "--format", "json")
    assert built.status == 0, built.out + built.err
    assert built.report["plan"]["fillers"][0]["first_page"] == 2
