"""The README's ways to judge a list on several machines, run here with two workers."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import yaml

from tests.conftest import BookFolder
from tests.drawn import drawn, furnished, nothing, text
from tests.recipes import recipe

HEADING = "A publisher's list"
BOOKS = 24
Run = Callable[..., str]


@pytest.fixture
def backlist(book_folder: BookFolder) -> BookFolder:
    """PDFs with a list of them; the first has a blank in the middle."""
    pages = [furnished(n, text) for n in range(1, 9)]
    for number in range(BOOKS):
        path = book_folder.folder / f"{number}, a tale.pdf"
        drawn(path, *(pages if number else [*pages[:3], nothing, *pages[4:]]))
    names = "".join(f"{number}, a tale.pdf\n" for number in range(BOOKS))
    return book_folder.write("list.txt", names)


def verdicts(folder: Path, pattern: str) -> dict[str, bool]:
    """Whether each book of the reports passed."""
    texts = (report.read_text("utf-8") for report in folder.glob(pattern))
    lines = [json.loads(line) for text in texts for line in text.splitlines()]
    assert len({line["book"] for line in lines}) == len(lines)
    return {line["book"]: line["passed"] for line in lines}


def as_by_one(book: BookFolder) -> dict[str, bool]:
    """The verdicts of one machine."""
    ran = book.fitter("check", "--format", "jsonl", ".")
    return {line["book"]: line["passed"] for line in map(json.loads, ran.out.splitlines())}


def test_a_matrix_of_github_judges_every_book_once(backlist: BookFolder, run: Run) -> None:
    job = yaml.safe_load(recipe(HEADING, "yaml", 1))["jobs"]["check"]
    step = next(step["run"] for step in job["steps"] if "list.txt" in step.get("run", ""))
    matrix = job["strategy"]["matrix"]
    for shard in matrix["shard"]:
        script = step.replace("${{ matrix.shard }}", str(shard))
        script = script.replace("${{ matrix.of }}", str(matrix["of"][0]))
        assert "${{" not in script
        run(f"{script.strip()} || test $? = 123", backlist.folder)  # xargs: a command failed
    assert len(list(backlist.folder.glob("report-*.jsonl"))) == len(matrix["shard"])
    assert verdicts(backlist.folder, "report-*.jsonl") == as_by_one(backlist)


def test_parallel_jobs_of_gitlab_judge_every_book_once(backlist: BookFolder, run: Run) -> None:
    job = yaml.safe_load(recipe(HEADING, "yaml", 2))["check"]
    for node in range(1, job["parallel"] + 1):
        variables = {"CI_NODE_TOTAL": str(job["parallel"]), "CI_NODE_INDEX": str(node)}
        run(f"{job['script'][1].strip()} || test $? = 123", backlist.folder, **variables)
    assert verdicts(backlist.folder, "report-*.jsonl") == as_by_one(backlist)


@pytest.fixture
def start(backlist: BookFolder, programs: dict[str, str]) -> Iterator[Callable[[str], int]]:
    """Start a command of the recipe in the folder, in a group of its own; all end with the test."""
    started: list[subprocess.Popen[bytes]] = []

    def begin(command: str) -> subprocess.Popen[bytes]:
        process = subprocess.Popen(
            ["sh", "-c", f"exec {command}"],
            cwd=backlist.folder,
            env={**programs, "DASK_DISTRIBUTED__SCHEDULER__DASHBOARD__ENABLED": "False"},
            stderr=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            start_new_session=True,
        )
        started.append(process)
        return process

    yield begin
    for process in started:
        ended(process)


def ended(process: subprocess.Popen[bytes]) -> None:
    """End it and all that it started, at once."""
    if process.poll() is None:
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()


def test_two_workers_of_dask_stopped_and_taken_up_again(
    backlist: BookFolder, start: Callable[[str], subprocess.Popen[bytes]]
) -> None:
    script = recipe(HEADING, "python").replace("PIECE = 50", "PIECE = 5")
    backlist.write("check_list.py", script)
    lines = recipe(HEADING, "sh").splitlines()
    scheduler, worker, check = (line.split("#")[0].strip(" &") for line in lines[1:])
    all_of_it = (scheduler, worker, worker, check)
    running = [start(command) for command in all_of_it]
    wait_for_lines(backlist.folder / "reports", 3)
    for process in running:
        ended(process)
    judged = {file: file.read_bytes() for file in (backlist.folder / "reports").iterdir()}
    assert not (backlist.folder / "report.jsonl").exists()
    assert [start(command) for command in all_of_it][-1].wait(120) == 1
    for file, before in judged.items():
        assert file.read_bytes().startswith(before[: before.rfind(b"\n") + 1])
    assert verdicts(backlist.folder, "report.jsonl") == as_by_one(backlist)


def wait_for_lines(folder: Path, wanted: int) -> None:
    """Until so many books are judged."""
    end = time.monotonic() + 60
    while sum(file.read_bytes().count(b"\n") for file in folder.glob("*.jsonl")) < wanted:
        assert time.monotonic() < end
        time.sleep(0.01)
