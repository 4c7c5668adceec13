from __future__ import annotations

import os
import subprocess
import sys

import pytest

from fitter.cores import cores


def test_as_many_as_the_system_says() -> None:
    # Source: nproc of GNU coreutils, "the number of processing units available to the process".
    told = subprocess.run(["nproc"], capture_output=True, text=True, check=True)
    assert cores() == int(told.stdout)


def test_a_process_held_to_one_core_has_one() -> None:
    program = "import os; os.sched_setaffinity(0, [min(os.sched_getaffinity(0))])"
    ask = f"{program}\nfrom fitter.cores import cores\nprint(cores())"
    told = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=True)
    assert told.stdout == "1\n"


def test_where_the_system_does_not_tell_all_count(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delattr(os, "sched_getaffinity")
    monkeypatch.setattr(os, "cpu_count", lambda: 3)
    assert cores() == 3
    monkeypatch.setattr(os, "cpu_count", lambda: None)
    assert cores() == 1
