"""What is put off is done once, while a program runs."""

from __future__ import annotations

import sys
import time
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
    done: list[float] = []
    put_off(lambda: done.append(time.monotonic()))
    finished = run([sys.executable, "-c", "import time; time.sleep(0.5)"], tmp_path, {})
    assert finished.status == 0
    assert len(done) == 1
    assert time.monotonic() - done[0] > 0.2
