"""Leaving: with the exit status, whenever an interruption comes."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from tests.conftest import ROOT

LOADING = """
import os, signal, sys

class Interrupting:
    def find_spec(self, name, path, target=None):
        if name == {module!r}:
            os.kill(os.getpid(), signal.{told})

sys.meta_path.insert(0, Interrupting())
sys.argv = ["fitter", "--version"]
from fitter.__main__ import main
main()
"""


@pytest.mark.parametrize("told", ["SIGINT", "SIGTERM", "SIGHUP"])
@pytest.mark.parametrize("module", ["fitter.cli", "click", "fitter.reports.voice"])
def test_an_interruption_while_modules_are_loaded(module: str, told: str) -> None:
    left = subprocess.run(
        [sys.executable, "-c", LOADING.format(module=module, told=told)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert left.returncode == 130, left.stderr
    assert left.stderr == "fitter: interrupted. Your files are as they were.\n"
