"""The whole job, in real TeX."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pymupdf
import pytest

from tests.conftest import ROOT, BookFolder

MakeBook = Callable[..., BookFolder]


def text_of(book: BookFolder) -> str:
    """The PDF's text as poppler reads it."""
    pdf = book.folder / "build/book.pdf"
    return subprocess.run(
        ["pdftotext", "-layout", pdf, "-"], capture_output=True, text=True, check=True
    ).stdout


def author_files(folder: Path) -> dict[str, bytes]:
    """Every file the author wrote, with its bytes."""
    generated = {"book-inserts.tex"}
    return {
        str(file.relative_to(folder)): file.read_bytes()
        for file in sorted(folder.rglob("*"))
        if file.is_file() and "build" not in file.parts and file.name not in generated
    }


def test_one_draft_and_one_final_run_fit_the_book(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    before = author_files(book.folder)
    built = book.fitter("build", "--format", "json")
    assert built.status == 0, built.err
    report = built.report
    plan = report["plan"]
    assert plan["left_over"] == plan["extent"] - plan["text_pages"]
    assert sum(f["pages"] for f in plan["fillers"]) + plan["end_blanks"] == plan["left_over"]
    assert "final: pdflatex, run 1" in built.err
    assert "final: pdflatex, run 2" not in built.err
    assert set(report["seconds"]) == {"draft", "fit", "final", "check"}
    assert author_files(book.folder) == before


def test_the_key_and_the_fillers_stand_in_the_pdf(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    plan = book.fitter("build", "--format", "json").report["plan"]
    with pymupdf.open(book.folder / "build/book.pdf") as pdf:
        bio = next(f for f in plan["fillers"] if f["id"] == "bio")
        assert bio["first_page"] % 2 == 1
        assert "Born by the river." in pdf[bio["first_page"] - 1].get_text()
    assert "1 2 3 4 5 6 7 8 9 10   QX   30 29 28 27 26" in text_of(book)


def test_an_unchanged_book_runs_no_engine_and_stays_the_same(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    first = book.fitter("build", "--format", "json").report
    pdf = (book.folder / "build/book.pdf").read_bytes()
    inserts = (book.folder / "book-inserts.tex").read_bytes()
    second = book.fitter("build", "--format", "json").report
    assert second["engine_runs"] == 0
    assert second["plan"] == first["plan"]
    assert (book.folder / "build/book.pdf").read_bytes() == pdf
    assert (book.folder / "book-inserts.tex").read_bytes() == inserts


def test_a_changed_text_is_fitted_anew(make_latex_book: MakeBook) -> None:
    book = make_latex_book(lengths=(30, 8))
    book.fitter("build")
    source = (book.folder / "book.tex").read_text()
    more = "\\chapter{More}\n" + "And so it went on, over and over again. " * 400
    book.write("book.tex", source.replace("\\end{document}", more + "\\end{document}"))
    report = book.fitter("build", "--format", "json").report
    assert report["check"]["passed"]
    assert report["plan"]["extent"] % 16 == 0


@pytest.mark.parametrize("latexmk", [[], ["latexmk", "perl"]], ids=["own loop", "latexmk"])
def test_references_index_and_bibliography_settle(
    make_latex_book: MakeBook, tmp_path_factory: pytest.TempPathFactory, latexmk: list[str]
) -> None:
    programs = tmp_path_factory.mktemp("programs")
    for name in ("pdflatex", "kpsewhich", "makeindex", "bibtex", "sh", *latexmk):
        (programs / name).symlink_to(shutil.which(name) or "")
    book = make_latex_book(
        packages="\\usepackage{makeidx}\\makeindex\\usepackage{hyperref}",
        end=(
            "See page \\pageref{last}.\\index{ferry}\\cite{ferry}\\label{last}"
            "\\bibliographystyle{plain}\\bibliography{refs}\\printindex"
        ),
    )
    book.write("refs.bib", "@book{ferry, author={A. Uthor}, title={T}, publisher={P}, year=2001}")
    built = book.fitter("build", "--format", "json", PATH=str(programs))
    assert built.status == 0, built.err
    assert built.report["check"]["passed"]
    text = text_of(book)
    assert "??" not in text
    assert "A. Uthor" in text
    assert "ferry," in text
    again = book.fitter("build", "--format", "json", PATH=str(programs)).report
    assert again["engine_runs"] == 0
    assert again["plan"] == built.report["plan"]


def test_the_author_s_own_command_builds_the_book(make_latex_book: MakeBook) -> None:
    book = make_latex_book(settings="build: [make, draft]\nbinding: {gathering: 8}\n")
    book.write("Makefile", "draft:\n\tlatexmk -pdf -outdir=build book.tex\n")
    report = book.fitter("build", "--format", "json").report
    assert report["check"]["passed"]
    assert report["plan"]["extent"] % 8 == 0
    assert report["engine_runs"] >= 2


def test_titles_and_marks_come_out_as_typed(make_latex_book: MakeBook) -> None:
    typed = "100% & $5 #1 {a_b} \\input{/etc/passwd} -- ''"
    book = make_latex_book(packages="\\usepackage[T1]{fontenc}\\usepackage{lmodern}")
    book.write(
        "fillers.yaml",
        f"fillers:\n  - {{id: notes, page: notes, pages: 1..16, title: '{typed}'}}\n".replace(
            "''}", "''''}"
        ),
    )
    built = book.fitter("build")
    assert built.status == 0, built.err
    assert typed.replace("''", "’’") in text_of(book)


def test_an_error_in_the_source_is_told_with_file_and_line(make_latex_book: MakeBook) -> None:
    book = make_latex_book(end="\\nonsense")
    built = book.fitter("build")
    assert built.status == 3
    line = (book.folder / "book.tex").read_text().splitlines().index("\\nonsense") + 1
    assert f"book.tex:{line}: Undefined control sequence." in built.err
    assert "Traceback" not in built.err


def test_a_filler_that_does_not_compile_is_named(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    book.write("fillers/tables.tex", "Fine.\n\\nonsense\n")
    built = book.fitter("build")
    assert built.status == 3
    assert "fillers/tables.tex:2: Undefined control sequence." in built.err
    assert "This is the filler 'tables'." in built.err


def test_a_filler_that_ends_the_document_is_named(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    book.write("fillers/tables.tex", "Fine.\n\\end{document}\n")
    built = book.fitter("build")
    assert built.status == 3
    assert "fillers/tables.tex:2: Package fitter Error: The filler `tables' ends the" in built.err


def test_a_missing_engine_names_what_to_install(make_latex_book: MakeBook) -> None:
    built = make_latex_book("lualatex").fitter("build", PATH="/nonexistent")
    assert built.status == 3
    assert "texlive-luatex" in built.err


def test_a_source_that_does_not_load_the_package_is_told(make_latex_book: MakeBook) -> None:
    book = make_latex_book()
    source = (book.folder / "book.tex").read_text()
    for line in ("\\usepackage{fitter}", "\\imprintkey", "\\fillerslot{front}"):
        source = source.replace(line, "")
    book.write("book.tex", source)
    built = book.fitter("build")
    assert built.status == 2
    assert "\\usepackage{fitter}" in built.err


def test_what_cannot_be_filled_names_the_nearest_change(make_latex_book: MakeBook) -> None:
    book = make_latex_book(lengths=(1,))
    book.write("fillers.yaml", "fillers:\n  - {id: notes, page: notes, pages: 1..2}\n")
    built = book.fitter("build")
    assert built.status == 1
    assert "What would work:" in built.err
    assert "notes 1.." in built.err


def test_a_filler_that_keeps_moving_the_text_ends_after_three_rounds(
    make_latex_book: MakeBook,
) -> None:
    book = make_latex_book(lengths=(1,))
    book.write(
        "book.tex",
        r"""\documentclass{book}
\usepackage{fitter}
\makeatletter
\begin{document}
\ifx\fitter@slot@back\@empty\else One page that only stands there beside a filler.\newpage\fi
Text.
\end{document}
""",
    )
    book.write(
        "book.yaml",
        "source: book.tex\nengine: pdflatex\nbinding: {gathering: 4}\nblanks: {end_at_most: 3}\n",
    )
    book.write("fillers.yaml", "fillers:\n  - {id: notes, page: notes, pages: 3}\n")
    built = book.fitter("build")
    assert built.status == 1
    assert "the text is still moving: it took 1, then 2" in built.err


def test_an_interrupted_build_leaves_the_author_s_files_and_can_be_repeated(
    make_latex_book: MakeBook,
) -> None:
    book = make_latex_book("lualatex", lengths=(60, 60, 60))
    before = author_files(book.folder)
    for wait, told in ((0.1, signal.SIGINT), (0.4, signal.SIGTERM), (0.8, signal.SIGHUP)):
        shutil.rmtree(book.folder / "build", ignore_errors=True)  # a late one leaves nothing to do
        process = subprocess.Popen(
            [sys.executable, "-m", "fitter", "build"],
            cwd=book.folder,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stderr=subprocess.PIPE,
            text=True,
        )
        assert process.stderr
        assert process.stderr.readline()  # the interpreter itself, while it starts, just ends
        time.sleep(wait)
        process.send_signal(told)
        _, err = process.communicate(timeout=60)
        assert process.returncode == 130, err
        assert "interrupted" in err
        assert author_files(book.folder) == before
    assert book.fitter("build").status == 0
    assert author_files(book.folder) == before


@pytest.fixture
def announcement(tmp_path_factory: pytest.TempPathFactory) -> Callable[[float, float, int], Path]:
    """A ready-made PDF of so many pages of a size in mm."""

    def draw(width_mm: float, height_mm: float, pages: int) -> Path:
        path = tmp_path_factory.mktemp("announcement") / "announcement.pdf"
        with pymupdf.open() as pdf:
            for number in range(1, pages + 1):
                page = pdf.new_page(width=width_mm / 25.4 * 72, height=height_mm / 25.4 * 72)
                page.insert_text((20, 20), f"ANNOUNCEMENT {number}")
                page.draw_rect(page.rect, color=(0, 0, 0), width=4)
            pdf.save(path)
        return path

    return draw


def with_announcement(make: MakeBook, pdf: Path, engine: str = "pdflatex") -> BookFolder:
    book = make(engine, packages="\\usepackage[paperwidth=129mm,paperheight=198mm]{geometry}")
    shutil.copy(pdf, book.folder / "fillers/announcement.pdf")
    book.write(
        "fillers.yaml",
        "fillers:\n  - {id: news, source: fillers/announcement.pdf, required: true}\n"
        "  - {id: notes, page: notes, pages: 1..16, priority: 9}\n",
    )
    return book


@pytest.mark.parametrize("engine", ["pdflatex", "lualatex", "xelatex"])
def test_a_ready_pdf_is_placed_whole(
    make_latex_book: MakeBook, announcement: Callable[..., Path], engine: str
) -> None:
    book = with_announcement(make_latex_book, announcement(129, 198, 2), engine)
    report = book.fitter("build", "--format", "json").report
    assert report["check"]["passed"]
    news = report["plan"]["fillers"][0]
    assert (news["id"], news["pages"]) == ("news", 2)
    with pymupdf.open(book.folder / "build/book.pdf") as pdf:
        for number in (1, 2):
            page = pdf[news["first_page"] + number - 2]
            assert f"ANNOUNCEMENT {number}" in page.get_text()
            words = page.search_for("ANNOUNCEMENT")[0]
            assert abs(words.x0 - 20) < 3
            assert abs(words.y1 - 20) < 6


def test_a_ready_pdf_of_another_size_is_refused_with_both_sizes(
    make_latex_book: MakeBook, announcement: Callable[..., Path]
) -> None:
    book = with_announcement(make_latex_book, announcement(148, 210, 1))
    built = book.fitter("build")
    assert built.status == 2
    assert "148" in built.err
    assert "129" in built.err
    assert "fillers.yaml:2" in built.err
