"""Two runs at once on one book: one waits and says so, or refuses with a sentence."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from fitter.engines.run import clean_environment, run
from fitter.errors import BadInput, ProgramFailed
from fitter.lock import held
from tests.conftest import ROOT, BookFolder

HOLDS = (
    "import sys, time; from pathlib import Path; from fitter.lock import held\n"
    "with held(Path(sys.argv[1]), print):\n"
    "    print('in', flush=True)\n"
    "    time.sleep(float(sys.argv[2]))"
)


def another_run(folder: Path, seconds: float) -> subprocess.Popen[str]:
    """A process that holds the book's lock for so long; it has it when this returns."""
    process = subprocess.Popen(
        [sys.executable, "-c", HOLDS, str(folder), str(seconds)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout
    assert process.stdout.readline() == "in\n"
    return process


def test_a_second_run_waits_and_says_so(tmp_path: Path) -> None:
    said: list[str] = []
    other = another_run(tmp_path, 1)
    with held(tmp_path, said.append):
        assert other.wait(10) == 0
    assert len(said) == 1
    assert "another run of fitter is at work" in said[0]
    assert list(tmp_path.iterdir()) == []


def test_waiting_ends(tmp_path: Path) -> None:
    other = another_run(tmp_path, 30)
    with pytest.raises(ProgramFailed, match="try again"), held(tmp_path, print, 0.3):
        pass
    other.kill()
    other.wait()
    with held(tmp_path, print, 5):
        pass


def test_what_a_killed_run_started_still_holds_the_book(tmp_path: Path) -> None:
    script = (
        "import os, signal, subprocess, sys; from pathlib import Path\n"
        "from fitter.lock import handed_on, held\n"
        "with held(Path(sys.argv[1]), print):\n"
        "    subprocess.Popen(['sleep', '1.5'], pass_fds=handed_on())\n"
        "    os.kill(os.getpid(), signal.SIGKILL)\n"
    )
    started = time.monotonic()
    subprocess.run(
        [sys.executable, "-c", script, str(tmp_path)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        check=False,
    )
    with held(tmp_path, print, 30):
        assert time.monotonic() - started > 1.5


def test_programs_hold_the_book_along_with_the_run(tmp_path: Path) -> None:
    look = "import os, sys; os.fstat(int(sys.argv[1])); print('open')"
    with held(tmp_path, print):
        from fitter.lock import handed_on

        finished = run(
            [sys.executable, "-c", look, str(handed_on()[0])], tmp_path, clean_environment()
        )
    assert finished.lines == ("open",)


def test_a_run_inside_a_run_is_refused_at_once(tmp_path: Path) -> None:
    with (
        held(tmp_path, print),
        pytest.raises(BadInput, match="should only typeset"),
        held(tmp_path, print),
    ):
        pass


def test_a_book_that_builds_itself_by_fitter_is_told(
    make_latex_book: Callable[..., BookFolder],
) -> None:
    command = f"[{sys.executable}, -m, fitter, build]"
    book = make_latex_book(settings=f"build: {command}\nbinding: {{gathering: 8}}\n")
    built = book.fitter("build")
    assert built.status == 3
    assert "should only typeset" in built.err


def test_two_builds_at_once_both_come_to_the_same_book(
    make_latex_book: Callable[..., BookFolder],
) -> None:
    book = make_latex_book(lengths=(6, 2))
    runs = [
        subprocess.Popen(
            [sys.executable, "-m", "fitter", "build"],
            cwd=book.folder,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for _ in range(2)
    ]
    ended = [(*process.communicate(timeout=300), process.returncode) for process in runs]
    assert [status for _, _, status in ended] == [0, 0], ended
    assert ended[0][0] == ended[1][0]
    assert sum("another run of fitter is at work" in err for _, err, _ in ended) == 1
