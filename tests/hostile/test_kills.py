"""A share of the ended runs: author's files untouched, generated files whole, next run the same."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.hostile.kills import (
    COMMANDS,
    ENVIRONMENT,
    Start,
    amiss,
    author_files,
    ended_at_operation,
    killed_at_random,
    start,
)

MOMENTS = {"build": 12, "fit": 14, "printing add": 14, "tighten": 5}
# One file operation in so many; kills.py ends at each.
EVERY = {"build": 4, "fit": 2, "printing add": 2, "tighten": 12}


@pytest.fixture(scope="module", params=list(COMMANDS))
def started(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Start:
    """The book before each command that writes."""
    return start(request.param, tmp_path_factory.mktemp("start"))


def test_killed_at_random_moments(started: Start, tmp_path: Path) -> None:
    folder = tmp_path / "run"
    seeds = range(MOMENTS[started.command])
    assert [fault for seed in seeds for fault in killed_at_random(started, folder, seed)] == []


def test_killed_at_file_operations(started: Start, tmp_path: Path) -> None:
    folder = tmp_path / "run"
    steps = range(1, started.operations + 1, EVERY[started.command])
    assert started.operations > 4
    assert [fault for step in steps for fault in ended_at_operation(started, folder, step)] == []


def test_a_disk_without_space_is_told(started: Start, tmp_path: Path) -> None:
    folder = tmp_path / "run"
    steps = range(2, started.operations + 1, 2 * EVERY[started.command])
    found = [ended_at_operation(started, folder, step, "ENOSPC") for step in steps]
    assert [fault for faults in found for fault in faults] == []


def test_a_program_that_cannot_be_started_is_no_fault_of_the_setting_tried(
    tmp_path: Path,
) -> None:
    """Among these operations of a trial the engine is started, on a disk without space."""
    trying = start("tighten", tmp_path / "start")
    steps = range(3, 10)
    found = [ended_at_operation(trying, tmp_path / "run", step, "ENOSPC") for step in steps]
    assert [fault for faults in found for fault in faults] == []


def without_rights(*arguments: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Run a command that must heed the rights of files, also where the tests run as root."""
    heeding = ["setpriv", "--bounding-set=-dac_override,-dac_read_search"]
    command = [sys.executable, "-m", "fitter", *arguments]
    return subprocess.run(
        [*heeding, *command] if os.geteuid() == 0 else command,
        cwd=folder,
        env=ENVIRONMENT,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize("closed", [".", "build"])
def test_a_folder_that_cannot_be_written_is_told(
    started: Start, tmp_path: Path, closed: str
) -> None:
    folder = tmp_path / "run"
    subprocess.run(["cp", "-r", started.folder, folder], check=True)
    (folder / "build").mkdir(exist_ok=True)
    for below in [folder / closed, *(folder / closed).glob("book-tex")]:
        below.chmod(0o555)
    ended = without_rights(*COMMANDS[started.command], folder=folder)
    for below in [folder / closed, *(folder / closed).glob("book-tex")]:
        below.chmod(0o755)
    assert "Traceback" not in ended.stderr
    if ended.returncode == 0:  # nothing had to be written there
        assert closed == "build"
        assert started.command != "build"
    else:
        assert ended.returncode in (2, 3)
        assert "ermission denied" in ended.stderr or "can't write" in ended.stderr
        assert author_files(folder) == started.before
    assert list(amiss(started, folder)) == []


def test_a_file_that_may_not_grow_is_told(started: Start, tmp_path: Path) -> None:
    """Source: setrlimit(2): a write beyond RLIMIT_FSIZE fails with EFBIG."""
    folder = tmp_path / "run"
    subprocess.run(["cp", "-r", started.folder, folder], check=True)
    command = [sys.executable, "-m", "fitter", *COMMANDS[started.command]]
    ended = subprocess.run(
        ["prlimit", "--fsize=200", *command],
        cwd=folder,
        env={**ENVIRONMENT, "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode in (2, 3), ended.stderr
    assert "Traceback" not in ended.stderr
    assert author_files(folder) == started.before
    assert list(amiss(started, folder)) == []
