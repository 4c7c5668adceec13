"""`fitter check` on several PDFs, on a folder, and in the formats of CI."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path
from xml.etree import ElementTree as Xml

import pytest

from tests.conftest import Ran, fitter
from tests.drawn import drawn, nothing, text


@pytest.fixture
def backlist(tmp_path: Path) -> Path:
    """A folder with a good PDF, one with an unmarked blank page, and a file that is no PDF."""
    folder = tmp_path / "Rückliste und mehr"
    folder.mkdir()
    drawn(folder / "a good.pdf", text, text)
    drawn(folder / "b blank.pdf", text, nothing, text)
    (folder / "c broken.pdf").write_bytes(b"no PDF at all")
    return folder


def check(folder: Path, *arguments: str) -> Ran:
    return fitter("check", *arguments, cwd=folder)


def test_one_bad_file_does_not_stop_the_rest(backlist: Path) -> None:
    ran = check(backlist, "a good.pdf", "c broken.pdf", "b blank.pdf")
    assert ran.status == 2
    good, finding, blank = ran.out.splitlines()
    assert good.startswith("a good.pdf: 2 pages: 2 printed. The gate passed.")
    assert finding.startswith("error: page 2: the page is blank and carries no mark;")
    assert blank.startswith("b blank.pdf: 3 pages: 2 printed, 1 blank. The gate did not pass.")
    assert ran.err == (
        "fitter: c broken.pdf: this is no PDF, or it is damaged beyond reading. Make it again, or "
        "name another file.\n"
    )


def test_a_folder_stands_for_its_pdfs(backlist: Path) -> None:
    ran = check(backlist, ".", "--format", "json")
    assert ran.status == 2
    assert [(one["pdf"], one["passed"]) for one in ran.report] == [
        ("a good.pdf", True),
        ("b blank.pdf", False),
        ("c broken.pdf", False),
    ]
    assert "damaged beyond reading" in ran.report[2]["unread"][0]


def test_the_faulty_book_is_named_where_there_are_several(backlist: Path) -> None:
    for name in ("d", "e"):
        (backlist / name).mkdir()
        (backlist / name / "book.yaml").write_text("sourse: book.tex\n")
    told = check(backlist, "d", "e").err.splitlines()
    assert [line for line in told if "Did you mean 'source'" in line] == [
        f"fitter: {name}: book.yaml:1: unknown key 'sourse'. Did you mean 'source'?"
        for name in ("d", "e")
    ]
    assert "fitter: book.yaml:1:" in check(backlist, "d").err


def test_one_pdf_gives_one_object(backlist: Path) -> None:
    ran = check(backlist, "a good.pdf", "--format", "json")
    assert ran.status == 0
    assert set(ran.report) == {"pdf", "pages", "findings", "passed"}
    assert ran.report["pages"][0] == {
        "page": 1,
        "folio": None,
        "verdict": "printed",
        "place": "body",
    }


def test_gatherings_of_every_pdf(backlist: Path) -> None:
    ran = check(backlist, "a good.pdf", "b blank.pdf", "--gathering", "16")
    assert ran.out.count("(gathering-not-full)") == 2


def test_a_mistake_in_the_options_is_told_once(backlist: Path) -> None:
    ran = check(backlist, ".", "--gathering", "7")
    assert ran.status == 2
    assert len(ran.err.splitlines()) == 1


def test_github(backlist: Path) -> None:
    ran = check(backlist, "a good.pdf", "b blank.pdf", "--format", "github")
    assert ran.status == 1
    assert ran.out.startswith("::error title=blank-unmarked::b blank.pdf, page 2: ")
    assert len(ran.out.splitlines()) == 1


def test_junit(backlist: Path) -> None:
    ran = check(backlist, "a good.pdf", "b blank.pdf", "--format", "junit")
    suites = Xml.fromstring(ran.out)
    assert [(suite.get("name"), suite.get("failures")) for suite in suites] == [
        ("a good.pdf", "0"),
        ("b blank.pdf", "1"),
    ]


def test_what_cannot_be_read_is_an_error_in_every_format_of_ci(backlist: Path) -> None:
    ran = check(backlist, "a good.pdf", "c broken.pdf", "--format", "junit")
    suites = Xml.fromstring(ran.out)
    assert (ran.status, suites.get("failures"), suites.get("errors")) == (2, "0", "1")
    assert [(suite.get("name"), suite.get("errors")) for suite in suites][1] == (
        "c broken.pdf", "1",
    )  # fmt: skip
    ran = check(backlist, "c broken.pdf", "--format", "github")
    assert ran.out.startswith("::error title=unread::c broken.pdf: ")
    ran = check(backlist, "c broken.pdf", "--format", "sarif")
    (invocation,) = json.loads(ran.out)["runs"][0]["invocations"]
    assert invocation["executionSuccessful"] is False
    (notification,) = invocation["toolExecutionNotifications"]
    assert notification["message"]["text"].startswith("c broken.pdf: ")


def test_a_pdf_with_synctex_points_at_its_source(backlist: Path) -> None:
    folder = backlist / "own"
    folder.mkdir()
    (folder / "own.tex").write_text(
        "\\documentclass{article}\\pagestyle{empty}\\begin{document}Text.\\newpage\n"
        "\\hbox{}\n\\newpage\nMore text.\n\\end{document}\n"
    )
    command = ["pdflatex", "-synctex=1", "-interaction=batchmode", "own.tex"]
    subprocess.run(command, cwd=folder, check=True, stdout=subprocess.DEVNULL)
    ran = check(backlist, "own/own.pdf", "--format", "github")
    assert ran.out.startswith("::error file=own/own.tex,line=3,title=blank-unmarked::own/own.pdf")


def test_sarif(backlist: Path) -> None:
    ran = check(backlist, "a good.pdf", "b blank.pdf", "--format", "sarif")
    (run,) = json.loads(ran.out)["runs"]
    assert [result["ruleId"] for result in run["results"]] == ["blank-unmarked"]
