"""A publisher's list: JSON lines as they come, stopped and taken up again."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.conftest import ROOT, BookFolder
from tests.drawn import drawn, furnished, nothing, text

PDFS = 24


@pytest.fixture
def backlist(book_folder: BookFolder) -> BookFolder:
    """PDFs in folders, one with a blank in the middle and one that is none."""
    pages = [furnished(n, text) for n in range(1, 9)]
    for number in range(PDFS):
        path = book_folder.folder / f"list/{number % 4}/b{number}.pdf"
        path.parent.mkdir(parents=True, exist_ok=True)
        drawn(path, *(pages if number else [*pages[:3], nothing, *pages[4:]]))
    book_folder.write("list/0/broken.pdf", "no PDF")
    return book_folder


def lines(report: Path) -> list[dict[str, object]]:
    return [json.loads(line) for line in report.read_text("utf-8").splitlines()]


def test_one_line_a_book(backlist: BookFolder) -> None:
    ran = backlist.fitter("check", "--format", "jsonl", "list")
    assert ran.status == 2
    told = [json.loads(line) for line in ran.out.splitlines()]
    assert len(told) == PDFS + 1
    assert sorted(str(line["book"]) for line in told if not line["passed"]) == [
        "list/0/b0.pdf",
        "list/0/broken.pdf",
    ]


def test_what_stands_in_the_report_is_not_judged_again(backlist: BookFolder) -> None:
    report = backlist.folder / "report.jsonl"
    assert backlist.fitter("check", "--resume", report, "list").status == 2
    before = report.read_bytes()
    again = backlist.fitter("check", "--resume", report, "list")
    assert again.status == 2
    assert f"{PDFS + 1} of {PDFS + 1} are judged already" in again.err
    assert report.read_bytes() == before
    os.utime(backlist.folder / "list/1/b1.pdf")
    backlist.fitter("check", "--resume", report, "list")
    assert [line["book"] for line in lines(report)[PDFS + 1 :]] == ["list/1/b1.pdf"]


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("fillers.yaml", "fillers:\n  - {id: notes, page: notes, pages: 1..20}\n"),
        ("printings.yaml", "printings:\n  - {printing: 1, year: 2026}\n"),
        ("fillers/bio.tex", "Another life."),
    ],
)
def test_a_book_whose_files_changed_is_judged_again(
    make_latex_book: Callable[..., BookFolder], file: str, text: str
) -> None:
    book = make_latex_book()
    assert book.fitter("build").status == 0
    report = book.folder / "report.jsonl"
    assert book.fitter("check", "--resume", report).status == 0
    assert "1 of 1 are judged already" in book.fitter("check", "--resume", report).err
    book.write(file, text)
    assert "judged already" not in book.fitter("check", "--resume", report).err
    assert len(lines(report)) == 2


def test_a_stopped_run_is_taken_up_again(backlist: BookFolder) -> None:
    report = backlist.folder / "report.jsonl"
    process = subprocess.Popen(
        [sys.executable, "-m", "fitter", "check", "-q", "--resume", "report.jsonl", "list"],
        cwd=backlist.folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stderr=subprocess.DEVNULL,
    )
    while not report.exists() or report.read_bytes().count(b"\n") < 3:
        time.sleep(0.01)
    process.send_signal(signal.SIGKILL)
    process.wait()
    with report.open("a") as file:
        file.write('{"book": "list/half')
    backlist.fitter("check", "--resume", report, "list")
    assert len(lines(report)) == PDFS + 1
    assert len({line["book"] for line in lines(report)}) == PDFS + 1


@pytest.mark.parametrize("text", ["my notes", "1\n", "[]\n", '{"a": 1}\n'])
def test_another_file_is_left_alone(backlist: BookFolder, text: str) -> None:
    backlist.write("notes.txt", text)
    ran = backlist.fitter("check", "--resume", "notes.txt", "list")
    assert ran.status == 2
    assert "no report of JSON lines" in ran.err
    assert (backlist.folder / "notes.txt").read_text() == text


def test_another_gathering_is_another_verdict(backlist: BookFolder) -> None:
    backlist.fitter("check", "--resume", "report.jsonl", "list/1")
    again = backlist.fitter("check", "--resume", "report.jsonl", "--gathering", "16", "list/1")
    assert again.status == 1
    assert "judged already" not in again.err


def test_a_second_run_on_one_report_waits_and_says_so(backlist: BookFolder) -> None:
    command = [sys.executable, "-m", "fitter", "check", "--resume", "report.jsonl", "list"]
    runs = [
        subprocess.Popen(
            command,
            cwd=backlist.folder,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stderr=subprocess.PIPE,
            text=True,
        )
        for _ in range(2)
    ]
    said = "".join(run.communicate()[1] for run in runs)
    assert "another run of fitter is at work in" in said
    assert f"{PDFS + 1} of {PDFS + 1} are judged already" in said
    assert len(lines(backlist.folder / "report.jsonl")) == PDFS + 1
