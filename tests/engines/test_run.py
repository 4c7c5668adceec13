"""Outside programs: clean environment, time limit, sentences for what is missing."""

from __future__ import annotations

import fcntl
import sys
from pathlib import Path

import pytest

from fitter.engines.run import beginning, clean_environment, find_program, run
from fitter.errors import ProgramFailed

PARENT = """
import fcntl, subprocess, sys

with open("held", "w") as held:
    fcntl.flock(held, fcntl.LOCK_EX)
    subprocess.run([sys.executable, "child.py"], pass_fds=[held.fileno()])
"""
CHILD = """
import pathlib, time

pathlib.Path("said").write_text("begun")
time.sleep(60)
pathlib.Path("said").write_text("ended by itself")
"""


def test_a_missing_program_names_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", "")
    with pytest.raises(ProgramFailed, match="apt-get install texlive-luatex"):
        find_program("lualatex")


def test_secrets_stay_out_of_the_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PRESS_TOKEN", "secret")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "0")
    kept = clean_environment({"EXTRA": "1"})
    assert "PRESS_TOKEN" not in kept
    assert kept["SOURCE_DATE_EPOCH"] == "0"
    assert kept["EXTRA"] == "1"


def test_what_is_named_is_kept_too(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("EDITION", "1")
    assert "EDITION" not in clean_environment()
    monkeypatch.setenv("FITTER_KEEP", "EDITION, OTHER")
    assert clean_environment()["EDITION"] == "1"


def test_a_program_that_hangs_is_stopped_with_its_children(tmp_path: Path) -> None:
    (tmp_path / "child.py").write_text(CHILD)
    (tmp_path / "parent.py").write_text(PARENT)
    with pytest.raises(ProgramFailed, match="did not finish"):
        run([sys.executable, "parent.py"], tmp_path, clean_environment(), time_limit=2)
    with (tmp_path / "held").open() as held:
        fcntl.flock(held, fcntl.LOCK_EX)  # free once everybody who has it open is gone
    assert (tmp_path / "said").read_text() == "begun"


def test_what_a_program_leaves_running_is_stopped_when_it_is_done(tmp_path: Path) -> None:
    script = "exec 9>held; flock 9; echo begun; sleep 1000 & exit 4"
    left = run(["sh", "-c", script], tmp_path, clean_environment())
    assert (left.status, left.lines) == (4, ("begun",))
    with (tmp_path / "held").open() as held:
        fcntl.flock(held, fcntl.LOCK_EX)  # free once everybody who has it open is gone


def test_a_program_that_never_stops_talking_is_stopped(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fitter.engines.run.MOST_SAID", 5_000_000)
    with pytest.raises(ProgramFailed, match="went on after 5,000,000 letters and was stopped"):
        run(["yes", "the same again"], tmp_path, clean_environment())


def test_letters_cut_by_a_read_and_ends_of_lines_of_every_kind(tmp_path: Path) -> None:
    script = (
        "import sys; out = sys.stdout.buffer\n"
        "for piece in (b'gr\\xc3', b'\\xbcn\\r', b'\\nred\\rblue\\n', b'\\xff', b'end'):\n"
        "    out.write(piece); out.flush(); __import__('time').sleep(0.05)"
    )
    finished = run([sys.executable, "-c", script], tmp_path, clean_environment())
    assert finished.lines == ("grün", "red", "blue", "\ufffdend")


def test_a_line_without_end_comes_in_pieces(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fitter.engines.run.LONGEST_LINE", 100_000)
    script = "print('x' * 1_000_000, end='')"
    finished = run([sys.executable, "-c", script], tmp_path, clean_environment())
    assert len(finished.lines) > 4
    assert "".join(finished.lines) == "x" * 1_000_000


def test_lines_come_as_they_are_printed(tmp_path: Path) -> None:
    seen: list[str] = []
    script = "print('one'); print('two'); raise SystemExit(3)"
    finished = run([sys.executable, "-c", script], tmp_path, clean_environment(), seen.append)
    assert seen == ["one", "two"] == list(finished.lines)
    assert finished.status == 3


def test_of_many_lines_the_first_are_told_and_how_many_there_were() -> None:
    assert beginning(["one", "two"]) == "one\ntwo"
    told = beginning([f"error {n}" for n in range(1, 301)]).splitlines()
    assert told[0] == "error 1"
    assert told[-1] == "(and 288 lines more)"
    assert len(told) == 13
