"""What is put off is done once, while a program runs."""

from __future__ import annotations

import sys
from pathlib import Path

from fitter.engines.run import run
from fitter.meanwhile import put_off, use_the_wait


def test_it_is_done_once() -> None:
    done: list[int] = []
    put_off(lambda: done.append(1))
    assert done == []
    use_the_wait()
    use_the_wait()
    assert done == [1]


def test_it_is_done_while_a_program_runs(tmp_path: Path) -> None:
    put_off((tmp_path / "done").touch)
    waits = "import os, time\nwhile not os.path.exists('done'): time.sleep(0.01)"
    finished = run([sys.executable, "-c", waits], tmp_path, {}, time_limit=30)
    assert finished.status == 0, "the program ends only when the work has been done"
